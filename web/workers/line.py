"""Who waits for a worker: clients take turns, and each keeps the order he asked in."""

from collections import OrderedDict, deque
from collections.abc import Callable
from typing import Generic, Protocol, TypeVar


class Waiting(Protocol):
    """Something that waits, and for whom."""

    @property
    def client(self) -> str: ...


Job = TypeVar("Job", bound=Waiting)


class Line(Generic[Job]):
    """At most `most` wait. Where it is full, who has most in it gives up his last."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._clients: OrderedDict[str, deque[Job]] = OrderedDict()

    def __len__(self) -> int:
        return sum(map(len, self._clients.values()))

    def add(self, job: Job) -> Job | None:
        """Put one in at the end of his client's own; gives what had to leave for it, at worst itself."""
        self._clients.setdefault(job.client, deque()).append(job)
        if len(self) <= self._most:
            return None
        longest = max(self._clients.values(), key=lambda jobs: (len(jobs), jobs is self._clients[job.client]))
        leaves = longest[-1]
        self.remove(leaves)
        return leaves

    def remove(self, job: Job) -> None:
        """Take one out, wherever it stands."""
        jobs = self._clients[job.client]
        jobs.remove(job)
        if not jobs:
            del self._clients[job.client]

    def next(self, may_go: Callable[[Job], bool]) -> Job | None:
        """The first of the next client that may go; that client comes last after it."""
        for client, jobs in self._clients.items():
            for job in jobs:
                if may_go(job):
                    self.remove(job)
                    if client in self._clients:
                        self._clients.move_to_end(client)
                    return job
        return None
