"""The drawings of a sheet, made from its figures, and how high each stands on paper."""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from markupsafe import Markup

from billet import (
    BarFigure,
    CutFigure,
    FaceFigure,
    Operation,
    Report,
    Section,
    StackFigure,
    WindowFigure,
    wording,
)
from web.charts.paper import cut_ruler, ruler_scale, stack_drawing, step_drawing, windows_drawing
from web.charts.paper.sheet import DrawingScale
from web.letter_widths import POINT_MM, line_count, width_mm
from web.paper_steps import LINE, SIDE_MM, StepLayout, StepType, step_layout

STACK_ROOM_MM = (72.0, 34.0)
SMALL_STACK_ROOM_MM = (60.0, 27.0)
SMALLEST_STACK_ROOM_MM = (52.0, 20.6)
"""Beside few steps, beside more than four, beside more than six."""
FEW_STEPS, MANY_STEPS = 4, 6


def figure_drawing(
    section: Section, report: Report, key: str, units: wording.Units, steps: int = 0
) -> Markup:
    """The drawing of a section on a side of so many steps; empty for a face, whose picture is made where it
    is shown."""
    figure = section.figure
    steels = [row.steel for row in report.steels]
    if isinstance(figure, StackFigure | BarFigure):
        return stack_drawing(figure, steels, key, units, _stack_room_mm(steps))
    if isinstance(figure, CutFigure):
        return cut_ruler(figure, key, units)
    if isinstance(figure, WindowFigure):
        return windows_drawing(figure, key, units)
    return Markup("")


def _stack_room_mm(steps: int) -> tuple[float, float]:
    if steps > MANY_STEPS:
        return SMALLEST_STACK_ROOM_MM
    return SMALL_STACK_ROOM_MM if steps > FEW_STEPS else STACK_ROOM_MM


def bar_drawing(made: Operation, report: Report, scale: DrawingScale, key: str) -> Markup:
    """The bar after a step at that scale."""
    if made.figure is None:
        return Markup("")
    return step_drawing(made.figure, [row.steel for row in report.steels], scale, key)


def ruler_words(section: Section | None, units: wording.Units) -> str:
    """What the line of a step says of the ruler under it; nothing without one."""
    figure = None if section is None else section.figure
    return f"ruler {ruler_scale(figure, units).name}" if isinstance(figure, CutFigure) else ""


SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm"')
PILE_MM = 0.44 * SIDE_MM
PILE_GAP_MM = 3.0
"""The width of the pile beside the answer, and the gap between its drawing and the words beside."""
FACE_MOST_MM, FACE_MARGINS_MM = 34.0, 4.2


@dataclass(frozen=True)
class Drawings:
    """The drawings of one side of `steps` steps; `face_ratio` is width over height of the picture of the
    face, if any."""

    report: Report
    scale: DrawingScale
    """The one scale of the bars of all steps of the sheet."""
    units: wording.Units
    cuts: Mapping[int, Section]
    steps: int
    face_ratio: float | None

    def figure_mm(self, section: Section, points: float) -> float:
        """How high the drawing of a section stands, a face with its line below."""
        if isinstance(section.figure, FaceFigure):
            words = line_count(section.rows[0][0] + "; 0.3 mm ground off, 350 mm by 40 mm shown", 150.0, 12.0)
            picture = min(SIDE_MM / self.face_ratio, FACE_MOST_MM) if self.face_ratio else 0.0
            return picture + words * 4.7 + FACE_MARGINS_MM
        return self.drawn_mm(section)[1]

    def drawn_mm(self, section: Section) -> tuple[float, float]:
        """How wide and how high the drawing of a section stands."""
        key = id(section)
        if key not in self._sizes:
            self._sizes[key] = size_mm(
                figure_drawing(section, self.report, "measure", self.units, self.steps)
            )
        return self._sizes[key]

    def words_under(self, pile: Section, points: float) -> bool:
        """Whether the words of a pile stand lower under its drawing than beside it."""
        return self.pile_under_mm(pile, points) <= self.pile_beside_mm(pile, points)

    def pile_under_mm(self, pile: Section, points: float) -> float:
        """The drawing of a pile with all its words below."""
        words = sum(_words_mm(row[0], PILE_MM, points) for row in pile.rows)
        return self.drawn_mm(pile)[1] + words

    def pile_beside_mm(self, pile: Section, points: float) -> float:
        """The drawing of a pile with its plates beside it and the order they lie in below; endless where a
        word has no room there."""
        wide, high = self.drawn_mm(pile)
        room = PILE_MM - wide - PILE_GAP_MM
        words = (word for row in pile.rows[:-1] for word in row[0].split(" "))
        if max((width_mm(word, points) for word in words), default=0.0) > room:
            return math.inf
        beside = sum(_words_mm(row[0], room, points) for row in pile.rows[:-1])
        return max(high, beside) + _words_mm(pile.rows[-1][0], PILE_MM, points)

    def step_layout(self, made: Operation, points: float, heat_points: float) -> StepLayout:
        """How a step of this side is set, with the ruler of its cut."""
        cut = self.cuts.get(made.number)
        cut_mm = 0.0 if cut is None else self.drawn_mm(cut)[1]
        kind = StepType(points, heat_points, self.scale)
        return step_layout(made, kind, ruler_words(cut, self.units), cut_mm)

    @cached_property
    def _sizes(self) -> dict[int, tuple[float, float]]:
        return {}


def _words_mm(words: str, room_mm: float, points: float) -> float:
    return line_count(words, room_mm, points) * points * POINT_MM * LINE


def size_mm(drawn: Markup) -> tuple[float, float]:
    """The width and the height that a drawing on paper says it has."""
    found = SIZE.search(drawn)
    return (float(found[1]), float(found[2])) if found else (0.0, 0.0)
