"""The small drawing of the bar beside each operation, all steps at one scale; and where to cut."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.bar import BREAK_GAP, front_seams
from web.charts.dimension import across, break_line, cut_mark, extension
from web.charts.end_view import Box, end_view
from web.charts.hatch import with_definitions
from web.charts.svg import drawing, rectangle, text

if TYPE_CHECKING:
    from billet import Report

END_ROOM = 64.0
LENGTH_ROOM = 190.0
KERF_PX = 14.0


def bar_step(report: "Report", step: int, key: str = "step", length_units: wording.Units = "mm") -> Markup:
    """Front and end view of the bar after `step`, at the scale that fits the largest of all steps."""
    row = report.schedule[step]
    largest = max(max(item.height_mm, item.width_mm) for item in report.schedule)
    px_per_mm = END_ROOM / largest
    high, wide = row.height_mm * px_per_mm, row.width_mm * px_per_mm
    steels = [item.steel for item in report.steels]
    long = min(row.length_mm * px_per_mm, LENGTH_ROOM)
    front = Box(4, 6 + (END_ROOM - high) / 2, long, high)
    end = Box(LENGTH_ROOM + 24, front.y, wide, high)
    parts: list[Markup] = []
    parts.append(rectangle(front.x, front.y, front.width, front.height, "outline paper"))
    parts += front_seams(row.layers, front, px_per_mm)
    if row.length_mm * px_per_mm > LENGTH_ROOM + 0.01:
        x = front.x + front.width * 0.7
        parts.append(rectangle(x, front.y - 2, BREAK_GAP, high + 4, "blank"))
        parts += [break_line(x, front.y, front.y + high)]
        parts += [break_line(x + BREAK_GAP, front.y, front.y + high)]
    parts += end_view(end, row.layers, key, steels, px_per_mm)
    parts = with_definitions(key, steels, parts)
    size = wording.size(row.height_mm, row.width_mm, row.length_mm, length_units)
    title = "Cold stack" if step == 0 else f"Bar after step {row.step}"
    return drawing(key, LENGTH_ROOM + 24 + END_ROOM + 6, END_ROOM + 12, title, size, parts, "always")


def cut_drawing(
    report: "Report",
    step: int,
    key: str = "cut",
    width: float = 700.0,
    length_units: wording.Units = "mm",
) -> Markup:
    """The bar before a cut, seen from above, with its cut marks; empty where nothing is cut.

    The marks of a step are measured along the bar as it was before that step.
    """
    row = report.schedule[step]
    if not row.cut_marks_mm or step == 0:
        return Markup("")
    before = report.schedule[step - 1]
    px_per_mm = (width - 20) / before.length_mm
    box = Box(10, 44, width - 20, min(max(before.width_mm * px_per_mm, 12), 90))
    bottom = box.y + box.height
    parts: list[Markup] = [rectangle(box.x, box.y, box.width, box.height, "outline paper")]
    places = [(box.x + mark * px_per_mm, mark) for mark in row.cut_marks_mm]
    parts += [cut_mark(x, box.y - 8, bottom + 8) for x, _ in places]
    parts += _mark_names(places, bottom + 24, width, length_units)
    right = box.x + box.width
    parts += [
        extension((box.x, box.y - 3), (box.x, box.y - 24)),
        extension((right, box.y - 3), (right, box.y - 24)),
        *across(box.x, right, box.y - 20, wording.length(before.length_mm, length_units)),
    ]
    told = "Cut at " + ", ".join(wording.length(m, length_units) for m in row.cut_marks_mm)
    return drawing(key, width, bottom + 54, f"Where to cut in step {row.step}", told, parts)


def _mark_names(
    places: list[tuple[float, float]], y: float, width: float, length_units: wording.Units
) -> list[Markup]:
    """Distances from the handle end under the marks; the two sides of one kerf share a name."""
    groups: list[list[tuple[float, float]]] = []
    for place in places:
        if groups and place[0] - groups[-1][-1][0] < KERF_PX:
            groups[-1].append(place)
        else:
            groups.append([place])
    parts: list[Markup] = []
    for index, marks in enumerate(groups):
        words = " | ".join(wording.length(mark, length_units) for _, mark in marks)
        half = len(words) * 3.6
        x = min(max(sum(x for x, _ in marks) / len(marks), half), width - half)
        parts.append(text(x, y + 18 * (index % 2), words, "small-label", "middle"))
    return parts
