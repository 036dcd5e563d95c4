"""The rows of the forge schedule: one step each, below it how it is done, cut and checked."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.contract.report import Report, ScheduleRow
from billet.sheets.forge_fires import fire_words
from billet.sheets.model import BLANK, BOX, EMPTY, Cells, Section, table
from billet.wording import Units

COLUMNS = ("Step", "Heat or cut", "Bar after, h × w × l", "Layers", "Done", "Came to")
ORDERS: dict[str | None, str] = {"same": "all the same way up", "turned": "every second one turned over"}
SOUND = "Sound all round? If not, weld again and add nothing"
NEW_WIDTH = 0.05
"""A width that changes by less than this share is not worth a word."""
Step = Mapping[str, Any]


def steps_section(report: Report, units: Units) -> Section:
    """Every step from the first fire to the finished bar."""
    rows: list[Cells] = []
    for row in report.schedule[1:]:
        step = report.recipe["steps"][row.step - 1]
        rows.append(_step_row(row, step, units))
        rows += _below(report, row, step, units)
    fires = sum(row.heats or 0 for row in report.schedule)
    steps = wording.count(len(report.schedule) - 1, "step")
    heading = f"{steps}, {wording.count(fires, 'heat')}; sizes cold, layers laid / to be seen"
    return table(heading, COLUMNS, rows)


def _step_row(row: ScheduleRow, step: Step, units: Units) -> Cells:
    if row.temperature_c is not None:
        heat = wording.temperature(row.temperature_c)
    else:
        heat = _cold(row, step, units)
    real = wording.size(row.height_mm, row.width_mm, row.length_mm, units)
    bar, came_to = (real, BLANK) if row.planned_mm is None else (wording.size(*row.planned_mm, units), real)
    layers = f"{row.layers_laid}\u00a0/\u00a0{row.layers_visible}"
    return (f"{row.step}\u00a0{row.do}", heat, bar, layers, BOX, came_to)


def _cold(row: ScheduleRow, step: Step, units: Units) -> str:
    """What is cut or ground, in the place of the heat."""
    if row.do == "restack":
        verb = "fold in" if step.get("order") == "folded" else "cut"
        return f"{verb} {step['pieces']} of {wording.length(row.piece_mm or row.length_mm, units)}"
    if row.do == "grind":
        return _grind(step, units)
    if row.do == "crop":
        return f"ends off, {wording.length(row.length_mm, units)} stays"
    return "on edge: width becomes height"


def _grind(step: Step, units: Units) -> str:
    face, side = float(step.get("per_face_mm") or 0.0), float(step.get("side_mm") or 0.0)
    parts = [f"{wording.length(face, units)} off each face"] if face > 0.0 else []
    parts += [f"{wording.length(side, units)} off each side"] if side > 0.0 else []
    return wording.listed(parts)


def _below(report: Report, row: ScheduleRow, step: Step, units: Units) -> list[Cells]:
    """The rows below a step: how it is done, its note; the gate of a weld has a box of its own."""
    found: list[Cells] = []
    words = _how(report, row, step, units)
    if row.do == "weld":
        found.append((EMPTY, f"{words}. {SOUND}", BOX, BLANK))
    elif words:
        found.append((EMPTY, words))
    if row.note:
        found.append((EMPTY, f"Note: {row.note}"))
    return found


def _how(report: Report, row: ScheduleRow, step: Step, units: Units) -> str:
    """The fires and the size to stop at in each; the marks of a cut."""
    if row.temperature_c is None:
        return "; ".join(part for part in (_marks(row, step, units), _order(step, units)) if part)
    fire = fire_words(report, row, step)
    if row.do == "weld":
        pressed = (row.reduction or 0.0) > 0.0
        return f"{fire}; " + (f"press to {_heights(row, units)}" if pressed else "set it, no pressing")
    if row.do == "draw":
        return f"{fire}; height to {_heights(row, units)}{_width(report, row, units)}"
    if row.do == "upset":
        lengths = [heat.length_mm for heat in row.each_heat] or [row.length_mm]
        return f"{fire}; length to {wording.lengths(lengths, units)}"
    return f"{step.get('what', row.do)}: {fire}"


def _heights(row: ScheduleRow, units: Units) -> str:
    """Where to stop in each fire: "22.3, 17.7, 12 mm"."""
    return wording.lengths([heat.height_mm for heat in row.each_heat] or [row.height_mm], units)


def _width(report: Report, row: ScheduleRow, units: Units) -> str:
    """Told where forging is to change it."""
    before = report.schedule[row.step - 1]
    if abs(row.width_mm - before.width_mm) <= NEW_WIDTH * before.width_mm:
        return ""
    return f", width to {wording.length(row.width_mm, units)}"


def _order(step: Step, units: Units) -> str:
    """How pieces are laid; nothing for a step that lays none."""
    if step.get("lay") is not None:
        return f"lay from the bottom up: {lay_words(step['lay'], units)}"
    order = step.get("order")
    return f"stack {ORDERS[order]}" if order in ORDERS else ""


def lay_words(items: Any, units: Units) -> str:
    """What lies on what: "piece, core 4 mm, piece turned over"."""
    words = {"piece": "piece", "turned": "piece turned over"}
    return ", ".join(
        words.get(item, item)
        if isinstance(item, str)
        else f"{item['steel']} {wording.stock(float(item['thickness_mm']), units)}"
        for item in items
    )


def _marks(row: ScheduleRow, step: Step, units: Units) -> str:
    """Where to mark, from the handle end of the bar before the cut."""
    if not row.cut_marks_mm:
        return ""
    folded = step.get("order") == "folded"
    at = wording.lengths(row.cut_marks_mm, units)
    marks = f"mark {'folds' if folded else 'cuts'} at {at} from the handle end"
    kerf = float(step.get("kerf_mm") or 0.0)
    return marks if folded or kerf <= 0.0 else f"{marks}, saw beyond them ({wording.length(kerf, units)})"
