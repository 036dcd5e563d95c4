"""The drawings of a sheet, made from its figures, and how high each stands on paper."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from billet import (
    BarFigure,
    CutFigure,
    FaceFigure,
    Operation,
    Report,
    Section,
    Sheet,
    StackFigure,
    Stop,
    WindowFigure,
    wording,
)
from web.charts.paper import cut_ruler, end_scale, ruler_scale, stack_drawing, step_drawing, windows_drawing
from web.charts.paper.sheet import DrawingScale
from web.letter_widths import POINT_MM, line_count, width_mm

STACK_ROOM_MM = (72.0, 34.0)
SMALL_STACK_ROOM_MM = (60.0, 27.0)


def figure_drawing(
    section: Section, report: Report, key: str, units: wording.Units, small: bool = False
) -> Markup:
    """The drawing of a section; empty for a face, whose picture is made where it is shown."""
    figure = section.figure
    steels = [row.steel for row in report.steels]
    if isinstance(figure, StackFigure | BarFigure):
        room = SMALL_STACK_ROOM_MM if small else STACK_ROOM_MM
        return stack_drawing(figure, steels, key, units, room)
    if isinstance(figure, CutFigure):
        return cut_ruler(figure, key, units)
    if isinstance(figure, WindowFigure):
        return windows_drawing(figure, key, units)
    return Markup("")


def bars_scale(sheet: Sheet) -> DrawingScale:
    """The one scale at which the bars of all steps are drawn, on all sides of the sheet."""
    return end_scale([made for section in sheet.sections for made in section.operations])


def bar_drawing(made: Operation, report: Report, scale: DrawingScale, key: str) -> Markup:
    """The bar after a step at that scale."""
    if made.figure is None:
        return Markup("")
    return step_drawing(made.figure, [row.steel for row in report.steels], scale, key)


TALL_MM = 8.0
LONG_LETTERS = 17


def bar_is_tall(made: Operation, scale: DrawingScale) -> bool:
    """Whether the drawing of the bar leaves no room for words under it, or the words ask for more width."""
    tall = made.figure is not None and made.figure.height_mm * scale.ratio > TALL_MM
    return tall or len(made.bar) > LONG_LETTERS


FEW_STOPS = 3


def stops_in_table(made: Operation) -> bool:
    """Whether the sizes to stop at stand in columns; a few plain numbers stand one after another."""
    return len(made.stops) > (1 if any(stop.decimal for stop in made.stops) else FEW_STOPS)


def hand_room_mm(points: float) -> float:
    """The width of what the hand does, beside number, heat, bar and what came."""
    return 190.0 - 8.45 * points * POINT_MM - 34.0 * points / 12.0 - 16.0 - 8.0


def stop_rows(made: Operation, points: float) -> list[tuple[Stop, ...]]:
    """The stops in rows of equal length that the width has room for."""
    if not made.stops:
        return []
    widest = max(_stop_mm(stop, points) for stop in made.stops) + CLOSE_MM
    room = _stops_room_mm(points)
    rows = -(-len(made.stops) // max(int(room / max(widest, 8.5)), 1))
    each = -(-len(made.stops) // rows)
    return [made.stops[i : i + each] for i in range(0, len(made.stops), each)]


BOX_MM = 7.0
CLOSE_MM, APART_MM = 1.0, 2.0
"""Between two sizes to stop at: no less than the first; where there is room for it, the second."""


def stops_apart(made: Operation, points: float) -> bool:
    """Whether every row of the sizes has room for the wider gap."""
    rows = stop_rows(made, points)
    long = [sum(max(_stop_mm(stop, points), BOX_MM) + APART_MM for stop in row) for row in rows]
    return max(long) <= _stops_room_mm(points)


def _stops_room_mm(points: float) -> float:
    """The width of the sizes to stop at beside the word before their row."""
    return hand_room_mm(points) - width_mm("done", points) - 2.0


def _stop_mm(stop: Stop, points: float) -> float:
    """The width of a size to stop at; the parts of a fraction are set at two thirds."""
    whole, _, parts = stop.cold.rpartition(wording.NO_BREAK)
    if "/" not in parts:
        return width_mm(stop.cold, 1.5 * points)
    narrow = width_mm(whole, 1.5 * points) + width_mm(parts, points) + 0.5 * points * POINT_MM
    return max(narrow, width_mm(stop.decimal, points))


LONG_PLATE = 25


def words_under(pile: Section) -> bool:
    """Whether the words of a pile stand under its drawing: few, or too long to stand beside."""
    return len(pile.rows) < 3 or any(len(row[0]) > LONG_PLATE for row in pile.rows[:-1])


def cut_scale(section: Section) -> str:
    """The name of the scale of a ruler."""
    return ruler_scale(section.figure).name if isinstance(section.figure, CutFigure) else ""


HEIGHT = re.compile(r'height="([\d.]+)mm"')
FACE_MOST_MM = 34.0


@dataclass(frozen=True)
class Drawings:
    """The drawings of one sheet; `face_ratio` is width over height of the picture of the face, if any."""

    report: Report
    sheet: Sheet
    units: wording.Units
    cuts: Mapping[int, Section]
    many_steps: bool
    face_ratio: float | None

    def figure_mm(self, section: Section, points: float) -> float:
        """How high the drawing of a section stands, a face with its line below."""
        if isinstance(section.figure, FaceFigure):
            words = line_count(section.rows[0][0] + "; 0.3 mm ground off, 350 mm by 40 mm shown", 150.0, 12.0)
            picture = min(190.0 / self.face_ratio, FACE_MOST_MM) if self.face_ratio else 0.0
            return picture + words * 4.7 + 2.0
        return height_mm(figure_drawing(section, self.report, "measure", self.units, self.many_steps))

    def bar_mm(self, made: Operation) -> float:
        """How high the bar after a step stands, with the words that may stand under it."""
        scale = bars_scale(self.sheet)
        drawn = height_mm(bar_drawing(made, self.report, scale, "measure"))
        words = made.heat is not None and not bar_is_tall(made, scale)
        return drawn + (10.0 if words else 0.0)

    def cut_mm(self, made: Operation) -> float:
        """How high the ruler under a step stands; 0 where nothing is cut."""
        cut = self.cuts.get(made.number)
        return 0.0 if cut is None else height_mm(figure_drawing(cut, self.report, "measure", self.units))


def height_mm(drawn: Markup) -> float:
    """The height that a drawing on paper says it has."""
    found = HEIGHT.search(drawn)
    return float(found[1]) if found else 0.0
