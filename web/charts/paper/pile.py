"""The end of a pile: plates and pieces one on another, a gap between what is not yet joined."""

from collections.abc import Sequence

from markupsafe import Markup

from billet import StackFigure
from web.charts.end_view import Box, end_view
from web.charts.paper.sheet import PX, DrawingScale
from web.charts.svg import rectangle

LEAST_FRAME_PX = 4.0
"""Thinner plates are drawn as layers of one pile: a frame round each would hide them."""


def pile_end(
    figure: StackFigure, x: float, y: float, key: str, steels: Sequence[str], scale: DrawingScale
) -> list[Markup]:
    """Courses from the bottom up in the box that starts at x and y, to scale; a line round each."""
    px_per_mm = scale.ratio * PX
    if not any(course.piece for course in figure.courses) and figure.courses:
        thinnest = min(course.thickness_mm for course in figure.courses)
        if thinnest * px_per_mm < LEAST_FRAME_PX:
            layers = [layer for course in figure.courses for layer in course.layers]
            box = Box(x, y, scale(figure.width_mm), scale(figure.height_mm))
            return end_view(box, layers, key, steels, px_per_mm)
    parts: list[Markup] = []
    bottom = y + scale(figure.height_mm)
    for course in figure.courses:
        high = scale(course.thickness_mm)
        bottom -= high
        box = Box(x, bottom, scale(figure.width_mm), high)
        parts += end_view(box, course.layers, key, steels, px_per_mm)
    if not figure.courses:
        parts.append(rectangle(x, y, scale(figure.width_mm), scale(figure.height_mm), "outline paper"))
    return parts
