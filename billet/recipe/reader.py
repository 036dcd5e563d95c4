"""Reads one table of a recipe: every value checked, every default noted, the canonical form kept.

A wrong value is noted as a fault and a harmless stand-in is returned, so that reading goes on and
all faults are told at once; nothing that holds a stand-in leaves `parse_recipe`.
"""

import json
import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any

from billet.recipe.faults import Faults, nearest, quoted, shown

REQUIRED = object()
Bounds = tuple[float, float]


class FaultLog:
    """What the whole reading shares: the faults, and the defaults that were filled in."""

    def __init__(self) -> None:
        self.faults = Faults()
        self.defaults_used: list[str] = []


class TableReader:
    """One table of the recipe, at a place (`steps[3]`) and with words for it ("Step 4 (restack): ")."""

    def __init__(self, ledger: FaultLog, table: Any, where: str, words: str) -> None:
        self.ledger, self.where, self.words = ledger, where, words
        self.out: dict[str, Any] = {}
        self.read: set[str] = set()
        self.table: Mapping[str, Any] = {}
        self.whole = isinstance(table, Mapping)
        if isinstance(table, Mapping):
            self.table = table
        else:
            self.fault("", f"a table belongs here, got {shown(table)}")

    def place(self, key: str) -> str:
        """The path of one key, `steps[3].height_mm`."""
        if not key:
            return self.where
        clean = key if len(key) <= 60 and key.isprintable() else quoted(key)
        return f"{self.where}.{clean}" if self.where else clean

    def fault(self, key: str, message: str) -> None:
        self.ledger.faults.add(self.place(key), self.words + message)

    def has(self, key: str) -> bool:
        return key in self.table

    def take(self, key: str, default: Any = REQUIRED) -> Any:
        """The raw value; the default where it is absent (noted, unless it is None)."""
        self.read.add(key)
        if key in self.table:
            return self.table[key]
        if default is REQUIRED:
            if self.whole:
                self.fault(key, f"{key} is missing")
            return REQUIRED
        if default is not None:
            self.ledger.defaults_used.append(f"{self.place(key)} = {json.dumps(default)}")
        return default

    def number(self, key: str, bounds: Bounds, unit: str, default: Any = REQUIRED) -> float:
        """A finite number within the bounds, both ends allowed."""
        value = self.take(key, default)
        if value is REQUIRED:
            return bounds[0]
        result = self.checked_number(key, value, bounds, unit)
        self.out[key] = shortest(result)
        return result

    def maybe_number(self, key: str, bounds: Bounds, unit: str) -> float | None:
        """As `number`, None where the key is absent."""
        self.read.add(key)
        return self.number(key, bounds, unit) if self.has(key) else None

    def checked_number(self, key: str, value: Any, bounds: Bounds, unit: str, name: str = "") -> float:
        """A value that was taken already, checked as a number; the lower bound stands in."""
        name = name or key
        low, high = bounds
        rule = f"{name} must be a number of {low:g} to {high:g}{' ' + unit if unit else ''}, "
        if isinstance(value, str):
            self.fault(key, f"{rule}without quotes, got {shown(value)}")
        elif isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            self.fault(key, f"{rule}got {shown(value)}")
        else:
            return float(value)
        return low

    def integer(self, key: str, bounds: tuple[int, int], default: Any = REQUIRED) -> int:
        """A whole number within the bounds; 3.0 is one, 3.5 and "3" are not."""
        value = self.take(key, default)
        if value is REQUIRED:
            return bounds[0]
        result = bounds[0]
        whole = isinstance(value, int) or (isinstance(value, float) and value.is_integer())
        if not whole or isinstance(value, bool) or not bounds[0] <= value <= bounds[1]:
            rule = f"{key} must be a whole number of {bounds[0]} to {bounds[1]}"
            self.fault(key, f"{rule}, got {shown(value)}")
        else:
            result = int(value)
        self.out[key] = result
        return result

    def boolean(self, key: str, default: Any) -> bool:
        value = self.take(key, default)
        if not isinstance(value, bool):
            self.fault(key, f"{key} must be true or false, got {shown(value)}")
            value = False
        self.out[key] = value
        return bool(value)

    def text(self, key: str, longest: int, default: Any = REQUIRED) -> str:
        """A line of printable text, neither empty nor too long."""
        value = self.take(key, default)
        if value is REQUIRED:
            return ""
        result = self.checked_text(key, value, longest)
        self.out[key] = result
        return result

    def maybe_text(self, key: str, longest: int) -> str | None:
        self.read.add(key)
        return self.text(key, longest) if self.has(key) else None

    def checked_text(self, key: str, value: Any, longest: int) -> str:
        if not isinstance(value, str):
            self.fault(key, f"{key} must be text: put it in quotes, got {shown(value)}")
        elif not value.strip():
            self.fault(key, f"{key} must not be empty")
        elif len(value) > longest:
            self.fault(key, f"{key} must not be longer than {longest} characters, got {len(value)}")
        elif not is_one_line(value):
            self.fault(key, f"{key} must be one line of printable characters, got {shown(value)}")
        else:
            return value
        return ""

    def choice(self, key: str, known: Sequence[str], default: Any = REQUIRED) -> str:
        """One of some words."""
        value = self.take(key, default)
        if value is REQUIRED:
            return known[0]
        if not isinstance(value, str) or value not in known:
            words = ", ".join(quoted(k) for k in known)
            self.fault(key, f"{key} must be one of {words}, got {shown(value)}")
            value = known[0]
        self.out[key] = value
        return str(value)

    def pair(self, key: str, bounds: Bounds, unit: str, default: Any = REQUIRED) -> tuple[float, float]:
        """[handle end, far end], or one number for both."""
        value = self.take(key, default)
        if value is REQUIRED:
            return bounds[0], bounds[0]
        if not isinstance(value, list | tuple):
            both = self.checked_number(key, value, bounds, unit)
            self.out[key] = shortest(both)
            return both, both
        if len(value) != 2:
            self.fault(key, f"{key} must be one number or two, [handle end, far end]; got {len(value)}")
            return bounds[0], bounds[0]
        first = self.checked_number(key, value[0], bounds, unit, f"{key}, handle end,")
        second = self.checked_number(key, value[1], bounds, unit, f"{key}, far end,")
        self.out[key] = [shortest(first), shortest(second)]
        return first, second

    def list_of(self, key: str, length: tuple[int, int], what: str) -> list[Any]:
        """A list that holds so many things; empty where it is wrong."""
        value = self.take(key)
        if value is REQUIRED:
            return []
        low, high = length
        if not isinstance(value, list | tuple):
            self.fault(key, f"{key} must be a list of {what}, got {shown(value)}")
            return []
        if not low <= len(value) <= high:
            self.fault(key, f"{key} must hold {low} to {high} {what}, got {len(value)}")
            return []
        return list(value)

    def child(self, key: str, words: str = "") -> "TableReader":
        """The table under a key; its canonical form is kept under the same key."""
        table = self.take(key)
        inner = TableReader(self.ledger, {} if table is REQUIRED else table, self.place(key), words)
        inner.whole = inner.whole and table is not REQUIRED
        self.out[key] = inner.out
        return inner

    def end(self, also: Sequence[str] = ()) -> None:
        """What was not read is unknown. `also` are keys that might have stood here."""
        for key in self.table:
            if key not in self.read:
                known = sorted({*self.read, *also})
                name = key if isinstance(key, str) else str(shown(key))
                self.fault(name, f"unknown key {quoted(name)}{nearest(name, known)}")


def is_one_line(text: str) -> bool:
    """Whether a text can be printed on one line: no control characters, any kind of space."""
    return all(c.isprintable() or unicodedata.category(c) == "Zs" for c in text)


def shortest(value: float) -> float | int:
    """A whole float as int, so that 40 and 40.0 are one recipe."""
    return int(value) if value.is_integer() else value
