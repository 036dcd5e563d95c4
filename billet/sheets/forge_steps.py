"""The rows of the forge schedule: one step each, with what is checked, cut and written beside it."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.sheets.forge_fires import fire_words
from billet.sheets.model import BLANK, BOX, EMPTY, Cells, Section, table
from billet.wording import Units
from billet.workflow.report import Report, ScheduleRow

COLUMNS = (
    "Step",
    "Heat",
    "Work",
    "Bar after, cold: h × w × l",
    "Layers laid / seen",
    "Done",
    "Came to",
)
ORDERS: dict[str | None, str] = {
    "same": "all the same way up",
    "turned": "every second one turned over",
}
WELD_CHECK = "Weld sound all round? If not, weld again and add nothing."
Step = Mapping[str, Any]


def steps_section(report: Report, units: Units) -> Section:
    """Every step from the first fire to the finished bar."""
    rows: list[Cells] = []
    for row in report.schedule[1:]:
        step = report.recipe["steps"][row.step - 1]
        rows.append(_step_row(report, row, step, units))
        rows += _beside(row, step, units)
    fires = sum(row.heats or 0 for row in report.schedule)
    heading = f"{wording.count(len(report.schedule) - 1, 'step')}, {wording.count(fires, 'heat')}"
    return table(heading, COLUMNS, rows)


def _step_row(report: Report, row: ScheduleRow, step: Step, units: Units) -> Cells:
    heat = wording.temperature(row.temperature_c) if row.temperature_c is not None else EMPTY
    bar = wording.size(row.height_mm, row.width_mm, row.length_mm, units)
    layers = f"{row.layers_laid} / {row.layers_visible}"
    work = _work(report, row, step, units)
    return (str(row.step), heat, work, f"{bar}, loose" if row.loose else bar, layers, BOX, BLANK)


def _work(report: Report, row: ScheduleRow, step: Step, units: Units) -> str:
    if row.temperature_c is not None:
        return _hot_work(report, row, step, units)
    if row.do == "restack":
        return restack_words(row, step, units)
    if row.do == "grind":
        return _grind(step, units)
    if row.do == "crop":
        return f"Cut the ends off, {wording.length(row.length_mm, units)} stays"
    return "Turn the bar on edge: its width becomes its height"


def _hot_work(report: Report, row: ScheduleRow, step: Step, units: Units) -> str:
    """The fires of the step, then the size to stop at in each of them."""
    fire = fire_words(report, row, step)
    if row.do == "weld":
        pressed = (row.reduction or 0.0) > 0.0
        return f"Weld: {fire}; " + (
            f"press to {_heights(row, units)}" if pressed else "set it, no pressing"
        )
    if row.do == "draw":
        return f"Draw: {fire}; height to {_heights(row, units)}{_width(report, row, units)}"
    if row.do == "upset":
        return f"Upset: {fire}; length to {_lengths(row, units)}"
    return f"{wording.capital(str(step.get('what', row.do)))}: {fire}"


def _heights(row: ScheduleRow, units: Units) -> str:
    """Where to stop in each fire: "22.3, 17.7, 12 mm"."""
    return wording.lengths([heat.height_mm for heat in row.each_heat] or [row.height_mm], units)


def _lengths(row: ScheduleRow, units: Units) -> str:
    return wording.lengths([heat.length_mm for heat in row.each_heat] or [row.length_mm], units)


def _width(report: Report, row: ScheduleRow, units: Units) -> str:
    """Told where forging is to change it."""
    before = report.schedule[row.step - 1]
    if abs(row.width_mm - before.width_mm) <= 0.05 * before.width_mm:
        return ""
    return f", width to {wording.length(row.width_mm, units)}"


def _grind(step: Step, units: Units) -> str:
    face, side = float(step.get("per_face_mm") or 0.0), float(step.get("side_mm") or 0.0)
    parts = [f"{wording.length(face, units)} off top and bottom"] if face > 0.0 else []
    parts += [f"{wording.length(side, units)} off each side"] if side > 0.0 else []
    return f"Grind {wording.listed(parts)}, bright all over"


def restack_words(row: ScheduleRow, step: Step, units: Units) -> str:
    """How the bar is cut and laid again."""
    piece = wording.length(row.piece_mm or row.length_mm, units)
    order = step.get("order")
    if order == "folded":
        return f"Fold in {step['pieces']}, {piece} each, zigzag"
    start = f"Cut {step['pieces']} pieces of {piece}"
    if step.get("lay") is not None:
        return f"{start}; lay from the bottom up: {lay_words(step['lay'], units)}"
    return f"{start}; stack, {ORDERS.get(order, '')}"


def lay_words(items: Any, units: Units) -> str:
    """What lies on what: "piece, core 4 mm, piece turned over"."""
    words = {"piece": "piece", "turned": "piece turned over"}
    return ", ".join(
        words.get(item, item)
        if isinstance(item, str)
        else f"{item['steel']} {wording.stock(float(item['thickness_mm']), units)}"
        for item in items
    )


def _beside(row: ScheduleRow, step: Step, units: Units) -> list[Cells]:
    """Rows below a step: its note, its cut marks, the check of its weld."""
    found: list[Cells] = []
    if row.cut_marks_mm:
        found.append((EMPTY, _marks(row, step, units), BOX, BLANK))
    if row.note:
        found.append((EMPTY, f"Note: {row.note}"))
    if row.do == "weld":
        found.append((EMPTY, WELD_CHECK, BOX, BLANK))
    return found


def _marks(row: ScheduleRow, step: Step, units: Units) -> str:
    """Where to mark, from the handle end of the bar before the cut."""
    folded = step.get("order") == "folded"
    marks = f"Mark {'folds' if folded else 'cuts'} at {wording.lengths(row.cut_marks_mm, units)} from the handle end"
    kerf = float(step.get("kerf_mm") or 0.0)
    return (
        marks
        if folded or kerf <= 0.0
        else f"{marks}; saw on the far side, {wording.length(kerf, units)} wide"
    )
