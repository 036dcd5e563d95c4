"""The bar after a step in front view and end view, to scale, with its dimensions."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.dimension import across, break_line, extension, upward
from web.charts.end_view import (
    PX_PER_MM,
    Box,
    detail,
    detail_mark,
    end_view,
    layers_seen,
    legend,
)
from web.charts.hatch import definitions
from web.charts.svg import drawing, level_lines, rectangle, text

if TYPE_CHECKING:
    from billet import Report

SCALES = ((10, 1), (5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50))
END_MAX = 150.0
BREAK_GAP = 12.0


def drawing_scale(height_mm: float, width_mm: float) -> tuple[str, float]:
    """The largest standard scale at which the end of the bar fits: its name and px per mm."""
    for first, second in SCALES:
        px_per_mm = PX_PER_MM * first / second
        if max(height_mm, width_mm) * px_per_mm <= END_MAX:
            return f"{first}:{second}", px_per_mm
    return "not to scale", END_MAX / max(height_mm, width_mm)


def bar_drawing(
    report: "Report",
    step: int,
    key: str = "bar",
    width: float = 700.0,
    length_units: wording.Units = "mm",
) -> Markup:
    """Front and end view of the bar after `step`; on narrow paper one under the other."""
    row = report.schedule[step]
    steels = [item.steel for item in report.steels]
    name, px_per_mm = drawing_scale(row.height_mm, row.width_mm)
    high, wide = row.height_mm * px_per_mm, row.width_mm * px_per_mm
    narrow = width < 500
    seen = layers_seen(row.layers, px_per_mm)
    with_detail = bool(row.layers) and not seen

    beside = 90 if narrow else 150 + wide + (140 if with_detail else 0)
    front = Box(60, 46, min(row.length_mm * px_per_mm, width - beside), high)
    end_x = 60.0 if narrow else front.x + front.width + 60
    end_y = front.y + high + 96 if narrow else front.y
    end = Box(end_x, end_y, wide, high)

    parts: list[Markup] = [definitions(key, steels)]
    parts += _front(report, step, front, px_per_mm, length_units)
    parts += end_view(end, row.layers, key, steels, px_per_mm)
    parts += _end_dimension(end, wording.length(row.width_mm, length_units))
    bottom = end.y + end.height + 52
    if with_detail:
        radius = 56.0
        cx = width - radius - 8
        cy = max(end.y + end.height / 2, end.y - 20 + radius)
        parts += [*detail_mark(end), *detail((cx, cy), radius, row.layers, key, steels)]
        bottom = max(bottom, cy + radius + 34)
    names = [
        item.steel if item.steel == item.designation else f"{item.steel} ({item.designation})"
        for item in report.steels
    ]
    swatches, taken = legend(8, bottom, steels, names, key, width - 16)
    parts += swatches
    parts.append(text(width - 4, 16, f"scale {name}", "small-label", "end"))
    return drawing(key, width, bottom + taken + 4, *_told(report, step, length_units), parts)


def _told(report: "Report", step: int, length_units: wording.Units) -> tuple[str, str]:
    row = report.schedule[step]
    title = "The cold stack" if step == 0 else f"The bar after step {row.step} ({row.do})"
    size = (
        f"{wording.length(row.height_mm, length_units)} high, "
        f"{wording.length(row.width_mm, length_units)} wide, "
        f"{wording.length(row.length_mm, length_units)} long"
    )
    loose = f"{row.pieces} loose pieces" if row.loose else "one piece"
    return title, f"{size}; {loose}; {row.layers_visible} layers to the eye."


def _front(
    report: "Report", step: int, box: Box, px_per_mm: float, length_units: wording.Units
) -> list[Markup]:
    row = report.schedule[step]
    right, bottom = box.x + box.width, box.y + box.height
    broken = row.length_mm * px_per_mm > box.width + 0.01
    parts = [rectangle(box.x, box.y, box.width, box.height, "outline paper")]
    parts += front_seams(row.layers, box, px_per_mm)
    if broken:
        middle = box.x + box.width * 0.62
        parts.append(rectangle(middle, box.y - 2, BREAK_GAP, box.height + 4, "blank"))
        parts.append(break_line(middle, box.y, bottom))
        parts.append(break_line(middle + BREAK_GAP, box.y, bottom))
    parts += [
        extension((box.x, bottom + 3), (box.x, bottom + 30)),
        extension((right, bottom + 3), (right, bottom + 30)),
        *across(box.x, right, bottom + 26, wording.length(row.length_mm, length_units)),
        extension((box.x - 3, box.y), (box.x - 22, box.y)),
        extension((box.x - 3, bottom), (box.x - 22, bottom)),
        *_height(box, wording.length(row.height_mm, length_units)),
    ]
    return parts


def _height(box: Box, words: str) -> list[Markup]:
    """The height at the left; its words read upwards when the bar is tall enough, else above."""
    bottom = box.y + box.height
    parts = upward(box.y, bottom, box.x - 18, "")
    if box.height > len(words) * 8:
        parts.append(text(box.x - 24, (box.y + bottom) / 2, words, "dimension-label", "middle", True))
    else:
        parts.append(text(max(box.x - 56, 2), box.y - 24, words, "dimension-label"))
    return parts


def front_seams(layers: tuple[tuple[str, float], ...], box: Box, px_per_mm: float) -> list[Markup]:
    """The seams as lines along the bar, where they can be told apart."""
    if not layers_seen(layers, px_per_mm):
        return []
    total = sum(thickness for _, thickness in layers)
    heights: list[float] = []
    below = 0.0
    for _, thickness in layers[:-1]:
        below += thickness / total * box.height
        heights.append(box.y + box.height - below)
    return [level_lines(box.x, box.width, heights, "seam")] if heights else []


def _end_dimension(box: Box, words: str) -> list[Markup]:
    bottom = box.y + box.height
    right = box.x + box.width
    return [
        extension((box.x, bottom + 3), (box.x, bottom + 30)),
        extension((right, bottom + 3), (right, bottom + 30)),
        *across(box.x, right, bottom + 26, words),
    ]
