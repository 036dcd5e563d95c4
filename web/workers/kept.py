"""The last answers, kept as they were sent: a recipe has one answer, whoever asks."""

from collections import OrderedDict

from web.workers.messages import Answered, Asked

ROOM_OF_A_QUESTION = 1024
"""What an answer takes beside its body, bytes."""


class Kept:
    """At most so many bytes of answers; the longest unused falls out first."""

    def __init__(self, most_bytes: int) -> None:
        self._most_bytes, self._bytes = most_bytes, 0
        self._answers: OrderedDict[Asked, Answered] = OrderedDict()

    def look_up(self, asked: Asked) -> Answered | None:
        """The answer to this request, where it is kept."""
        found = self._answers.get(asked)
        if found is not None:
            self._answers.move_to_end(asked)
        return found

    def keep(self, asked: Asked, answer: Answered) -> None:
        """Put an answer in. One of a fault or of being busy is none to keep."""
        if answer.status >= 500 or answer.status == 429 or asked in self._answers:
            return
        self._answers[asked] = answer
        self._bytes += _size(asked, answer)
        while self._bytes > self._most_bytes:
            self._bytes -= _size(*self._answers.popitem(last=False))


def _size(asked: Asked, answer: Answered) -> int:
    return len(asked.body) + len(asked.query) + len(answer.body) + ROOM_OF_A_QUESTION
