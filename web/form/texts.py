"""Values of a draft as the texts of fields."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from billet import Fault, quantities, scrap_by_name, soft_iron
from web.form.fault_places import FaultPlaces
from web.form.fields import Spec, in_words
from web.form.view import Choice, Field, Group
from web.http.links import Units

READERS: dict[str, Callable[[str, Units], float]] = {
    "length": quantities.read_length_mm,
    "temperature": quantities.read_temperature_c,
    "difference": quantities.read_difference_k,
}
WRITERS: dict[str, Callable[[float, Units], str]] = {
    "length": quantities.write_length,
    "temperature": quantities.write_temperature,
    "difference": quantities.write_difference,
}
INCH_HINTS = {"1150, or 2100 F": "2100, or 1150 C"}
"""What is said of a field in an inch shop, where a bare temperature is in Fahrenheit."""
UNIT_WORDS = {
    ("length", "mm"): "mm",
    ("length", "inch"): "in",
    ("temperature", "inch"): "°F",
    ("difference", "inch"): "°F",
}


@dataclass(frozen=True)
class Writer:
    """Writes fields in the units of the page; `names` are the recipe's own names of steels."""

    units: Units
    names: tuple[str, ...]
    faults: FaultPlaces
    bars: tuple[str, ...] = ()
    """Names of the bars that are made first."""
    form_at: str = ""
    where_at: str = ""
    """What stands before every name of the form, and before every place of the recipe."""

    def field(self, table: Mapping[str, Any], prefix: str, spec: Spec, where: str | None = None) -> Field:
        """The field of one key of a table that stands at `prefix` in the form."""
        name = f"{prefix}.{spec.key}" if prefix else spec.key
        if spec.kind == "flag":
            on = table.get(spec.key, spec.initial_on)
            return self._field(name, where or name, spec, "on" if on is True else "")
        return self._field(name, where or name, spec, self.text(spec, table.get(spec.key)))

    def fixed(self, prefix: str, spec: Spec, text: str) -> Field:
        """A field whose text is given."""
        name = f"{prefix}.{spec.key}"
        return self._field(name, name, spec, text)

    def named(self, name: str, where: str, spec: Spec, value: Any) -> Field:
        """A field of a name of its own."""
        return self._field(name, where, spec, self.text(spec, value))

    def pair(
        self, table: Mapping[str, Any], prefix: str, spec: Spec, where: str | None = None
    ) -> tuple[Field, Field]:
        """Two fields for [first, last]; one number in the draft stands in both."""
        value = table.get(spec.key)
        ends = list(value) if isinstance(value, list | tuple) else [value, value]
        first, last = [*ends, None, None][:2]
        name = f"{prefix}.{spec.key}"
        place = where or name
        one, other = (replace(spec, label=f"{spec.label}, {end}") for end in spec.ends or ("", ""))
        left = self.named(f"{name}[0]", place, one, first)
        right = self.named(f"{name}[1]", place, other, last)
        return left, right

    def ticks(self, table: Mapping[str, Any], prefix: str, spec: Spec) -> tuple[Field, ...]:
        """A box to tick for each steel of the recipe, ticked where the list names it."""
        listed, name = list_of(table.get(spec.key)), f"{prefix}.{spec.key}"
        return tuple(
            self._field(
                f"{name}[{index}]",
                f"{name}[{listed.index(steel) if steel in listed else ''}]",
                replace(spec, kind="flag", label=f"{steel}: {spec.label[:1].lower()}{spec.label[1:]}"),
                "on" if steel in listed else "",
            )
            for index, steel in enumerate(self.names)
            if steel
        )

    def fields(self, table: Mapping[str, Any], prefix: str, specs: Iterable[Spec]) -> tuple[Field, ...]:
        """The fields of a table, each kind drawn in its way."""
        shown: list[Field] = []
        for spec in specs:
            if spec.ends is not None:
                shown += self.pair(table, prefix, spec)
            elif spec.many:
                shown += self.ticks(table, prefix, spec)
            else:
                shown.append(self.field(table, prefix, spec))
        return tuple(shown)

    def with_faults(self, group: Group, where: str) -> Group:
        """The group with what faults are left at its place and inside it."""
        return replace(group, where=where, faults=(*group.faults, *self.faults.within(self.where_at + where)))

    def text(self, spec: Spec, value: Any) -> str:
        """How a value of the draft stands in its field."""
        if isinstance(value, str):
            return value
        if isinstance(value, bool):
            return "true" if value else "false"
        if not isinstance(value, int | float):
            return ""
        try:
            number = float(value)
        except OverflowError:
            return "inf"
        if number != number or number in (float("inf"), float("-inf")):
            return str(number)
        if spec.kind in WRITERS:
            return WRITERS[spec.kind](number, self.units)
        return quantities.write_number(number)

    def _field(self, name: str, where: str, spec: Spec, text: str) -> Field:
        name, where = self.form_at + name, self.where_at + where
        faults = self.faults.at(where)
        if unread := self._unread(spec, text):
            faults = (Fault(where, unread),)
        unit = UNIT_WORDS.get((spec.kind, self.units), spec.unit)
        here = unread or (self._wrong(spec, text, unit) if faults else "")
        return Field(
            key=spec.key,
            name=name,
            where=where,
            label=spec.label,
            kind=spec.kind,
            text=text,
            unit=unit,
            hint=INCH_HINTS.get(spec.hint, spec.hint) if self.units == "inch" else spec.hint,
            fallback=spec.fallback,
            required=spec.required,
            choices=self._choices(spec, text),
            faults=faults,
            signed=spec.bounds is not None and spec.bounds[0] < 0,
            learn=_learn(spec, text),
            wrong=here or (in_words(faults[0].message) if faults else ""),
            wrong_here=bool(here),
        )

    def _wrong(self, spec: Spec, text: str, unit: str) -> str:
        """What is wrong with a field that can be read, where the page has words for it."""
        if not text:
            return "still to be told"
        if spec.bounds is not None and spec.kind not in ("text", "choice"):
            low, high = (self.text(spec, bound) for bound in spec.bounds)
            value = self._read(spec, text)
            if not spec.bounds[0] <= value <= spec.bounds[1]:
                return f"{text} is outside {low} to {high} {unit}".rstrip()
        return ""

    def _read(self, spec: Spec, text: str) -> float:
        """The number of a text that can be read, in the units of the recipe."""
        if spec.kind in READERS:
            return READERS[spec.kind](text, self.units)
        return quantities.read_number(text, spec.unit)

    def _unread(self, spec: Spec, text: str) -> str:
        """A sentence where the text is not what the field takes."""
        try:
            if text and (spec.kind in READERS or spec.kind in ("number", "whole")):
                self._read(spec, text)
        except quantities.NotAQuantity as refused:
            return str(refused)
        return ""

    def _choices(self, spec: Spec, text: str) -> tuple[Choice, ...]:
        """What can be chosen; what stands there is always among it, right or wrong."""
        if spec.kind not in ("choice", "steel", "bar"):
            return ()
        names = self.bars if spec.kind == "bar" else self.names
        listed = spec.choices if spec.kind == "choice" else tuple(Choice(n, n) for n in names if n)
        usual = next((c.label for c in listed if c.value == spec.fallback), "")
        empty = Choice("", f"usual: {usual}" if usual else "choose" if spec.required else "not told")
        known = {choice.value for choice in listed}
        stray = (Choice(text, f"{text} (unknown)"),) if text and text not in known else ()
        return (empty, *listed, *stray)


def _learn(spec: Spec, text: str) -> str:
    """The place on the page of scrap for what is no grade but a thing: leaf spring, mild steel."""
    if spec.key not in ("grade", "like") or not text:
        return ""
    iron, scrap = soft_iron(text), scrap_by_name(text)
    return iron.name.replace(" ", "-") if iron else scrap.key if scrap else ""


def table_of(table: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    """The table under a key; an empty one where something else stands."""
    inner = table.get(key)
    return inner if isinstance(inner, Mapping) else {}


def rows_of(value: Any) -> list[Mapping[str, Any]]:
    """The tables of a list; what is no table becomes an empty one."""
    if not isinstance(value, list | tuple):
        return []
    return [item if isinstance(item, Mapping) else {} for item in value]


def list_of(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list | tuple) else []


def named_rows(value: Any) -> list[tuple[str, Any]]:
    """Names and entries of [steels] or [bars]; one with two equal names or an empty one is a list."""
    if isinstance(value, Mapping):
        return [(str(name), entry) for name, entry in value.items()]
    return [(str(row.get("key", "")), row.get("is", "")) for row in rows_of(value)]


def named(rows: list[tuple[str, Any]]) -> dict[str, Any] | list[Any]:
    """Names and entries as a table; as a list where two names are equal or one is empty."""
    table = dict(rows)
    if len(table) == len(rows) and "" not in table:
        return table
    return [{"key": name, "is": entry} for name, entry in rows]


def name_faults(value: Any, key: str, noun: str) -> list[Fault]:
    """What is wrong with the names of a draft whose steels, or bars made first, are a list."""
    names = [name for name, _ in named_rows(value)] if isinstance(value, list) else []
    faults = []
    for index, name in enumerate(names):
        place, which = f"{key}[{index}].key", f"{noun.capitalize()} {index + 1}"
        if not name:
            faults.append(Fault(place, f"{which}: give it a name of your own"))
        elif name in names[:index]:
            faults.append(Fault(place, f"{which}: another {noun} has this name; each needs its own"))
    return faults
