"""The one way a recipe is written, derived from its fields by the declaration."""

import hashlib
import json
import math
from collections.abc import Mapping
from datetime import date, time
from typing import Any

from billet.recipe import declaration
from billet.recipe.model import BarPiece, Beside, Recipe, SheetInfo, Step
from billet.recipe.spec import FieldSpec, TableSpec
from billet.recipe.steel import RecipeSteel

MOST_BITS = 60
"""Longer integers, which a file may hold, stand as floats, as they do when JSON is read."""
NOT_OF_THE_BAR = ("shop", "control", "sheet")
NOT_OF_THE_STEP = ("measured", "proposed")
KEPT_IN_ORDER = ("steels", "bars")
"""Tables whose keys stay as they were named: reports and drawings list them in that order."""


def canonical(recipe: Recipe) -> dict[str, Any]:
    """The recipe in its own keys, every default filled in; what was not told is left out."""
    written: dict[str, Any] = {"format": declaration.FORMAT, "title": recipe.title}
    written["steels"] = {name: _steel(steel) for name, steel in recipe.steels.items()}
    if recipe.bars:
        written["bars"] = {name: {"stack": _table(declaration.STACK, bar.stack), **_steps(bar.steps)}
                           for name, bar in recipe.bars.items()}  # fmt: skip
    written["stack"] = _table(declaration.STACK, recipe.stack)
    written["forge"] = _table(declaration.FORGE, recipe)
    written |= _steps(recipe.steps)
    for spec in (declaration.BLADE, declaration.CONTROL, declaration.SHOP):
        part = getattr(recipe, spec.key)
        if part is not None:
            written[spec.key] = _table(spec, part)
    if recipe.sheet != SheetInfo():
        written["sheet"] = _table(declaration.SHEET, recipe.sheet)
    return written


def canonical_json(mapping: Mapping[str, Any]) -> str:
    """One text for one recipe: keys sorted, steels and bars as they were named, no spaces."""
    return json.dumps(_ordered(mapping), separators=(",", ":"), ensure_ascii=False)


def number_of(mapping: Mapping[str, Any]) -> str:
    """First ten hexadecimal digits of the SHA-256 of the canonical text."""
    return hashlib.sha256(canonical_json(mapping).encode("utf-8")).hexdigest()[:10]


def of_the_bar(given: Mapping[str, Any]) -> dict[str, Any]:
    """The recipe without what is measured, owned or only printed."""
    kept = _of_steps({key: value for key, value in given.items() if key not in NOT_OF_THE_BAR})
    if "bars" in kept:
        kept["bars"] = {name: _of_steps(bar) for name, bar in kept["bars"].items()}
    return kept


def _of_steps(table: Mapping[str, Any]) -> dict[str, Any]:
    kept = dict(table)
    if "steps" in kept:
        kept["steps"] = [{k: v for k, v in s.items() if k not in NOT_OF_THE_STEP} for s in kept["steps"]]
    return kept


def _steel(steel: RecipeSteel) -> Any:
    return steel.like if steel.named_only else _table(declaration.STEEL, steel)


def _steps(steps: tuple[Step, ...]) -> dict[str, Any]:
    """The steps under their key; nothing where there are none."""
    rows = [{"do": step.do, **_table(declaration.STEPS[step.do], step)} for step in steps]
    return {"steps": rows} if rows else {}


def _table(spec: TableSpec, part: Any) -> dict[str, Any]:
    values = {field.key: _value(field, getattr(part, field.name)) for field in spec.fields}
    return {key: value for key, value in values.items() if value is not None}


def _value(field: FieldSpec, value: Any) -> Any:
    """A value of the model as a recipe writes it; None for what is left out."""
    if value is None or (value == () and not field.required):
        return None
    match field.kind:
        case "number":
            return shortest(value)
        case "ends" | "range":
            first, last = (shortest(end) for end in value)
            return first if field.kind == "ends" and first == last else [first, last]
        case "each":
            return {name: shortest(number) for name, number in value.items()}
        case "table" if field.inner is not None:
            return _mapping(field.inner, value)
        case "rows" | "plates" | "lay" if field.inner is not None:
            return [_item(field, field.inner, item) for item in value]
        case "steels" | "some" | "keys" | "bars":
            return list(value)
        case _:
            return value


def _item(field: FieldSpec, inner: TableSpec, item: Any) -> Any:
    if isinstance(item, str):
        return item
    if isinstance(item, BarPiece) and field.bar_inner is not None:
        return _table(field.bar_inner, item)
    if isinstance(item, Beside) and field.beside_inner is not None:
        return _table(field.beside_inner, item)
    return _table(inner, item)


def _mapping(spec: TableSpec, part: Any) -> dict[str, Any]:
    if isinstance(part, Mapping):
        return {field.key: _value(field, part[field.key]) for field in spec.fields if field.key in part}
    return _table(spec, part)


def shortest(value: float) -> float | int:
    """A whole float as int, so that 40 and 40.0 are one recipe."""
    return int(value) if float(value).is_integer() else value


def _ordered(value: Any, keep: bool = False) -> Any:
    if isinstance(value, Mapping):
        names = list(value) if keep else sorted(value)
        return {n: _ordered(value[n], keep=not keep and n in KEPT_IN_ORDER) for n in names}
    if isinstance(value, list | tuple):
        return [_ordered(item) for item in value]
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, int) and value.bit_length() > MOST_BITS:
        return (math.inf if value > 0 else -math.inf) if value.bit_length() > 1000 else float(value)
    return value
