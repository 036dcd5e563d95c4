"""The bar after a step beside its line: end and a stub of its length, all steps at one scale."""

from collections.abc import Sequence

from markupsafe import Markup

from billet import BarFigure, Operation, StackFigure, figure_ends
from web.charts.bar import front_seams
from web.charts.dimension import break_line
from web.charts.end_view import Box, end_view
from web.charts.hatch import definitions
from web.charts.paper.pile import pile_end
from web.charts.paper.sheet import PX, DrawingScale, paper_drawing, scale_for
from web.charts.svg import rectangle

STUB_MM = 9.0
GAP_MM = 4.0
EDGE_MM = 1.1
ROOM_MM = (24.0, 16.0)
MANY_STEPS, LOWER_MM = 6, 3.0
"""A side of more steps has so much less height for its bars with each of them."""


def end_scale(operations: Sequence[Operation], most_steps: int = 0) -> DrawingScale:
    """The one scale of all bars of a sheet: the largest end has room beside the steps of the fullest side."""
    high, wide = figure_ends([made.figure for made in operations])
    high_room = ROOM_MM[1] - LOWER_MM * max(most_steps - MANY_STEPS, 0)
    return scale_for([(wide, ROOM_MM[0]), (high, high_room)])


def step_drawing_mm(figure: BarFigure | StackFigure, scale: DrawingScale) -> tuple[float, float]:
    """How wide and how high the drawing of a step stands on paper. [mm]"""
    return (
        STUB_MM + GAP_MM + figure.width_mm * scale.ratio + EDGE_MM,
        figure.height_mm * scale.ratio + 2 * EDGE_MM,
    )


def step_drawing(
    figure: BarFigure | StackFigure, steels: Sequence[str], scale: DrawingScale, key: str = "bar"
) -> Markup:
    """A stub of the bar from the side, broken off, and its end with the layers, at the scale given."""
    high, wide = scale(figure.height_mm), scale(figure.width_mm)
    y = EDGE_MM * PX
    end_x = (STUB_MM + GAP_MM) * PX
    parts: list[Markup] = [definitions(key, steels)]
    if isinstance(figure, StackFigure):
        parts += _pile_stub(figure, y, scale)
        parts += pile_end(figure, end_x, y, key, steels, scale)
    else:
        parts += _stub(figure, y, scale)
        parts += end_view(Box(end_x, y, wide, high), figure.layers, key, steels, scale.ratio * PX)
    title = f"{'Pile' if isinstance(figure, StackFigure) else 'Bar'} after step {figure.step}, {scale.name}"
    told = f"{figure.height_mm:.1f} mm high, {figure.width_mm:.1f} mm wide, {figure.length_mm:.0f} mm long"
    paper_wide, paper_high = (mm * PX for mm in step_drawing_mm(figure, scale))
    return paper_drawing(key, paper_wide, paper_high, title, told, parts, "bar")


def _stub(figure: BarFigure, y: float, scale: DrawingScale) -> list[Markup]:
    long, high = STUB_MM * PX, scale(figure.height_mm)
    box = Box(1, y, long, high)
    return [
        rectangle(box.x, box.y, box.width, box.height, "outline paper"),
        *front_seams(figure.layers, box, scale.ratio * PX),
        rectangle(box.x - 2, y - 2, 3, high + 4, "blank"),
        break_line(box.x + 4, y, y + high),
    ]


def _pile_stub(figure: StackFigure, y: float, scale: DrawingScale) -> list[Markup]:
    """The side of a pile: a line round each course."""
    parts: list[Markup] = []
    bottom = y + scale(figure.height_mm)
    for course in figure.courses:
        high = scale(course.thickness_mm)
        bottom -= high
        parts.append(rectangle(1, bottom, STUB_MM * PX, high, "outline paper"))
    return parts
