"""Thickness of the layers along the schedule: the mean, and from the thinnest to the thickest."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import TICK, Scale, left_axis
from web.charts.svg import drawing, element, level_lines, line, polyline, text

if TYPE_CHECKING:
    from billet import Report


def layers_along_schedule(report: "Report", key: str = "layers", width: float = 700.0) -> Markup:
    """One stroke a step from the thinnest to the thickest layer, a ring at the mean; logarithmic."""
    rows = report.schedule
    sizes = [size for row in rows for size in (row.layer_um.thinnest, row.layer_um.thickest)]
    finest = report.pattern.finest_useful_um or None
    if finest is not None:
        sizes.append(finest)
    right = width - 16
    up = Scale(max(min(sizes) * 0.6, 0.01), max(sizes) * 3.0, 260, 40, logarithmic=True)
    slot = (right - 64) / len(rows)
    parts = left_axis(up, 60, "layer thickness, µm", rule_to=right)
    if finest is not None:
        y = up(finest)
        parts.append(line((60, y), (right, y), "limit-line"))
        parts.append(text(right, y - 6, f"finest of use {wording.micrometres(finest)}", "small-label", "end"))
    middles = []
    for place, row in enumerate(rows):
        x = 64 + slot * (place + 0.5)
        top, bottom = up(row.layer_um.thickest), up(row.layer_um.thinnest)
        parts.append(line((x, top), (x, bottom), "whisker"))
        parts.append(level_lines(x - 5, 10, (top, bottom), "whisker"))
        middles.append((x, up(row.layer_um.mean)))
        parts.append(text(x, 260 + TICK + 14, str(row.step), "tick-label", "middle"))
        if slot > 44 or place in (0, len(rows) - 1):
            layers = f"{row.layers_visible}"
            parts.append(text(x, top - 8, layers, "small-label", "middle"))
    parts.append(polyline(middles, "curve curve-after"))
    parts += [element("circle", cx=x, cy=y, r=4, class_="ring") for x, y in middles]
    parts.append(line((60, 260), (right, 260), "axis"))
    parts.append(
        text((60 + right) / 2, 300, "after step (number over the stroke: layers)", "axis-name", "middle")
    )
    last = rows[-1]
    told = (
        f"From {wording.micrometres(rows[0].layer_um.mean)} in the stack to "
        f"{wording.micrometres(last.layer_um.mean)} at the end, {last.layers_visible} layers."
    )
    return drawing(key, width, 308, "Thickness of the layers step by step", told, parts)
