"""The finished bar as a card of the first page bears it: its end, and its layers enlarged."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.end_view import Box, detail, detail_mark, end_view
from web.charts.hatch import definitions
from web.charts.svg import drawing

if TYPE_CHECKING:
    from billet import Report

WIDTH, HEIGHT, RADIUS = 200.0, 100.0, 36.0
END_WIDE, END_HIGH = 104.0, 72.0


def bar_picture(report: "Report", key: str, length_units: wording.Units = "mm") -> Markup:
    """End view at the scale that fills its room, and beside it a circle in which the layers are seen."""
    row = report.schedule[-1]
    px_per_mm = min(END_WIDE / row.width_mm, END_HIGH / row.height_mm)
    high, wide = row.height_mm * px_per_mm, row.width_mm * px_per_mm
    end = Box(2, (HEIGHT - 22 - high) / 2 + 2, wide, high)
    steels = [item.steel for item in report.steels]
    parts: list[Markup] = [definitions(key, steels), *end_view(end, row.layers, key, steels, px_per_mm)]
    if row.layers:
        parts += [
            *detail_mark(end),
            *detail((WIDTH - RADIUS - 6, RADIUS + 2), RADIUS, row.layers, key, steels),
        ]
    size = wording.size(row.height_mm, row.width_mm, row.length_mm, length_units)
    told = f"{row.layers_visible} layers; {size}"
    return drawing(key, WIDTH, HEIGHT, f"The end of {report.title}", told, parts, "card")
