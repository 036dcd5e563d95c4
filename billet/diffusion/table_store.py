"""What was tabulated lately, kept for all threads: the least lately used leaves first."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from typing import Generic, TypeVar

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")


class TableStore(Generic[Key, Value]):
    """At most `most` values by key. Several missing ones are made in one go, outside the lock."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = threading.Lock()
        self._kept: OrderedDict[Key, Value] = OrderedDict()

    def __len__(self) -> int:
        with self._lock:
            return len(self._kept)

    def many(self, keys: Sequence[Key], make: Callable[[Sequence[Key]], Sequence[Value]]) -> list[Value]:
        """The value of every key, in order. `make` is asked once for all that are not kept.

        Two threads that miss the same key both make it; either value serves.
        """
        found: dict[Key, Value] = {}
        with self._lock:
            for key in dict.fromkeys(keys):
                if key in self._kept:
                    self._kept.move_to_end(key)
                    found[key] = self._kept[key]
        missing = [key for key in dict.fromkeys(keys) if key not in found]
        if missing:
            made = dict(zip(missing, make(missing), strict=True))
            found.update(made)
            self._keep(made)
        return [found[key] for key in keys]

    def _keep(self, made: dict[Key, Value]) -> None:
        with self._lock:
            for key, value in made.items():
                self._kept[key] = value
                self._kept.move_to_end(key)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
