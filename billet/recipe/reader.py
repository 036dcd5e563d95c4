"""Reads one table of a recipe by its declaration: every value checked, every default noted.

A wrong value is noted as a fault and None is returned, so that reading goes on and all faults are told
at once; nothing with a fault leaves `read_recipe`.
"""

import datetime
import unicodedata
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from billet.recipe.faults import Faults, nearest, quoted, shown
from billet.recipe.spec import Either, FieldSpec, TableSpec

ABSENT = object()
PIECES = ("piece", "turned")
Names = Collection[str]
"""The recipe's own names of steels, or of bars that are made first."""


class FaultLog:
    """What the whole reading shares: the faults, and the places of defaults that were filled in."""

    def __init__(self) -> None:
        self.faults = Faults()
        self.assumed: list[str] = []


class TableReader:
    """One table of the recipe, at a place (`steps[3]`) and with words for it ("Step 4 (restack): ")."""

    def __init__(
        self, log: FaultLog, table: Any, where: str, words: str, steels: Names = (), bars: Names = ()
    ) -> None:
        self.log, self.where, self.words, self.steels, self.bars = log, where, words, steels, bars
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
        self.log.faults.add(self.place(key), self.words + message)

    def values(self, spec: TableSpec, also: Sequence[str] = ()) -> dict[str, Any]:
        """Every field of the table by the name it has in the model; `also` are keys read elsewhere."""
        found = {field.name: self.read(field) for field in spec.fields}
        if spec.either is not None and self.whole:
            self.check_either(spec, spec.either)
        self.end([*(field.key for field in spec.fields), *also])
        return found

    def made(self, spec: TableSpec, **more: Any) -> Any:
        """The part of the model that the table says; None where anything in it is wrong."""
        before = len(self.log.faults.listed)
        values = self.values(spec, also=("do",) if "do" in more else ())
        if not self.whole or len(self.log.faults.listed) > before:
            return None
        part = spec.make(**more, **values)
        broken = None if spec.rule is None else spec.rule(part)
        if broken is None:
            return part
        self.fault(*broken)
        return None

    def read(self, field: FieldSpec) -> Any:
        """The checked value of one field; None where it is left out or wrong."""
        value = self.take(field)
        return None if value is ABSENT else getattr(self, f"_{field.kind}")(field, value)

    def take(self, field: FieldSpec) -> Any:
        """The raw value; where it is absent the default, which is noted."""
        if field.key in self.table:
            return self.table[field.key]
        default = field.default_in(self.table)
        if default is not None:
            if default != ():
                self.log.assumed.append(self.place(field.key))
            return default
        if field.required and self.whole:
            self.fault(field.key, f"{field.named} is missing")
        return ABSENT

    def check_either(self, spec: TableSpec, either: Either) -> None:
        """A fault where too many or too few of the groups are given."""
        given = [group for group in either.groups if any(key in self.table for key in group)]
        told = ", or ".join(_joined([spec.field(key).named for key in group]) for group in either.groups)
        if not given and either.how != "most":
            self.fault(either.where, f"give {told}")
        elif len(given) > 1 and either.how != "least":
            self.fault(either.where or given[-1][0], f"give {told}; not both")
        elif either.how == "exactly" and given:
            for key in given[0]:
                if key not in self.table:
                    self.fault(key, f"{spec.field(key).named} is missing")

    def end(self, known: Sequence[str]) -> None:
        """What is not known is a fault."""
        for key in self.table:
            if key not in known:
                name = key if isinstance(key, str) else str(shown(key))
                self.fault(name, f"unknown key {quoted(name)}{nearest(name, sorted(known))}")

    def child(self, key: str, table: Any, words: str = "") -> "TableReader":
        """A reader of a table under a key."""
        return TableReader(self.log, table, self.place(key), words or self.words, self.steels, self.bars)

    def number(self, field: FieldSpec, value: Any, key: str = "", named: str = "") -> float | None:
        """A finite number within the bounds of a field, at another key if one is told."""
        low, high = field.bounds
        unit = f" {field.unit}" if field.unit else ""
        rule = f"{named or field.named} must be a number of {low:g} to {high:g}{unit}, "
        if isinstance(value, str):
            self.fault(key or field.key, f"{rule}without quotes, got {shown(value)}")
        elif isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            self.fault(key or field.key, f"{rule}got {shown(value)}")
        else:
            return float(value)
        return None

    def _number(self, field: FieldSpec, value: Any) -> float | None:
        return self.number(field, value)

    def _whole(self, field: FieldSpec, value: Any) -> int | None:
        low, high = (int(bound) for bound in field.bounds)
        whole = isinstance(value, int) or (isinstance(value, float) and value.is_integer())
        if not whole or isinstance(value, bool) or not low <= value <= high:
            rule = f"{field.named} must be a whole number of {low} to {high}"
            self.fault(field.key, f"{rule}, got {shown(value)}")
            return None
        return int(value)

    def _flag(self, field: FieldSpec, value: Any) -> bool | None:
        if isinstance(value, bool):
            return value
        self.fault(field.key, f"{field.named} must be true or false, got {shown(value)}")
        return None

    def _text(self, field: FieldSpec, value: Any) -> str | None:
        return self.text(field.key, field.named, value, int(field.bounds[1]))

    def text(self, key: str, named: str, value: Any, longest: int) -> str | None:
        """A line of printable text, neither empty nor too long."""
        if not isinstance(value, str):
            self.fault(key, f"{named} must be text: put it in quotes, got {shown(value)}")
        elif not value.strip():
            self.fault(key, f"{named} must not be empty")
        elif len(value) > longest:
            self.fault(key, f"{named} must not be longer than {longest} characters, got {len(value)}")
        elif not is_one_line(value):
            self.fault(key, f"{named} must be one line of printable characters, got {shown(value)}")
        else:
            return value
        return None

    def _day(self, field: FieldSpec, value: Any) -> str | None:
        return value.isoformat() if isinstance(value, datetime.date) else self._text(field, value)

    def _choice(self, field: FieldSpec, value: Any) -> str | None:
        words = field.words
        if isinstance(value, str) and value in words:
            return value
        near = nearest(value, words) if isinstance(value, str) and len(words) > 4 else ""
        known = "" if near.startswith("; did") else ", ".join(quoted(word) for word in words)
        rule = f"{field.named} must be one of {known}" if known else f"{field.named} is not known"
        self.fault(field.key, f"{rule}, got {shown(value)}{near if not known else ''}")
        return None

    def _ends(self, field: FieldSpec, value: Any) -> tuple[float, float] | None:
        if isinstance(value, list | tuple):
            if len(value) == 2:
                return self._two(field, value)
            rule = f"{field.named} must be one number or two, [handle end, far end]"
            self.fault(field.key, f"{rule}; got {len(value)}")
            return None
        both = self.number(field, value)
        return None if both is None else (both, both)

    def _range(self, field: FieldSpec, value: Any) -> tuple[float, float] | None:
        if not isinstance(value, list | tuple) or len(value) != 2:
            what = "two temperatures" if field.unit == "C" else "two numbers"
            self.fault(field.key, f"{field.named} must be {what}, [low, high]; got {shown(value)}")
            return None
        found = self._two(field, value)
        if found is not None and found[0] >= found[1]:
            rule = f"{field.named} must rise from low to high"
            self.fault(field.key, f"{rule}, got {found[0]:g} to {found[1]:g}")
        return found

    def _two(self, field: FieldSpec, value: Sequence[Any]) -> tuple[float, float] | None:
        assert field.ends is not None
        first, last = (
            self.number(field, number, named=f"{field.named}, {end},")
            for number, end in zip(value, field.ends, strict=True)
        )
        return None if first is None or last is None else (first, last)

    def list_of(self, field: FieldSpec, value: Any) -> list[Any]:
        """A list that holds so many things; empty where it is wrong."""
        low, high = (int(bound) for bound in field.bounds)
        if not isinstance(value, list | tuple):
            self.fault(field.key, f"{field.named} must be a list, got {shown(value)}")
        elif not low <= len(value) <= high:
            self.fault(field.key, f"{field.named} must hold {low} to {high}, got {len(value)}")
        else:
            return list(value)
        return []

    def _steel(self, field: FieldSpec, value: Any) -> str | None:
        return self.steel(field.key, value)

    def steel(self, key: str, value: Any) -> str | None:
        """One of the recipe's own names of steels."""
        if isinstance(value, str) and value in self.steels:
            return value
        if isinstance(value, str):
            self.fault(key, f"[steels] has no {quoted(value)}{nearest(value, self.steels)}")
        else:
            self.fault(key, f"the name of a steel belongs here: put it in quotes, got {shown(value)}")
        return None

    def _bar(self, field: FieldSpec, value: Any) -> str | None:
        return self._named_bar(field.key, value)

    def _bars(self, field: FieldSpec, value: Any) -> tuple[str | None, ...]:
        listed = self.list_of(field, value)
        return tuple(self._named_bar(f"{field.key}[{index}]", name) for index, name in enumerate(listed))

    def _named_bar(self, key: str, value: Any) -> str | None:
        """One of the recipe's own names of bars that are made first."""
        if isinstance(value, str) and value in self.bars:
            return value
        if not isinstance(value, str):
            self.fault(key, f"the name of a bar belongs here: put it in quotes, got {shown(value)}")
        elif self.bars:
            self.fault(key, f"[bars] has no {quoted(value)}{nearest(value, self.bars)}")
        else:
            self.fault(key, f"no bar is called {quoted(value)}: the recipe has no [bars]")
        return None

    def _steels(self, field: FieldSpec, value: Any) -> tuple[str | None, ...]:
        listed = self.list_of(field, value)
        return tuple(self.steel(f"{field.key}[{index}]", name) for index, name in enumerate(listed))

    def _some(self, field: FieldSpec, value: Any) -> tuple[str, ...]:
        named = self._steels(field, value)
        return tuple(name for name in self.steels if name in named)

    def _keys(self, field: FieldSpec, value: Any) -> tuple[str, ...]:
        listed = self.list_of(field, value)
        for index, key in enumerate(listed):
            if key not in field.words:
                near = nearest(key, field.words) if isinstance(key, str) else ""
                self.fault(f"{field.key}[{index}]", f"a key of this step with a number belongs here{near}")
        return tuple(word for word in field.words if word in listed)

    def _each(self, field: FieldSpec, value: Any) -> dict[str, float | None] | None:
        """A number for each steel of the pattern; steels that do not lie in it are unknown."""
        if not isinstance(value, Mapping):
            rule = f"{field.named} must be a table with a {field.noun} for each steel of the pattern"
            self.fault(field.key, f"{rule}, got {shown(value)}")
            return None
        pattern = self.table.get("pattern")
        named = [n for n in pattern if isinstance(n, str)] if isinstance(pattern, list | tuple) else []
        inner = self.child(field.key, value)
        names = [name for name in dict.fromkeys(named) if name in self.steels]
        found: dict[str, float | None] = {}
        for name in names:
            told = f"{field.noun} of {quoted(name)}"
            if name in inner.table:
                found[name] = inner.number(field, inner.table[name], name, told)
            else:
                inner.fault(name, f"{told} is missing")
        if names:
            inner.end(names)
        return found

    def _table(self, field: FieldSpec, value: Any) -> Any:
        assert field.inner is not None
        return self.child(field.key, value).made(field.inner)

    def _rows(self, field: FieldSpec, value: Any) -> tuple[Any, ...]:
        return tuple(self._row(field, index, row) for index, row in enumerate(self.list_of(field, value)))

    def _row(self, field: FieldSpec, index: int, row: Any) -> Any:
        inner = field.read_as(row)
        words = f"{self.words}{inner.label.lower()} {index + 1}: "
        return self.child(f"{field.key}[{index}]", row, words).made(inner)

    _plates = _rows

    def _lay(self, field: FieldSpec, value: Any) -> tuple[Any, ...]:
        items: list[Any] = []
        for index, item in enumerate(self.list_of(field, value)):
            key = f"{field.key}[{index}]"
            if isinstance(item, str) and item in PIECES:
                items.append(item)
            elif isinstance(item, Mapping):
                items.append(self.child(key, item).made(field.read_as(item)))
            else:
                rule = '"piece", "turned", a plate { steel, thickness_mm }, { bar } or { beside } is laid'
                self.fault(key, f"{rule}, got {shown(item)}")
        return tuple(items)


def is_one_line(text: str) -> bool:
    """Whether a text can be printed on one line: no control characters, any kind of space."""
    return all(c.isprintable() or unicodedata.category(c) == "Zs" for c in text)


def _joined(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
