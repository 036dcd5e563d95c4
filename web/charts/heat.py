"""Hardness, retained austenite, dissolved carbon and carbide over the hardening heat, with bands."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import TEXT_WIDTH, Scale, bottom_axis, left_axis, padded, shop_degrees, shorten, spread
from web.charts.hatch import band_definitions, band_fill
from web.charts.svg import Point, drawing, line, polyline, rectangle, text

if TYPE_CHECKING:
    from billet import HeatCurve

Pair = tuple[float, float]
TOP, NAME_ROOM = 44.0, 92.0


@dataclass(frozen=True)
class _Panel:
    """One quantity: its words, the field of a point, the factor to the unit of the axis, its height."""

    words: str
    field: str
    factor: float
    height: float


PANELS = (
    _Panel("hardness as quenched, HRC", "hrc", 1.0, 170.0),
    _Panel("retained austenite, %", "retained_austenite", 100.0, 110.0),
    _Panel("carbon dissolved, % by mass", "austenite_carbon_wt", 1.0, 110.0),
    _Panel("carbide left, %", "carbide", 100.0, 90.0),
)
BETWEEN = 40.0


def heat_curves(
    curves: Sequence["HeatCurve"],
    window_c: Pair | None = None,
    marked_c: float | None = None,
    key: str = "heat",
    width: float = 700.0,
    shop: wording.Units = "mm",
) -> Markup:
    """Four panels on one axis of temperature; the window shaded, the chosen temperature a line.

    Each steel has a middle line and a hatched band from low to high. Empty without a computed curve.
    """
    drawn = [curve for curve in curves if curve.points]
    if not drawn:
        return Markup("")
    right = width - (NAME_ROOM if len(drawn) > 1 else 16)
    at = [point.temperature_c for curve in drawn for point in curve.points]
    across = Scale(*padded(at, 0.0, 0.0 if len(at) > len(drawn) else 5.0), 56, right)
    bottom = TOP + sum(panel.height for panel in PANELS) + BETWEEN * (len(PANELS) - 1)
    parts = [band_definitions(key, len(drawn)), *_marks(window_c, marked_c, across, bottom)]
    top = TOP
    for panel in PANELS:
        parts += _panel(drawn, panel, top, across, key)
        top += panel.height + BETWEEN
    degrees, sign = shop_degrees(across, shop)
    parts += bottom_axis(degrees, bottom, f"hardening temperature, {sign}", 8 if width > 500 else 4)
    names = wording.listed([curve.steel for curve in drawn])
    told = (
        f"Hardness as quenched, retained austenite, dissolved carbon and carbide of {names} from "
        f"{wording.temperature_range(across.low, across.high)}. The figures stand in the table below."
    )
    return drawing(key, width, bottom + 48, "Hardness against the heat", told, parts)


def _marks(window_c: Pair | None, marked_c: float | None, across: Scale, bottom: float) -> list[Markup]:
    """The window as far as it lies on the paper, and the chosen temperature with its words on top."""
    parts: list[Markup] = []
    if window_c is not None and window_c[0] < across.high and window_c[1] > across.low:
        left = max(across(window_c[0]), across.start)
        parts.append(
            rectangle(left, TOP, min(across(window_c[1]), across.end) - left, bottom - TOP, "band-heat")
        )
    if marked_c is not None and across.low <= marked_c <= across.high:
        x = across(marked_c)
        words = wording.temperature(marked_c)
        half = len(words) * TEXT_WIDTH / 2
        held = min(max(x, half + 4), across.end + 12 - half)
        parts.append(line((x, TOP - 6), (x, bottom), "set-line"))
        parts.append(text(held, TOP - 28, words, "label heat strong halo", "middle"))
    return parts


def _panel(drawn: Sequence["HeatCurve"], panel: _Panel, top: float, across: Scale, key: str) -> list[Markup]:
    """Bands, then lines, then the names of the steels at the ends of their lines."""
    rows = [[(point.temperature_c, getattr(point, panel.field)) for point in curve.points] for curve in drawn]
    ends = [v * panel.factor for row in rows for _, found in row for v in (found.low, found.high)]
    low, high = padded(ends, 0.08, 0.5 if panel.factor > 1.0 or panel.field == "hrc" else 0.05)
    up = Scale(low if panel.field == "hrc" else max(low, 0.0), high, top + panel.height, top)
    parts = left_axis(up, 50, panel.words, 5 if panel.height > 150 else 3, rule_to=across.end)
    lines: list[Markup] = []
    last: list[float] = []
    for place, row in enumerate(rows):
        points: list[Point] = [(across(t), up(f.value * panel.factor)) for t, f in row]
        upper = [(across(t), up(f.high * panel.factor)) for t, f in row]
        lower = [(across(t), up(f.low * panel.factor)) for t, f in reversed(row)]
        parts.append(polyline(upper + lower, "band", closed=True, fill=band_fill(key, place)))
        lines.append(polyline(points, f"curve dash-{place % 4}"))
        last.append(points[-1][1])
    parts += lines
    if len(drawn) > 1:
        places = spread(last, 16, top + 6, top + panel.height - 2)
        parts += [
            text(across.end + 6, y + 5, shorten(curve.steel, NAME_ROOM - 10), "label")
            for curve, y in zip(drawn, places, strict=True)
        ]
    return parts
