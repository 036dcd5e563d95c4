"""Fields of a recipe as the form asks for them, made from the library's declaration.

A field's name is its place in the recipe (`steps[3].height_mm`), save that a steel is counted
(`steels[0].wt.C`) because its own name can be changed in the form.
"""

import re
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from billet import FieldSpec, recipe_tables
from web.form.view import Asked, Choice, Kind


@dataclass(frozen=True)
class Spec(Asked):
    """One key of a table of the recipe. `initial_on` is the default of a flag.

    `ends` tells the two numbers of a field that holds a pair; `many` is a list of the recipe's own steels.
    """

    initial_on: bool = False
    ends: tuple[str, str] | None = None
    many: bool = False
    bounds: tuple[float, float] | None = None
    """Least and greatest value of a number, in the units of the recipe."""


STEEL_NAME = Spec("key", "text", "Your name for it", required=True)
STEEL_WAS = Spec("was", "hidden", "")
STEEL_FORM = Spec("as", "hidden", "")
BAR_NAME = Spec("key", "text", "Your name for it", required=True)
STEEL_AUTO = Spec("auto", "hidden", "")
"""Set where a steel bears the name of its grade, and follows it."""
GRADE = Spec("grade", "text", "Grade", required=True, hint="a designation or number, any country's")
STEEL_KEYS = {"like": ("like", "melt", "role"), "own": ("name", "melt", "role")}
"""Keys that a steel with an analysis of its own is asked for, beside the analysis and the range."""
COMMON_ELEMENTS = ("C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")
APART = (
    "note",
    "measured",
    "proposed",
    "order",
    "lay",
    "wt",
    "harden_c",
    "plates",
    "pattern",
    "count",
    "oils",
    "beside",
)
"""Keys that the form asks for in a place of their own."""
_UNITS = {"C": "°C", "K": "°C", "degrees": "°", "wt%": "%"}
_KINDS: dict[str, Kind] = {"C": "temperature", "mm": "length", "K": "difference"}
_SIMPLE: dict[str, Kind] = {"whole": "whole", "flag": "flag", "choice": "choice", "steel": "steel"}


@cache
def table(name: str) -> tuple[Spec, ...]:
    """What the form asks for in a table, without what has a place of its own."""
    listed = (f for f in recipe_tables()[name].fields if f.key not in APART and f.kind != "each")
    return tuple(spec_of(field) for field in listed)


@cache
def one(name: str, key: str, required: bool | None = None) -> Spec:
    """One field of a table; `required` where another choice of the form makes it so."""
    spec = spec_of(recipe_tables()[name].field(key))
    return spec if required is None else replace(spec, required=required)


@cache
def steel_specs(form: str) -> tuple[Spec, ...]:
    """What is asked of a steel that is given as one of the library, like one, or by its own analysis."""
    if form not in STEEL_KEYS:
        return (GRADE,)
    return tuple(one("steels", key, required=key in ("like", "name")) for key in STEEL_KEYS[form])


@cache
def elements() -> tuple[tuple[Spec, ...], tuple[Spec, ...]]:
    """The elements of an analysis: the common ones, and the rare ones."""
    listed = {spec.key: spec for spec in table("wt")}
    common = tuple(listed[element] for element in COMMON_ELEMENTS)
    return common, tuple(spec for element, spec in listed.items() if element not in COMMON_ELEMENTS)


@cache
def step_words() -> dict[str, str]:
    """Every kind of step and what the form calls it."""
    return {spec.key: spec.label for name, spec in recipe_tables().items() if name.startswith("steps.")}


def heading(name: str) -> str:
    """What the form writes over a table."""
    return recipe_tables()[name].label


def most(name: str, key: str) -> int:
    """How many things a list may hold, or how great a whole number may be."""
    return int(recipe_tables()[name].field(key).bounds[1])


def spec_of(field: FieldSpec) -> Spec:
    """The declaration of a field as the form draws it."""
    return Spec(
        key=field.key,
        kind=_kind(field),
        label=field.label,
        unit=_UNITS.get(field.unit, field.unit),
        hint=field.hint,
        fallback=_fallback(field),
        required=field.required,
        choices=tuple(Choice(choice.value, choice.label) for choice in field.choices),
        initial_on=field.default is True,
        ends=field.ends,
        many=field.kind in ("steels", "some"),
        bounds=field.bounds if field.kind in ("number", "whole", "ends", "range", "each") else None,
    )


@cache
def _keys() -> tuple[tuple[re.Pattern[str], str], ...]:
    """Keys that no sentence of a page should hold, and the label of each."""
    listed = {f.key: f.label or f.noun for spec in recipe_tables().values() for f in spec.fields}
    keys = sorted((key for key in listed if "_" in key), key=len, reverse=True)
    return tuple((re.compile(rf"\b{re.escape(key)}\b"), f"“{listed[key]}”") for key in keys)


def in_words(message: str) -> str:
    """A sentence of the library for a page: without the keys that only a file has."""
    for key, label in _keys():
        message = key.sub(label, re.sub(rf" \({key.pattern}\)", "", message))
    return message


def _kind(field: FieldSpec) -> Kind:
    if field.kind in ("number", "ends", "range", "each"):
        return _KINDS.get(field.unit, "number")
    if field.kind in ("bar", "bars"):
        return "bar"
    return "steel" if field.kind in ("steels", "some") else _SIMPLE.get(field.kind, "text")


def _fallback(field: FieldSpec) -> str:
    if field.reckoned:
        return field.reckoned
    if field.kind == "flag" or field.default in (None, ()):
        return ""
    other = field.default_if
    also = f", {other.value} {_usual(other.default, field.unit)}" if other else ""
    return _usual(field.default, field.unit) + also


def _usual(value: Any, unit: str) -> str:
    if isinstance(value, str):
        return value
    return f"{value:g} {unit}".rstrip() if value else "0"


def steel_form(value: object) -> str:
    """How a steel of the draft is given: library, like or own."""
    if not isinstance(value, dict):
        return "library"
    return "own" if "name" in value and "like" not in value else "like"
