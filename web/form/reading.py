"""Form fields to the mapping of a recipe, complete or not.

A text that cannot be read stays in the mapping as it was written: the address can then carry the
draft, and the check of the recipe names the place. Empty fields are left out, so defaults hold.
"""

import json
from collections.abc import Callable, Iterable
from typing import Any

from billet import ELEMENTS, OWN_KEYS, oils_with_classes, quantities
from web.form import fields
from web.form.fields import Spec
from web.form.own_shop import WRITE
from web.form.proposing import MINE, THEIRS, TOLD
from web.form.texts import named
from web.form.tree import Tree, indexed, listed, rows_at, table_at, text_at, texts_at, tree_of
from web.http.links import Units

FORMAT = 1
ADDED = ("blade", "shop")
"""Tables that a button adds; they may stand there empty."""
NAME_LONGEST = 36


def read_form(pairs: Iterable[tuple[str, str]], units: Units) -> dict[str, Any]:
    """The draft that the fields say. Fields of other names are ignored; no fault is raised here."""
    return _Reading(units).recipe(tree_of(pairs))


def read_measured(pairs: Iterable[tuple[str, str]], units: Units) -> dict[str, Any]:
    """What came after a step, by the keys of `measured`; empty where nothing was told."""
    return _Reading(units)._specs(tree_of(pairs), fields.table("measured"))


class _Reading:
    def __init__(self, units: Units) -> None:
        self.units: Units = units
        self.renamed: dict[str, str] = {}
        self.row_names: dict[int, str] = {}
        self.renamed_bars: dict[str, str] = {}

    def recipe(self, tree: Tree) -> dict[str, Any]:
        draft: dict[str, Any] = {"format": FORMAT, "title": text_at(tree, "title")}
        draft["steels"] = self._steels(rows_at(tree.get("steels")))
        if bars := self._bars(rows_at(tree.get("bars"))):
            draft["bars"] = bars
        draft |= self._part(tree)
        for key in ("forge", "blade", "control", "shop", "sheet"):
            told = self._specs(table_at(tree, key), fields.table(key))
            if key == "shop" and (oils := self._oils(tree)):
                told["oils"] = oils
            if told or (key in ADDED and key in tree):
                draft[key] = told
        if text_at(tree, THEIRS):
            draft[THEIRS] = True
        if mine := self._mine(table_at(tree, MINE)):
            draft[MINE] = mine
        return draft

    def _part(self, tree: Tree) -> dict[str, Any]:
        """Stack and steps: of the bar, or of one that is made first."""
        part: dict[str, Any] = {"stack": self._stack(table_at(tree, "stack"))}
        if steps := [self._step(row) for _, row in rows_at(tree.get("steps"))]:
            part["steps"] = steps
        return part

    def _bars(self, rows: list[tuple[int, Tree]]) -> dict[str, Any] | list[Any]:
        for _, row in rows:
            self.renamed_bars[text_at(row, "was")] = text_at(row, "key")
        return named([(text_at(row, "key"), self._part(row)) for _, row in rows])

    def _mine(self, tree: Tree) -> dict[str, Any]:
        """The smith's own fire and oils; oils that are named and told no further get their class."""
        told = self._specs(tree, [spec for spec in fields.table("shop") if spec.key in OWN_KEYS])
        rows = (self._specs(row, fields.table("oils")) for _, row in rows_at(tree.get("oils")))
        oils = oils_with_classes([row for row in rows if row])
        if text_at(tree, WRITE):
            told[WRITE] = True
        return told | ({"oils": oils} if oils else {})

    def _oils(self, tree: Tree) -> list[Any]:
        rows = rows_at(table_at(tree, "shop").get("oils"))
        return [self._specs(row, fields.table("oils")) for _, row in rows]

    def _steels(self, rows: list[tuple[int, Tree]]) -> dict[str, Any] | list[Any]:
        found: list[tuple[str, Any]] = []
        for index, row in rows:
            name, was = text_at(row, "key"), text_at(row, "was")
            if text_at(row, "auto") and name == was:
                name = _free_name(text_at(row, "grade"), {other for other, _ in found}) or name
            if was and was != name:
                self.renamed[was] = name
            self.row_names[index] = name
            found.append((name, self._steel(row)))
        return named(found)

    def _steel(self, row: Tree) -> Any:
        form = text_at(row, "as") or "library"
        if form == "library":
            return text_at(row, "grade")
        steel: dict[str, Any] = {fields.steel_specs(form)[0].key: ""} if form in fields.STEEL_KEYS else {}
        if form in fields.STEEL_KEYS:
            steel |= self._specs(row, fields.steel_specs(form))
        wt = table_at(row, "wt")
        analysis = {
            element: _number(text_at(wt, element), "%") for element in ELEMENTS if text_at(wt, element)
        }
        if analysis:
            steel["wt"] = analysis
        if harden := [self._temperature(text) for text in texts_at(row.get("harden_c"))]:
            steel["harden_c"] = harden
        return steel

    def _stack(self, tree: Tree) -> dict[str, Any]:
        stack = self._specs(tree, fields.table("stack"))
        if text_at(tree, "layout") == "plates":
            stack["plates"] = [self._laid(row) for _, row in rows_at(tree.get("plates"))]
            return stack
        stack["pattern"] = [self._steel_name(text) for text in listed(tree.get("pattern"))]
        if count := text_at(tree, "count"):
            stack["count"] = _number(count)
        stack["thickness_mm"] = {
            self.row_names[index]: self._length(text)
            for index, text in indexed(tree.get("thickness_mm"))
            if text and index in self.row_names
        }
        return stack

    def _laid(self, row: Tree) -> dict[str, Any]:
        """A plate, a bar that was made first, or a course of such bars."""
        kind = text_at(row, "laid")
        if kind == "bar":
            return {"bar": "", **self._specs(row, fields.table("bar"))}
        if kind == "beside":
            return {"beside": [self._bar_name(text) for text in listed(row.get("beside")) if text]}
        return self._specs(row, fields.table("plates"))

    def _step(self, row: Tree) -> dict[str, Any]:
        do = text_at(row, "do")
        step: dict[str, Any] = {"do": do}
        if do not in fields.step_words():
            return step
        step |= self._specs(row, fields.table(f"steps.{do}"))
        if do == "restack":
            step |= self._arrangement(row)
        if note := text_at(row, "note"):
            step["note"] = note
        self._told(row, step)
        if measured := self._specs(table_at(row, "measured"), fields.table("measured")):
            step["measured"] = measured
        return step

    def _told(self, row: Tree, step: dict[str, Any]) -> None:
        """Which figures are still as the page proposed them, and how else the reach of a draw is told."""
        told: dict[str, Any] = {}
        was = _json_texts(text_at(row, TOLD))
        untouched = [key.partition("[")[0] for key, text in was.items() if _plain_text(row, key) == text]
        if untouched:
            told["proposed"] = list(dict.fromkeys(untouched))
        if step["do"] == "draw" and (reach := self._reach(row)):
            told |= reach
        if told:
            step[TOLD] = told

    def _reach(self, row: Tree) -> dict[str, Any]:
        if times := text_at(row, "times"):
            return {"times": _number(times)}
        length = text_at(row, "to_length")
        return {"length_mm": self._length(length)} if length else {}

    def _arrangement(self, row: Tree) -> dict[str, Any]:
        if text_at(row, "arrange") != "lay":
            order = text_at(row, "order")
            return {"order": order} if order else {}
        lay: list[Any] = []
        for _, item in rows_at(row.get("lay")):
            what = text_at(item, "what")
            lay.append(self._laid(item) if what == "plate" else what)
        return {"lay": lay}

    def _specs(self, tree: Tree, specs: Iterable[Spec]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for spec in specs:
            if spec.ends is not None:
                value = self._pair(spec, tree.get(spec.key))
            elif spec.many:
                ticked = (self.row_names.get(index) for index, text in indexed(tree.get(spec.key)) if text)
                value = [name for name in ticked if name is not None] or None
            elif spec.kind == "flag":
                on = bool(text_at(tree, spec.key))
                value = None if on == spec.initial_on else on
            else:
                value = self._value(spec, text_at(tree, spec.key))
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
        if spec.kind == "bar":
            return self._bar_name(text)
        return self._steel_name(text) if spec.kind == "steel" else text

    def _pair(self, spec: Spec, tree: Any) -> Any:
        ends = [self._value(spec, text) for text in texts_at(tree)]
        if not ends:
            return None
        filled = ["" if end is None else end for end in ends]
        return filled[0] if len(filled) == 2 and filled[0] == filled[1] else filled

    def _length(self, text: str) -> Any:
        return _read(quantities.read_length_mm, text, self.units)

    def _temperature(self, text: str) -> Any:
        return _read(quantities.read_temperature_c, text, self.units)

    def _bar_name(self, text: str) -> str:
        return self.renamed_bars.get(text, text)

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
        return text_at(row, key)
    found = listed(row.get(name))
    return found[0] if found else ""
