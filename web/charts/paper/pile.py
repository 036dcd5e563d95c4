"""The end of a pile: plates and pieces one on another, a gap between what is not yet joined."""

from collections.abc import Sequence

from markupsafe import Markup

from billet import StackFigure
from web.charts.end_view import Box, end_view
from web.charts.paper.sheet import DrawingScale
from web.charts.svg import rectangle


def pile_end(
    figure: StackFigure, x: float, y: float, key: str, steels: Sequence[str], scale: DrawingScale
) -> list[Markup]:
    """Courses from the bottom up in the box that starts at x and y, to scale; a thick line round each."""
    parts: list[Markup] = []
    bottom = y + scale(figure.height_mm)
    for course in figure.courses:
        high = scale(course.thickness_mm)
        bottom -= high
        box = Box(x, bottom, scale(figure.width_mm), high)
        parts += end_view(box, course.layers, key, steels, scale.ratio * 96.0 / 25.4)
    if not figure.courses:
        parts.append(rectangle(x, y, scale(figure.width_mm), scale(figure.height_mm), "outline paper"))
    return parts
