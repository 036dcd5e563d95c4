"""Faults, each handed to the one place in the form where it belongs."""

from collections.abc import Callable, Iterable

from billet import Fault


class FaultPlaces:
    """Gives every fault out once: to its field, else to the group around it, else at the top."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self._left = list(faults)

    def at(self, where: str) -> tuple[Fault, ...]:
        """The faults of exactly this place."""
        return self._take(lambda place: place == where)

    def within(self, where: str) -> tuple[Fault, ...]:
        """What is left of this place and of everything inside it."""
        return self._take(lambda place: place == where or place.startswith((where + ".", where + "[")))

    def rest(self) -> tuple[Fault, ...]:
        return self._take(lambda place: True)

    def _take(self, belongs: Callable[[str], bool]) -> tuple[Fault, ...]:
        taken = tuple(fault for fault in self._left if belongs(fault.where))
        self._left = [fault for fault in self._left if not belongs(fault.where)]
        return taken
