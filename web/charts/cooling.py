"""How the middle of a plate cools in each medium, and when each steel begins to transform."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from web.charts.axes import TEXT_WIDTH, Scale, bottom_axis, left_axis, spread
from web.charts.svg import Point, drawing, polyline, text


@dataclass(frozen=True)
class TimeCurve:
    """A line of temperature over time: seconds above zero, degrees Celsius; one length."""

    name: str
    time_s: Sequence[float]
    temperature_c: Sequence[float]


def cooling_curves(
    cooling: Sequence[TimeCurve],
    starts: Sequence[TimeCurve] = (),
    chosen: str | None = None,
    key: str = "cooling",
    width: float = 700.0,
    time_s: tuple[float, float] = (0.1, 1000.0),
) -> Markup:
    """Cooling curves (the chosen medium heavy) and start-of-transformation curves (dashed).

    A steel hardens where its dashed curve stays to the right of the cooling curve.
    """
    if not cooling:
        return Markup("")
    right = width - 16
    across = Scale(time_s[0], time_s[1], 56, right, logarithmic=True)
    up = Scale(0.0, 900.0, 330, 40)
    parts = left_axis(up, 50, "°C", rule_to=right)
    parts += _cooling_lines(cooling, chosen, across, up)
    parts += _start_lines(starts, across, up)
    parts += bottom_axis(across, 330, "seconds after the plunge", 5)
    names = ", ".join(curve.name for curve in cooling)
    told = f"Cooling of the middle of the plate in {names}."
    if starts:
        told += " Start of transformation for " + ", ".join(curve.name for curve in starts) + "."
    return drawing(key, width, 380, "Cooling against transformation", told, parts)


def _inside(curve: TimeCurve, across: Scale, up: Scale) -> list[Point]:
    """The points of the curve that lie on the paper."""
    return [
        (across(t), up(c))
        for t, c in zip(curve.time_s, curve.temperature_c, strict=True)
        if across.low <= t <= across.high and up.low <= c <= up.high
    ]


def _cooling_lines(
    cooling: Sequence[TimeCurve], chosen: str | None, across: Scale, up: Scale
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
        wanted = up(150.0 + 70.0 * (place % 4))
        x, y = min(points, key=lambda point: abs(point[1] - wanted))
        names.append(_beside((x, y), curve.name, f"small-label cold halo{strong}", across.end))
    return parts + names


def _start_lines(starts: Sequence[TimeCurve], across: Scale, up: Scale) -> list[Markup]:
    """The start curves, each named at its upper end."""
    parts: list[Markup] = []
    ends: list[tuple[Point, str]] = []
    for place, curve in enumerate(starts):
        points = _inside(curve, across, up)
        if points:
            parts.append(polyline(points, f"curve start dash-{1 + place % 3}"))
            ends.append((min(points, key=lambda point: point[1]), f"{curve.name} begins"))
    heights = spread([point[1] for point, _ in ends], 17, 40, 320)
    for (point, name), y in zip(ends, heights, strict=True):
        parts.append(_beside((point[0], y), name, "small-label heat halo", across.end))
    return parts


def _beside(point: Point, name: str, class_: str, right: float) -> Markup:
    """A name to the right of its point, or to the left where the paper ends."""
    x, y = point
    if x + 6 + len(name) * TEXT_WIDTH > right + 12:
        return text(x - 6, y + 4, name, class_, "end")
    return text(x + 6, y + 4, name, class_)
