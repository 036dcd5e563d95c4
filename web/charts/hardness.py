"""Hardness as quenched and retained austenite against the hardening temperature, steel by steel."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import Scale, bottom_axis, left_axis, padded, shop_degrees, spread
from web.charts.svg import Point, drawing, line, polyline, rectangle, text

if TYPE_CHECKING:
    from billet import HardnessCurve

Pair = tuple[float, float]


def hardness_against_temperature(
    curves: Sequence["HardnessCurve"],
    window_c: Pair | None = None,
    set_point_c: float | None = None,
    key: str = "hardness",
    width: float = 700.0,
    shop: wording.Units = "mm",
) -> Markup:
    """Two panels on one temperature axis; the window shaded, the set point as a line."""
    drawn = [curve for curve in curves if curve.temperature_c]
    if not drawn:
        return Markup("")
    temperatures = [t for curve in drawn for t in curve.temperature_c]
    right = width - 92
    across = Scale(min(temperatures), max(temperatures), 56, right)
    hrc_low, hrc_high = padded([h for curve in drawn for h in curve.hrc], 0.1, 1.0)
    hard = Scale(hrc_low, hrc_high, 210, 40)
    most = max(r for curve in drawn for r in curve.retained_austenite)
    kept = Scale(0.0, max(most * 110.0, 5.0), 380, 264)
    parts: list[Markup] = []
    if window_c is not None:
        left = across(window_c[0])
        parts.append(rectangle(left, 40, across(window_c[1]) - left, 340, "band-heat"))
    if set_point_c is not None:
        x = across(set_point_c)
        parts.append(line((x, 40), (x, 380), "set-line"))
        parts.append(text(x, 34, wording.temperature(set_point_c), "label heat", "middle"))
    parts += left_axis(hard, 50, "HRC", rule_to=right)
    parts += left_axis(kept, 50, "retained austenite, %", about=3, rule_to=right)
    parts += _panel(drawn, [curve.hrc for curve in drawn], across, hard, right)
    percent = [[r * 100.0 for r in curve.retained_austenite] for curve in drawn]
    parts += _panel(drawn, percent, across, kept, right)
    degrees, sign = shop_degrees(across, shop)
    parts += bottom_axis(degrees, 380, f"hardening temperature, {sign}", 7 if width > 500 else 4)
    names = ", ".join(curve.steel for curve in drawn)
    return drawing(
        key,
        width,
        430,
        "Hardness as quenched and retained austenite",
        f"Against hardening temperature, for {names}. The figures stand in the table below.",
        parts,
    )


def _panel(
    curves: Sequence["HardnessCurve"],
    values: Sequence[Sequence[float]],
    across: Scale,
    up: Scale,
    right: float,
) -> list[Markup]:
    """The curves of one panel, a dash of its own for each, and the names at their ends."""
    parts: list[Markup] = []
    ends: list[float] = []
    for place, (curve, heights) in enumerate(zip(curves, values, strict=True)):
        points: list[Point] = [(across(t), up(h)) for t, h in zip(curve.temperature_c, heights, strict=True)]
        parts.append(polyline(points, f"curve dash-{place % 4}"))
        ends.append(points[-1][1])
    top, bottom = min(up.start, up.end), max(up.start, up.end)
    for curve, y in zip(curves, spread(ends, 16, top, bottom), strict=True):
        parts.append(text(right + 6, y + 5, curve.steel, "label"))
    return parts
