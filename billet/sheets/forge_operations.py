"""One step of the schedule as the anvil needs it: heat, order, sizes to stop at, what comes of it."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.contract.report import Report, ScheduleRow
from billet.sheets.drawn import BarFigure, Course, Operation, StackFigure, Stop
from billet.sheets.forge_proposed import MARK, is_proposed, mark, marked_apart
from billet.sheets.forge_steps import assumed, hand_word, order_words, stops_of, then_words
from billet.sheets.model import BLANK, BOX, EMPTY, Cells
from billet.wording import Units

SOUND = "Sound? If not, weld again"


def operation(report: Report, row: ScheduleRow, units: Units) -> Operation:
    """The step of this row, worded."""
    step = report.recipe["steps"][row.step - 1]
    to, sizes = stops_of(report, row)
    real = wording.bench_size(row.height_mm, row.width_mm, row.length_mm, units)
    planned = None if row.planned_mm is None else wording.bench_size(*row.planned_mm, units)
    return Operation(
        number=row.step,
        do=row.do,
        hand=hand_word(row, step),
        heat=None if row.temperature_c is None else _heat(row.temperature_c, units),
        order=order_words(report, row, step, units),
        to=f"{to}{mark(report, row.step, f'{to}_mm')}" if to else "",
        stops=tuple(_stop(mm, hot, units) for mm, hot in sizes),
        then=tuple(then_words(report, row, step, units)),
        check=SOUND if row.do == "weld" else "",
        note=row.note or "",
        bar=planned or real,
        long=f"{wording.bench_mark((row.planned_mm or (row.length_mm,))[-1], units)} long",
        layers=_layers(row),
        seen=wording.count(row.layers_visible, "layer"),
        figure=_figure(report, row, step),
        marks=len(row.cut_marks_mm),
        assumed=assumed(report, row.step) or marked_apart(report, row.step),
        heat_proposed=is_proposed(report, row.step, "temperature_c"),
        came_to="" if planned is None else real,
    )


def operation_cells(made: Operation) -> list[Cells]:
    """The same as rows of a table: the step, below it how it is done; a weld's gate has its own box."""
    heat = " / ".join(made.heat) if made.heat is not None else "cold"
    heat += MARK if made.heat_proposed else ""
    star = MARK if made.assumed else ""
    rows: list[Cells] = [
        (f"{made.number}\u00a0{made.do}{star}", heat, made.bar, made.layers, BOX, made.came_to or BLANK)
    ]
    hand = f"{made.hand} {made.order}" if made.hand != made.do else made.order
    rows += [(EMPTY, line) for line in (hand, _stops(made), *made.then) if line]
    if made.check:
        rows.append((EMPTY, made.check, BOX, BLANK))
    if made.note:
        rows.append((EMPTY, f"Note: {made.note}"))
    return rows


def _stops(made: Operation) -> str:
    if not made.stops:
        return ""
    sizes = "   ".join(f"{_cold(s)}{' (hot ' + s.hot + ')' if s.hot else ''} [ ]" for s in made.stops)
    return f"{made.to} to {sizes}"


def _cold(stop: Stop) -> str:
    return f"{stop.cold} = {stop.decimal}" if stop.decimal else stop.cold


def _heat(celsius: float, units: Units) -> tuple[str, str]:
    first, second = wording.temperature_lines(celsius)
    return (second, first) if units == "inch" else (first, second)


def _stop(mm: float, hot: float | None, units: Units) -> Stop:
    fraction, decimal = wording.bench_parts(mm, units)
    if hot is None:
        return Stop(fraction, decimal, "")
    whole, thousandths = wording.bench_parts(mm * hot, units)
    return Stop(fraction, decimal, thousandths or whole)


def _layers(row: ScheduleRow) -> str:
    if row.layers_laid == row.layers_visible:
        return wording.count(row.layers_visible, "layer")
    return f"{row.layers_visible} of {row.layers_laid} layers"


def _figure(report: Report, row: ScheduleRow, step: Mapping[str, Any]) -> BarFigure | StackFigure:
    if row.loose:
        return pile_figure(report, row.step)
    return BarFigure(row.step, row.height_mm, row.width_mm, row.length_mm, row.layers)


def pile_figure(report: Report, place: int) -> StackFigure:
    """The pile of this row of the schedule: plates of the stack, or what a restack has laid."""
    row = report.schedule[place]
    size = (place, row.height_mm, row.width_mm, row.length_mm)
    if place == 0:
        items = report.recipe["stack"].get("plates") or ()
        if any("steel" not in item for item in items):
            return StackFigure(*size, tuple(_course(report, item) for item in items))
        courses = tuple(Course(mm, ((name, mm),), piece=False) for name, mm in row.layers)
        return StackFigure(*size, courses)
    return StackFigure(*size, tuple(_courses(report, place)))


def _courses(report: Report, place: int) -> list[Course]:
    """What the restack of this row has laid, bottom up."""
    before, step = report.schedule[place - 1], report.recipe["steps"][place - 1]
    turned = tuple(reversed(before.layers))
    laid = step.get("lay")
    if laid is None:
        every_second = step.get("order") in {"turned", "folded"}
        laid = ["turned" if every_second and i % 2 else "piece" for i in range(int(step.get("pieces", 1)))]
    found = []
    for item in laid:
        if isinstance(item, str):
            over = item == "turned"
            found.append(Course(before.height_mm, turned if over else before.layers, True, over))
        else:
            found.append(_course(report, item))
    return found


def _course(report: Report, item: Mapping[str, Any]) -> Course:
    """A plate, a bar made first, or a course of bars side by side, whose layers are not drawn."""
    if "steel" in item:
        mm = float(item["thickness_mm"])
        return Course(mm, ((str(item["steel"]), mm),), piece=False)
    name = item["bar"] if "bar" in item else item["beside"][0]
    last = next(bar for bar in report.bars if bar.name == name).schedule[-1]
    over = bool(item.get("turned"))
    layers = last.layers if "bar" in item else ()
    return Course(last.height_mm, tuple(reversed(layers)) if over else layers, True, over)
