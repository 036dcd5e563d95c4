"""The windows of the steels on one temperature axis, with the set point and this fire's swing drawn in."""

from collections.abc import Sequence

from markupsafe import Markup

from billet import WindowFigure, wording
from billet import units as unit
from web.charts.axes import Scale, round_values, tick_words
from web.charts.dimension import arrow, datum, extension
from web.charts.hatch import band_definitions, band_fill
from web.charts.paper.sheet import PX, paper_drawing, text_mm
from web.charts.svg import line, rectangle, text

ROW_MM = 5.6
AXIS_MM = 13.6


def windows_drawing(
    figure: WindowFigure, key: str = "windows", units: wording.Units = "mm", width_mm: float = 184.0
) -> Markup:
    """A bar for each steel (thick where good, thin where possible), the shared window, the fire."""
    names = [steel.name for steel in figure.steels]
    fire = _fire(figure)
    left = max(map(text_mm, [*names, "your fire"])) + 5.0
    scale = _scale(figure, left * PX, (width_mm - 9.0) * PX)
    top = 9.0 * PX if figure.set_point_c is not None else 2.0 * PX
    rows = len(names) + (1 if fire else 0)
    axis_y = top + rows * ROW_MM * PX
    parts: list[Markup] = [band_definitions(key, 1)]
    if figure.window_c is not None:
        start, end = (scale(c) for c in figure.window_c)
        parts.append(rectangle(start, top, end - start, axis_y - top, "band-heat"))
        parts += [extension((x, top), (x, axis_y)) for x in (start, end)]
    for index, steel in enumerate(figure.steels):
        y = top + (index + 0.55) * ROW_MM * PX
        parts.append(text(0, y + 5, steel.name, "label strong"))
        parts += _range(scale, steel.possible_c, y, "range range-possible")
        parts += _range(scale, steel.good_c, y, "range range-good")
    if fire:
        y = top + (len(names) + 0.2) * ROW_MM * PX
        start, end = scale(fire[0]), scale(fire[1])
        tall = 0.6 * ROW_MM * PX
        parts.append(text(0, y + tall / 2 + 5, "your fire", "label strong"))
        parts.append(rectangle(start, y, end - start, tall, "fire-band", band_fill(key, 0)))
        parts += [arrow((start, y + tall / 2), (-1, 0)), arrow((end, y + tall / 2), (1, 0))]
    parts += _point(figure, scale, axis_y, top, width_mm, units)
    parts += _axis(scale, axis_y, units)
    title = "The windows of the steels, and this fire"
    return paper_drawing(key, width_mm * PX, axis_y + AXIS_MM * PX, title, _told(figure), parts, "windows")


def _fire(figure: WindowFigure) -> tuple[float, float] | None:
    if figure.set_point_c is None or figure.half_width_k is None:
        return None
    return figure.set_point_c - figure.half_width_k, figure.set_point_c + figure.half_width_k


def _scale(figure: WindowFigure, start: float, end: float) -> Scale:
    pairs = [pair for steel in figure.steels for pair in (steel.good_c, steel.possible_c) if pair]
    if (fire := _fire(figure)) is not None:
        pairs.append(fire)
    low, high = min(a for a, _ in pairs), max(b for _, b in pairs)
    room = max(0.04 * (high - low), 4.0)
    return Scale(low - room, high + room, start, end)


def _range(scale: Scale, pair: tuple[float, float] | None, y: float, class_: str) -> list[Markup]:
    if pair is None:
        return []
    return [
        line((scale(pair[0]), y), (scale(pair[1]), y), class_),
        line((scale(pair[0]), y - 6), (scale(pair[0]), y + 6), "range-end"),
        line((scale(pair[1]), y - 6), (scale(pair[1]), y + 6), "range-end"),
    ]


def _point(
    figure: WindowFigure, scale: Scale, axis_y: float, top: float, width_mm: float, units: wording.Units
) -> list[Markup]:
    """The set point, or the least bad heat where there is none, with its number."""
    celsius = figure.set_point_c if figure.set_point_c is not None else figure.least_bad_c
    if celsius is None:
        return []
    x = scale(celsius)
    if figure.set_point_c is None:
        return [datum(x, axis_y, "datum open")]
    words = " / ".join(_both(celsius, units))
    half = text_mm(words) * PX * 0.7
    middle = min(max(x, half), width_mm * PX - half)
    return [
        line((x, top - 4), (x, axis_y), "set-line"),
        datum(x, axis_y, "datum heat-fill"),
        text(middle, top - 8, words, "set-number", "middle"),
    ]


def _both(celsius: float, units: wording.Units) -> tuple[str, str]:
    first, second = wording.temperature_lines(celsius)
    return (second, first) if units == "inch" else (first, second)


def _axis(scale: Scale, y: float, units: wording.Units) -> list[Markup]:
    """Both ways: the shop's own on the line, the other on a second line under it."""
    celsius = ("°C", lambda c: c, lambda c: c)
    fahrenheit = ("°F", unit.c_to_f, unit.f_to_c)
    order = (fahrenheit, celsius) if units == "inch" else (celsius, fahrenheit)
    parts: list[Markup] = []
    for place, (name, out, back) in enumerate(order):
        level = y + place * 7.2 * PX
        parts.append(line((scale.start, level), (scale.end, level), "axis" if not place else "axis-second"))
        for value in round_values(out(scale.low), out(scale.high), 8):
            x = scale(back(value))
            parts.append(line((x, level), (x, level + 5), "tick"))
            parts.append(text(x, level + 20, tick_words(value), "label", "middle"))
        parts.append(text(scale.end + 8, level + 5, name, "label"))
    return parts


def _told(figure: WindowFigure) -> str:
    told: Sequence[str] = [
        f"{steel.name} good {wording.temperature_range(*steel.good_c)}"
        for steel in figure.steels
        if steel.good_c is not None
    ]
    return "; ".join(told) or "No range is known."
