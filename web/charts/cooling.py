"""How the middle of a plate cools in each medium, and when each steel begins to transform."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from web.charts.axes import Scale, bottom_axis, left_axis, spread
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
    labels: list[tuple[Point, str, str]] = []
    for curve in cooling:
        points = _inside(curve, across, up)
        if not points:
            continue
        heavy = " curve-chosen" if curve.name == chosen else ""
        parts.append(polyline(points, f"curve cold{heavy}"))
        strong = " strong" if curve.name == chosen else ""
        labels.append((_near(points, up(330.0)), curve.name, f"small-label cold{strong}"))
    parts += _placed(labels, 330)
    starts_at: list[tuple[Point, str, str]] = []
    for place, curve in enumerate(starts):
        points = _inside(curve, across, up)
        if not points:
            continue
        parts.append(polyline(points, f"curve start dash-{1 + place % 3}"))
        starts_at.append((points[0], f"{curve.name} begins", "small-label heat"))
    parts += _placed(starts_at, 330, 18.0)
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


def _near(points: Sequence[Point], y: float) -> Point:
    return min(points, key=lambda point: abs(point[1] - y))


def _placed(
    labels: Sequence[tuple[Point, str, str]], bottom: float, shift: float = 0.0
) -> list[Markup]:
    """Names beside their curves, kept a line apart."""
    heights = spread([point[1] for point, _, _ in labels], 15, 40, bottom - 6)
    return [
        text(point[0] + 5, y + 4 - shift, name, class_)
        for (point, name, class_), y in zip(labels, heights, strict=True)
    ]
