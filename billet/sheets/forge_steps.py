"""The words of one step: what the hand does, where to stop, how pieces lie."""

from collections.abc import Mapping, Sequence
from typing import Any

from billet import wording
from billet.contract.report import HeatSize, Report, ScheduleRow
from billet.sheets.forge_assumed import is_assumed
from billet.sheets.forge_fires import fire_words
from billet.sheets.forge_pattern import CUT, PATTERN, cut_words, pattern_words, ruler_words
from billet.wording import Units

ORDERS: dict[str | None, str] = {"same": "all the same way up", "turned": "every second one turned over"}
NEW_WIDTH = 0.05
"""A width that changes by less than this share is not worth a word."""
Step = Mapping[str, Any]
Sizes = tuple[str, list[tuple[float, float | None]]]


def order_words(report: Report, row: ScheduleRow, step: Step, units: Units) -> str:
    """What the hand does, in one line: "12 min, flux", "4 of 97.5 mm, stack all the same way up"."""
    if row.temperature_c is None:
        return _cold(row, step, units)
    fire = fire_words(report, row, step)
    if row.do in PATTERN:
        return f"{fire}; {pattern_words(report, row, step, units)}"
    if row.do == "other":
        return f"{step.get('what', row.do)}; {fire}"
    if row.do == "weld" and not _pressed(row):
        return f"{fire}; set it, no pressing"
    return fire


def hand_word(row: ScheduleRow, step: Step) -> str:
    """The step as the hand knows it: a restack is a cut or a fold."""
    if row.do == "restack":
        return "fold" if step.get("order") == "folded" else "cut"
    return row.do


def stops_of(report: Report, row: ScheduleRow) -> Sizes:
    """What is measured at the end of each heat, and the sizes to stop at with the hot one's ratio."""
    if row.do == "draw" or (row.do == "weld" and _pressed(row)):
        return "height", [(heat.height_mm, heat.hot) for heat in _heats(row)]
    if row.do == "upset":
        return "length", [(heat.length_mm, heat.hot) for heat in _heats(row)]
    return "", []


def then_words(report: Report, row: ScheduleRow, step: Step, units: Units) -> list[str]:
    """What comes with it: a new width; where to mark grooves, hollows and a die."""
    width = _width(report, row, units) if row.do == "draw" and row.temperature_c is not None else ""
    return [words for words in (width, ruler_words(row, units)) if words]


def assumed(report: Report, number: int) -> bool:
    """Whether the number of heats of a draw was filled in and never told."""
    return is_assumed(report, number, "heats") and report.schedule[number].do != "weld"


def _pressed(row: ScheduleRow) -> bool:
    return (row.reduction or 0.0) > 0.0


def _heats(row: ScheduleRow) -> Sequence[HeatSize]:
    return row.each_heat or (HeatSize(row.height_mm, row.length_mm),)


def _cold(row: ScheduleRow, step: Step, units: Units) -> str:
    """What is cut or ground, in the place of the heat."""
    if row.do == "restack":
        told = f"{int(step['pieces'])} of {wording.bench_length(row.piece_mm or row.length_mm, units)}"
        return ", ".join(part for part in (told, _order(step, units)) if part)
    if row.do == "grind":
        return _grind(step, units)
    if row.do == "crop":
        return f"ends off, {wording.bench_length(row.length_mm, units)} stays"
    if row.do in CUT:
        return cut_words(row, step, units)
    return "on end: length becomes height" if row.do == "stand" else "on edge: width becomes height"


def _grind(step: Step, units: Units) -> str:
    face, side = float(step.get("per_face_mm") or 0.0), float(step.get("side_mm") or 0.0)
    parts = [f"{wording.bench_length(face, units)} off each face"] if face > 0.0 else []
    parts += [f"{wording.bench_length(side, units)} off each side"] if side > 0.0 else []
    return wording.listed(parts)


def _width(report: Report, row: ScheduleRow, units: Units) -> str:
    """Told where forging is to change it."""
    before = report.schedule[row.step - 1]
    if abs(row.width_mm - before.width_mm) <= NEW_WIDTH * before.width_mm:
        return ""
    return f"width to {wording.bench_mark(row.width_mm, units)}"


def _order(step: Step, units: Units) -> str:
    """How pieces are laid; nothing for a step that lays none."""
    if step.get("lay") is not None:
        return f"lay from the bottom up: {lay_words(step['lay'], units)}"
    order = step.get("order")
    return f"stack {ORDERS[order]}" if order in ORDERS else ""


def lay_words(items: Any, units: Units) -> str:
    """What lies on what: "piece, core 4 mm, piece turned over"."""
    words = {"piece": "piece", "turned": "piece turned over"}
    return ", ".join(words.get(item, item) if isinstance(item, str) else _laid(item, units) for item in items)


def _laid(item: Mapping[str, Any], units: Units) -> str:
    """A plate, a bar made first, or a course of them."""
    if "bar" in item:
        return f"bar {item['bar']}{' turned over' if item.get('turned') else ''}"
    if "beside" in item:
        return f"side by side bars {wording.listed(item['beside'])}"
    return f"{item['steel']} {wording.stock(float(item['thickness_mm']), units)}"
