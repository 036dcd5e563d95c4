"""How the middle of a plate cools in each medium, and by when each steel must have passed 550 C."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import TEXT_WIDTH, Scale, bottom_axis, left_axis, shop_degrees, shorten, spread
from web.charts.svg import Point, drawing, element, line, polyline, text

if TYPE_CHECKING:
    from billet import CriticalTime, TimeCurve

START_C, GATE_C = 700.0, 550.0
PLOT_TOP, PLOT_BOTTOM = 40.0, 290.0
GATE_ROW = 26.0


def cooling_curves(
    cooling: Sequence["TimeCurve"],
    gates: Sequence["CriticalTime"] = (),
    chosen: str | None = None,
    key: str = "cooling",
    width: float = 700.0,
    starts: Sequence["TimeCurve"] = (),
    shop: wording.Units = "mm",
) -> Markup:
    """Cooling timed from 700 C, the chosen medium heavy; under it each steel's gate with its band.

    A medium hardens a steel whose gate stands to the right of where the curve passes 550 C. `starts`
    are start-of-transformation curves on the same clock, drawn dashed.
    """
    if not cooling:
        return Markup("")
    right = width - 16
    across = Scale(0.1, 1000.0, 56, right, logarithmic=True)
    up = Scale(100.0, START_C, PLOT_BOTTOM, PLOT_TOP)
    bottom = PLOT_BOTTOM + 14 + GATE_ROW * len(gates)
    degrees, sign = shop_degrees(up, shop)
    parts = left_axis(degrees, 50, f"middle of the plate, {sign}", 5 if shop == "mm" else 7, right)
    parts.append(line((50, up(GATE_C)), (right, up(GATE_C)), "limit-line"))
    for place, gate in enumerate(gates):
        parts += _gate(gate, PLOT_BOTTOM + 20 + GATE_ROW * place, across, up(GATE_C))
    parts += _cooling_lines(cooling, chosen, across, up)
    parts += _start_lines(starts, across, up)
    parts += bottom_axis(across, bottom, f"seconds after passing {_at(START_C, shop)}", 5)
    told = f"Cooling of the middle of the plate in {', '.join(curve.name for curve in cooling)}."
    for gate in gates:
        told += (
            f" {gate.name} hardens if it passes {_at(GATE_C, shop)} within {wording.seconds(gate.value_s)}."
        )
    return drawing(key, width, bottom + 48, "Cooling against what the steels need", told, parts)


def _at(temperature_c: float, shop: wording.Units) -> str:
    """A temperature in the shop's own degree alone, as its axis is."""
    return wording.in_order(wording.temperature_lines(temperature_c), shop)[0]


def _gate(gate: "CriticalTime", y: float, across: Scale, rule_y: float) -> list[Markup]:
    """The latest time with its band, a leader up to the 550 C line, and the steel's name."""
    held = [min(max(value, across.low), across.high) for value in (gate.low_s, gate.value_s, gate.high_s)]
    low, middle, high = (across(value) for value in held)
    words = f"{gate.name} by {wording.seconds(gate.value_s)}"
    if high + 8 + len(words) * TEXT_WIDTH > across.end + 12:
        room = low - 8 - across.start
        label = text(low - 8, y + 5, shorten(words, room), "small-label heat halo", "end")
    else:
        label = text(high + 8, y + 5, words, "small-label heat halo")
    return [
        line((middle, rule_y), (middle, y), "leader-heat"),
        line((low, y), (high, y), "gate-band"),
        element("circle", cx=middle, cy=y, r=4, class_="heat-fill"),
        label,
    ]


def _inside(curve: "TimeCurve", across: Scale, up: Scale) -> list[Point]:
    """The points of the curve that lie on the paper."""
    return [
        (across(t), up(c))
        for t, c in zip(curve.time_s, curve.temperature_c, strict=True)
        if across.low <= t <= across.high and up.low <= c <= up.high
    ]


def _cooling_lines(
    cooling: Sequence["TimeCurve"], chosen: str | None, across: Scale, up: Scale
) -> list[Markup]:
    """The curves, and each name beside its curve, every next one a line higher."""
    parts: list[Markup] = []
    names: list[Markup] = []
    for place, curve in enumerate(cooling):
        points = _inside(curve, across, up)
        if not points:
            continue
        heavy, strong = (" curve-chosen", " strong") if curve.name == chosen else ("", "")
        parts.append(polyline(points, f"curve cold{heavy}"))
        wanted = up(160.0 + 70.0 * (place % 5))
        near = min(points, key=lambda point: abs(point[1] - wanted))
        names.append(_beside(near, curve.name, f"small-label cold halo{strong}", across.end))
    return parts + names


def _start_lines(starts: Sequence["TimeCurve"], across: Scale, up: Scale) -> list[Markup]:
    """The start curves, each named at its upper end."""
    parts: list[Markup] = []
    ends: list[tuple[Point, str]] = []
    for place, curve in enumerate(starts):
        points = _inside(curve, across, up)
        if points:
            parts.append(polyline(points, f"curve start dash-{1 + place % 3}"))
            ends.append((min(points, key=lambda point: point[1]), f"{curve.name} begins"))
    heights = spread([point[1] for point, _ in ends], 17, PLOT_TOP, PLOT_BOTTOM - 8)
    for (point, name), y in zip(ends, heights, strict=True):
        parts.append(_beside((point[0], y), name, "small-label heat halo", across.end))
    return parts


def _beside(point: Point, name: str, class_: str, right: float) -> Markup:
    """A name to the right of its point, or to the left where the paper ends."""
    x, y = point
    if x + 6 + len(name) * TEXT_WIDTH > right + 12:
        return text(x - 6, y + 4, name, class_, "end")
    return text(x + 6, y + 4, name, class_)
