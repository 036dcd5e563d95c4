"""The lines on a ground bevel at their true spacing."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.dimension import upward
from web.charts.end_view import PX_PER_MM
from web.charts.hatch import definitions, fill_of
from web.charts.svg import drawing, line, rectangle, text

if TYPE_CHECKING:
    from billet import Report

SHOWN_PX = 150.0
FINEST_PX = 5.0
RATIOS = (1, 2, 5, 10, 20, 50)


def bevel_lines(
    report: "Report",
    key: str = "bevel",
    width: float = 700.0,
    length_units: wording.Units = "mm",
) -> Markup:
    """A piece of the bevel from the edge upwards, each layer as the band it shows; no blade, empty.

    A layer is drawn out on the bevel by the same factor as the mean layer, which is what a plane cut
    at a small angle does.
    """
    blade = report.blade
    layers = report.schedule[-1].layers
    if blade is None or blade.line_spacing_mm is None or not layers:
        return Markup("")
    steels = [item.steel for item in report.steels]
    ratio = next((r for r in RATIOS if blade.line_spacing_mm * r * PX_PER_MM >= FINEST_PX), RATIOS[-1])
    factor = blade.line_spacing_mm / (sum(t for _, t in layers) / len(layers))
    px_per_layer_mm = factor * ratio * PX_PER_MM
    left, right, top, edge = 10.0, width - 150, 34.0, 34.0 + SHOWN_PX
    parts: list[Markup] = [definitions(key, steels)]
    y = edge
    for steel, thickness in layers[len(layers) // 2 :]:
        height = min(thickness * px_per_layer_mm, y - top)
        y -= height
        parts.append(rectangle(left, y, right - left, height, "layer", fill_of(key, steels, steel)))
        parts.append(line((left, y), (right, y), "seam"))
        if y <= top + 1e-6:
            break
    parts.append(line((left, edge), (right, edge), "edge"))
    parts.append(text(left, edge + 18, "cutting edge", "small-label"))
    spacing = wording.length(blade.line_spacing_mm, length_units)
    mean_px = blade.line_spacing_mm * ratio * PX_PER_MM
    parts += upward(edge - mean_px, edge, right + 16, f"{spacing} a line")
    parts.append(text(width - 4, 16, f"scale {ratio}:1", "small-label", "end"))
    return drawing(
        key, width, edge + 40, "Lines on the bevel", f"One line every {spacing} on average.", parts
    )
