"""Form fields to the mapping of a recipe, complete or not.

A text that cannot be read stays in the mapping as it was written: the address can then carry the
draft, and the check of the recipe names the place. Empty fields are left out, so defaults hold.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from billet import ELEMENTS, OWN_KEYS, oils_with_classes, quantities
from web.form import fields
from web.form.fields import Spec
from web.form.own_shop import WRITE
from web.form.proposing import MINE, TOLD
from web.http.links import Units

Tree = dict[str, Any]
FORMAT = 1
ADDED = ("blade", "shop")
"""Tables that a button adds; they may stand there empty."""
PART = re.compile(r"\.?([A-Za-z_]+)|\[(\d{1,3})\]", re.ASCII)
DEEPEST_NAME = 6
NAME_LONGEST = 36


def read_form(pairs: Iterable[tuple[str, str]], units: Units) -> dict[str, Any]:
    """The draft that the fields say. Fields of other names are ignored; no fault is raised here."""
    return _Reading(units).recipe(_tree(pairs))


def read_measured(pairs: Iterable[tuple[str, str]], units: Units) -> dict[str, Any]:
    """What came after a step, by the keys of `measured`; empty where nothing was told."""
    return _Reading(units)._specs(_tree(pairs), fields.table("measured"))


def read_measured_steps(pairs: Iterable[tuple[str, str]], units: Units) -> dict[int, dict[str, Any]]:
    """The same of several steps at once, by their places from 0, of which something was told."""
    rows = _rows(_tree(pairs).get("steps"))
    found = {i: _Reading(units)._specs(_table(row, "measured"), fields.table("measured")) for i, row in rows}
    return {place: measured for place, measured in found.items() if measured}


class _Reading:
    def __init__(self, units: Units) -> None:
        self.units: Units = units
        self.renamed: dict[str, str] = {}
        self.row_names: dict[int, str] = {}

    def recipe(self, tree: Tree) -> dict[str, Any]:
        draft: dict[str, Any] = {"format": FORMAT, "title": _text(tree, "title")}
        draft["steels"] = self._steels(_rows(tree.get("steels")))
        draft["stack"] = self._stack(_table(tree, "stack"))
        if steps := [self._step(row) for _, row in _rows(tree.get("steps"))]:
            draft["steps"] = steps
        for key in ("forge", "blade", "control", "shop", "sheet"):
            told = self._specs(_table(tree, key), fields.table(key))
            if key == "shop" and (oils := self._oils(tree)):
                told["oils"] = oils
            if told or (key in ADDED and key in tree):
                draft[key] = told
        if mine := self._mine(_table(tree, MINE)):
            draft[MINE] = mine
        return draft

    def _mine(self, tree: Tree) -> dict[str, Any]:
        """The smith's own fire and oils; oils that are named and told no further get their class."""
        told = self._specs(tree, [spec for spec in fields.table("shop") if spec.key in OWN_KEYS])
        rows = (self._specs(row, fields.table("oils")) for _, row in _rows(tree.get("oils")))
        oils = oils_with_classes([row for row in rows if row])
        if _text(tree, WRITE):
            told[WRITE] = True
        return told | ({"oils": oils} if oils else {})

    def _oils(self, tree: Tree) -> list[Any]:
        rows = _rows(_table(tree, "shop").get("oils"))
        return [self._specs(row, fields.table("oils")) for _, row in rows]

    def _steels(self, rows: list[tuple[int, Tree]]) -> dict[str, Any] | list[Any]:
        named: list[tuple[str, Any]] = []
        for index, row in rows:
            name, was = _text(row, "key"), _text(row, "was")
            if _text(row, "auto") and name == was:
                name = _free_name(_text(row, "grade"), {other for other, _ in named}) or name
            if was and was != name:
                self.renamed[was] = name
            self.row_names[index] = name
            named.append((name, self._steel(row)))
        table = dict(named)
        if len(table) == len(named) and "" not in table:
            return table
        return [{"key": name, "is": value} for name, value in named]

    def _steel(self, row: Tree) -> Any:
        form = _text(row, "as") or "library"
        if form == "library":
            return _text(row, "grade")
        steel: dict[str, Any] = {fields.steel_specs(form)[0].key: ""} if form in fields.STEEL_KEYS else {}
        if form in fields.STEEL_KEYS:
            steel |= self._specs(row, fields.steel_specs(form))
        wt = _table(row, "wt")
        analysis = {element: _number(_text(wt, element), "%") for element in ELEMENTS if _text(wt, element)}
        if analysis:
            steel["wt"] = analysis
        if harden := [self._temperature(text) for text in _texts(row.get("harden_c"))]:
            steel["harden_c"] = harden
        return steel

    def _stack(self, tree: Tree) -> dict[str, Any]:
        stack = self._specs(tree, fields.table("stack"))
        if _text(tree, "layout") == "plates":
            stack["plates"] = [self._plate(row) for _, row in _rows(tree.get("plates"))]
            return stack
        stack["pattern"] = [self._steel_name(text) for text in _listed(tree.get("pattern"))]
        if count := _text(tree, "count"):
            stack["count"] = _number(count)
        stack["thickness_mm"] = {
            self.row_names[index]: self._length(text)
            for index, text in _indexed(tree.get("thickness_mm"))
            if text and index in self.row_names
        }
        return stack

    def _plate(self, row: Tree) -> dict[str, Any]:
        return self._specs(row, fields.table("plates"))

    def _step(self, row: Tree) -> dict[str, Any]:
        do = _text(row, "do")
        step: dict[str, Any] = {"do": do}
        if do not in fields.step_words():
            return step
        step |= self._specs(row, fields.table(f"steps.{do}"))
        if do == "restack":
            step |= self._arrangement(row)
        if note := _text(row, "note"):
            step["note"] = note
        self._told(row, step)
        if measured := self._specs(_table(row, "measured"), fields.table("measured")):
            step["measured"] = measured
        return step

    def _told(self, row: Tree, step: dict[str, Any]) -> None:
        """Which figures are still as the page proposed them, and how else the reach of a draw is told."""
        told: dict[str, Any] = {}
        was = _json_texts(_text(row, TOLD))
        untouched = [key.partition("[")[0] for key, text in was.items() if _plain_text(row, key) == text]
        if untouched:
            told["proposed"] = list(dict.fromkeys(untouched))
        if step["do"] == "draw" and (reach := self._reach(row)):
            told |= reach
        if told:
            step[TOLD] = told

    def _reach(self, row: Tree) -> dict[str, Any]:
        if times := _text(row, "times"):
            return {"times": _number(times)}
        length = _text(row, "to_length")
        return {"length_mm": self._length(length)} if length else {}

    def _arrangement(self, row: Tree) -> dict[str, Any]:
        if _text(row, "arrange") != "lay":
            order = _text(row, "order")
            return {"order": order} if order else {}
        lay: list[Any] = []
        for _, item in _rows(row.get("lay")):
            what = _text(item, "what")
            lay.append(self._plate(item) if what == "plate" else what)
        return {"lay": lay}

    def _specs(self, tree: Tree, specs: Iterable[Spec]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for spec in specs:
            if spec.ends is not None:
                value = self._pair(spec, tree.get(spec.key))
            elif spec.many:
                ticked = (self.row_names.get(index) for index, text in _indexed(tree.get(spec.key)) if text)
                value = [name for name in ticked if name is not None] or None
            elif spec.kind == "flag":
                on = bool(_text(tree, spec.key))
                value = None if on == spec.initial_on else on
            else:
                value = self._value(spec, _text(tree, spec.key))
            if value is not None:
                found[spec.key] = value
        return found

    def _value(self, spec: Spec, text: str) -> Any:
        if not text:
            return None
        if spec.kind == "length":
            return self._length(text)
        if spec.kind == "temperature":
            return self._temperature(text)
        if spec.kind == "difference":
            return _read(quantities.read_difference_k, text, self.units)
        if spec.kind in ("number", "whole"):
            return _number(text, spec.unit)
        return self._steel_name(text) if spec.kind == "steel" else text

    def _pair(self, spec: Spec, tree: Any) -> Any:
        ends = [self._value(spec, text) for text in _texts(tree)]
        if not ends:
            return None
        filled = ["" if end is None else end for end in ends]
        return filled[0] if len(filled) == 2 and filled[0] == filled[1] else filled

    def _length(self, text: str) -> Any:
        return _read(quantities.read_length_mm, text, self.units)

    def _temperature(self, text: str) -> Any:
        return _read(quantities.read_temperature_c, text, self.units)

    def _steel_name(self, text: str) -> str:
        return self.renamed.get(text, text)


def _number(text: str, unit: str = "") -> Any:
    return _read(quantities.read_number, text, unit)


def _read(reader: Callable[[str, Any], float], text: str, told: str) -> Any:
    """What the reader makes of the text; the text itself where it is no quantity."""
    try:
        return quantities.shortest(reader(text, told))
    except quantities.NotAQuantity:
        return text


def _free_name(grade: str, taken: set[str]) -> str:
    """The grade as the name of its steel; another steel of the same grade is numbered."""
    name, number = grade[:NAME_LONGEST], 2
    while name in taken:
        name, number = f"{grade[:NAME_LONGEST]} {number}", number + 1
    return name


def _json_texts(text: str) -> dict[str, str]:
    """A hidden text of names and texts; empty where it was tampered with."""
    try:
        found = json.loads(text) if text else {}
    except (ValueError, RecursionError):
        return {}
    if not isinstance(found, dict):
        return {}
    return {key: value for key, value in found.items() if isinstance(value, str)}


def _plain_text(row: Tree, key: str) -> str:
    """The text of a field, or of the first of a pair."""
    name, pair, _ = key.partition("[")
    if not pair:
        return _text(row, key)
    listed = _listed(row.get(name))
    return listed[0] if listed else ""


def _tree(pairs: Iterable[tuple[str, str]]) -> Tree:
    """`steps[3].note` = "12" becomes {"steps": {3: {"note": "12"}}}; lists are keyed by number."""
    root: Tree = {}
    for name, text in pairs:
        parts = [word or int(number) for word, number in PART.findall(name)]
        if not parts or len(parts) > DEEPEST_NAME or PART.sub("", name):
            continue
        node: Any = root
        for part in parts[:-1]:
            node = node.setdefault(part, {}) if isinstance(node, dict) else None
        if isinstance(node, dict) and not isinstance(node.get(parts[-1]), dict):
            node[parts[-1]] = text.strip()
    return root


def _table(tree: Tree, key: str) -> Tree:
    inner = tree.get(key)
    return inner if isinstance(inner, dict) else {}


def _text(tree: Mapping[Any, Any], key: str) -> str:
    value = tree.get(key)
    return value if isinstance(value, str) else ""


def _indexed(tree: Any) -> list[tuple[int, str]]:
    """Texts of a numbered list, in order."""
    if not isinstance(tree, dict):
        return []
    return sorted((k, v) for k, v in tree.items() if isinstance(k, int) and isinstance(v, str))


def _listed(tree: Any) -> list[str]:
    return [text for _, text in _indexed(tree)]


def _texts(tree: Any) -> list[str]:
    """The texts of a pair, an empty list where both are empty."""
    listed = _listed(tree)
    return listed if any(listed) else []


def _rows(tree: Any) -> list[tuple[int, Tree]]:
    """Tables of a numbered list, in order, with their numbers."""
    if not isinstance(tree, dict):
        return []
    return sorted(
        ((k, v) for k, v in tree.items() if isinstance(k, int) and isinstance(v, dict)),
        key=lambda row: row[0],
    )
