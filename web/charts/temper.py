"""Hardness after tempering: a band for each steel over the tempering temperature."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import Scale, bottom_axis, left_axis, padded, shop_degrees, spread
from web.charts.hatch import band_definitions, band_fill
from web.charts.svg import drawing, polyline, rectangle, text

if TYPE_CHECKING:
    from billet import Report


def temper_bands(
    report: "Report", key: str = "temper", width: float = 700.0, shop: wording.Units = "mm"
) -> Markup:
    """Each steel's band from low to high, named at its end; the advised range marked below."""
    table = report.temper.table
    if len(table) < 2 or not table[0].per_steel:
        return Markup("")
    right = width - 92
    across = Scale(table[0].temperature_c, table[-1].temperature_c, 56, right)
    values = [end for step in table for item in step.per_steel for end in (item.low, item.high)]
    up = Scale(*padded(values, 0.1, 1.0), 260, 40)
    parts = left_axis(up, 50, "HRC", rule_to=right)
    ends: list[float] = []
    names = [item.steel for item in table[0].per_steel]
    parts.append(band_definitions(key, len(names)))
    for place, name in enumerate(names):
        rows = [
            (across(step.temperature_c), up(item.low), up(item.value), up(item.high))
            for step in table
            for item in step.per_steel
            if item.steel == name
        ]
        outline = [(x, high) for x, _, _, high in rows] + [(x, low) for x, low, _, _ in reversed(rows)]
        parts.append(polyline(outline, "band", closed=True, fill=band_fill(key, place)))
        parts.append(polyline([(x, value) for x, _, value, _ in rows], f"curve dash-{place % 4}"))
        ends.append(rows[-1][2])
    for name, y in zip(names, spread(ends, 16, 40, 260), strict=True):
        parts.append(text(right + 6, y + 5, name, "label"))
    advised = [step.temperature_c for step in table if step.advised]
    if advised:
        left = across(min(advised))
        parts.append(rectangle(left, 254, max(across(max(advised)) - left, 4), 6, "advised"))
        parts.append(text(left, 248, "advised", "small-label"))
    degrees, sign = shop_degrees(across, shop)
    parts += bottom_axis(degrees, 260, f"tempering temperature, {sign}", 6 if width > 500 else 4)
    told = "Bands for " + ", ".join(names) + ". The figures stand in the table below."
    return drawing(key, width, 310, "Hardness after tempering", told, parts)
