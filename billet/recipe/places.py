"""Places in a recipe, `steps[1].minutes`: what stands there, and recipes with something changed."""

import difflib
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from billet.errors import Fault, RecipeError
from billet.recipe import declaration
from billet.recipe.faults import quoted
from billet.recipe.laid_bars import place_in
from billet.recipe.model import Recipe
from billet.recipe.reading import read_recipe
from billet.recipe.spec import TableSpec

_WORD = re.compile(r"([^.\[\]]+)|\[(\d{1,4})\]", re.ASCII)
_NEW_TABLES = (*(spec.key for spec in declaration.FLAT), "measured", "wt")
"""Tables that come into being when something is put into them."""
Key = str | int


def defaults_of(recipe: Recipe) -> tuple[tuple[str, Any], ...]:
    """Places that were left to their defaults and still hold them, with the value.

    A place whose value was changed since, or that is gone, is none of them.
    """
    usual = {place: value for place, value in _declared_defaults(recipe).items() if place in recipe.assumed}
    usual |= dict(recipe.reckoned)
    return tuple((place, usual[place]) for place in recipe.assumed if place in usual)


def written(recipe: Recipe) -> dict[str, Any]:
    """The recipe without the defaults that were filled in: what somebody wrote."""
    left_out = {place for place, _ in defaults_of(recipe)}
    return {key: value for key, value in _without(recipe.given, "", left_out).items() if value != {}}


def changed(recipe: Recipe, values: Mapping[str, Any]) -> Recipe:
    """The recipe read again with other values at some places; None takes a key away.

    Raises RecipeError for a place that there is not, and for all that reading refuses.
    """
    mapping = written(recipe)
    for place, value in values.items():
        _put(mapping, place, value)
    return read_recipe(mapping, recipe.check)


def places(mapping: Any, where: str = "") -> Iterator[tuple[str, Any]]:
    """Every place of a mapping that holds one value, with the value."""
    if isinstance(mapping, Mapping):
        for key, value in mapping.items():
            yield from places(value, f"{where}.{key}" if where else str(key))
    elif isinstance(mapping, list | tuple):
        for index, value in enumerate(mapping):
            yield from places(value, f"{where}[{index}]")
    else:
        yield where, mapping


def _declared_defaults(recipe: Recipe) -> dict[str, Any]:
    """The default of every place of the recipe that has one and holds it."""
    given = recipe.given
    tables = [(spec.key, spec, given[spec.key]) for spec in declaration.FLAT if spec.key in given]
    tables += _of_bar("", given)
    for name, bar in given.get("bars", {}).items():
        tables += _of_bar(place_in(name, ""), bar)
    found: dict[str, Any] = {}
    for where, spec, table in tables:
        for field in spec.fields:
            default = field.default_in(table)
            if default not in (None, ()) and table.get(field.key) == default:
                found[f"{where}.{field.key}"] = default
    return found


def _of_bar(where: str, given: Mapping[str, Any]) -> list[tuple[str, TableSpec, Mapping[str, Any]]]:
    """The steps of a bar, and the bars laid in its stack and steps: place, declaration and table."""
    steps = list(enumerate(given.get("steps", ())))
    lists = [(f"{where}stack.plates", given["stack"].get("plates", ()))]
    lists += [(f"{where}steps[{at}].lay", step.get("lay", ())) for at, step in steps]
    found = [(f"{where}steps[{at}]", declaration.STEPS[step["do"]], step) for at, step in steps]
    return found + [
        (f"{place}[{index}]", declaration.BAR_PIECE, item)
        for place, items in lists
        for index, item in enumerate(items)
        if isinstance(item, Mapping) and "bar" in item
    ]


def _without(value: Any, where: str, left_out: set[str]) -> Any:
    if isinstance(value, Mapping):
        named = {key: f"{where}.{key}" if where else key for key in value}
        return {k: _without(v, named[k], left_out) for k, v in value.items() if named[k] not in left_out}
    if isinstance(value, list | tuple):
        return [_without(item, f"{where}[{index}]", left_out) for index, item in enumerate(value)]
    return value


def _put(mapping: dict[str, Any], place: str, value: Any) -> None:
    """Set one place of a mapping. Raises RecipeError where the way to it is not there."""
    *way, last = _keys(mapping, place)
    target: Any = mapping
    for key in way:
        target = _into(target, key, mapping, place)
    _set(target, last, value, mapping, place)


def _set(node: Any, last: Key, value: Any, mapping: dict[str, Any], place: str) -> None:
    if isinstance(node, list) and isinstance(last, int):
        if last >= len(node):
            raise _no_place(mapping, place)
        node[last] = value
    elif isinstance(node, dict) and isinstance(last, str):
        node.pop(last, None)
        if value is not None:
            node[last] = value
        if last in node.get("proposed", ()):
            node["proposed"] = [key for key in node["proposed"] if key != last]
    else:
        raise _no_place(mapping, place)


def _into(node: Any, key: Key, mapping: dict[str, Any], place: str) -> Any:
    if isinstance(node, dict) and isinstance(key, str):
        if key not in node and key in _NEW_TABLES:
            node[key] = {}
        among_steels = mapping.get("steels") is node
        if key in node:
            if among_steels and isinstance(node[key], str):
                node[key] = {"like": node[key]}
            return node[key]
    elif isinstance(node, list) and isinstance(key, int) and key < len(node):
        return node[key]
    raise _no_place(mapping, place)


def _keys(mapping: Mapping[str, Any], place: str) -> list[Key]:
    """The keys on the way; the name of a steel or of a bar may hold dots and brackets itself."""
    bar = _named(place, "bars.", mapping.get("bars", ()))
    head: list[Key] = [] if bar is None else ["bars", bar]
    rest = place if bar is None else place[len(f"bars.{bar}.") :]
    for before in ("steels.", "stack.thickness_mm."):
        name = _named(rest, before, mapping["steels"])
        if name is not None:
            return [*head, *_split(before), name, *_split(rest[len(before) + len(name) :])]
    keys = [*head, *_split(rest)]
    if not keys:
        raise _no_place(mapping, place)
    return keys


def _named(place: str, head: str, names: Iterable[str]) -> str | None:
    """The longest of the names that stands in a place after `head`."""
    found = [name for name in names if f"{place}.".startswith(f"{head}{name}.")]
    return max(found, key=len, default=None)


def _split(place: str) -> list[Key]:
    left = _WORD.sub("", place).replace(".", "")
    return [] if left else [word or int(number) for word, number in _WORD.findall(place)]


def _no_place(mapping: Mapping[str, Any], place: str) -> RecipeError:
    known = [name for name, _ in places(mapping)]
    near = difflib.get_close_matches(place[:100], known, n=3, cutoff=0.5) or known[:3]
    words = ", ".join(quoted(name) for name in near)
    return RecipeError([Fault(place[:100], f"the recipe has no place {quoted(place)}; there is {words}")])
