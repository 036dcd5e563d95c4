"""The answer as a dimensioned statement: the hardening window between its two ends, or the gap."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import units, wording
from web.charts.axes import TICK, Scale, round_values, tick_words
from web.charts.dimension import across, arrow, datum, extension
from web.charts.svg import drawing, group, line, rectangle, text

if TYPE_CHECKING:
    from billet import Report

SIDE = 26.0
ROW = 62.0


def window_axis(report: "Report", key: str = "window", width: float = 720.0) -> Markup:
    """The window as a dimension line on a temperature axis with the set point as datum mark.

    Where the possible windows do not meet, the gap between them is dimensioned. Where nothing
    hardens, or a steel is unknown, there is no axis and the answer is empty.
    """
    hardening = report.hardening
    if hardening.window_c is not None:
        return _with_window(report, hardening.window_c, key, width)
    ends = _gap_ends(report)
    if ends is None:
        return Markup("")
    return _with_gap(report, ends, key, width)


def steel_windows(report: "Report", key: str = "steels", width: float = 720.0) -> Markup:
    """Supplied, preferred and possible window of every steel, one under the other, on one axis."""
    scale = _temperature_scale(report, width)
    rows = report.hardening.per_steel
    bottom = 34 + ROW * len(rows)
    parts: list[Markup] = []
    window = report.hardening.window_c
    if window is not None:
        left, right = scale(window[0]), scale(window[1])
        parts.append(rectangle(left, 22, right - left, bottom - 22, "band-heat"))
    set_point = report.hardening.set_point_c
    if set_point is not None:
        x = scale(set_point)
        words = wording.temperature(set_point)
        parts.append(line((x, 22), (x, bottom), "set-line"))
        parts.append(text(_held_in(x, words, width), 16, words, "label heat", "middle"))
    for index, row in enumerate(rows):
        top = 34 + ROW * index
        name = row.steel if row.role == "hardens" else f"{row.steel}: {_role_words(row.role)}"
        parts.append(text(4, top + 13, name, "label strong"))
        for offset, pair, class_ in (
            (22, row.supplied_c, "supplied"),
            (34, row.preferred_c, "preferred"),
            (46, row.possible_c, "possible"),
        ):
            if pair is not None:
                parts += _range_bar(scale, pair, top + offset, class_, width)
        parts.append(line((4, top + ROW - 4), (width - 4, top + ROW - 4), "rule"))
    parts += _double_axis(scale, bottom, width)
    told = "; ".join(
        f"{row.steel} preferred {wording.temperature_range(*row.preferred_c)}"
        for row in rows
        if row.preferred_c is not None
    )
    return drawing(
        key, width, bottom + 74, "Hardening window of each steel", told or "No window known.", parts
    )


def _range_bar(
    scale: Scale, pair: tuple[float, float], y: float, class_: str, width: float
) -> list[Markup]:
    """One range: two end strokes, the line between (its weight tells the kind), and its name."""
    left, right = scale(pair[0]), scale(pair[1])
    if width - right > 70:
        label = text(right + 7, y + 4.5, class_, "small-label")
    else:
        label = text(left - 7, y + 4.5, class_, "small-label", "end")
    return [
        line((left, y), (right, y), f"range range-{class_}"),
        line((left, y - 5), (left, y + 5), "range-end"),
        line((right, y - 5), (right, y + 5), "range-end"),
        label,
    ]


def _role_words(role: str) -> str:
    return "stays soft, limits nothing" if role == "soft" else "hardens partly"


def _temperature_scale(report: "Report", width: float) -> Scale:
    """One axis for everything the answer speaks of, with room at both ends."""
    hardening = report.hardening
    values = [value for value in (hardening.set_point_c,) if value is not None]
    pairs = [hardening.window_c]
    for row in hardening.per_steel:
        pairs += [row.supplied_c, row.preferred_c, row.possible_c]
    values += [end for pair in pairs if pair is not None for end in pair]
    if not values:
        values = [750.0, 850.0]
    low, high = min(values), max(values)
    room = max((high - low) * 0.12, 12.0)
    return Scale(low - room, high + room, SIDE, width - SIDE)


def _double_axis(scale: Scale, y: float, width: float) -> list[Markup]:
    """Celsius on the line, Fahrenheit on a second line under it, each at its own round values."""
    about = 8 if width > 500 else 4
    parts = [line((scale.start, y), (scale.end, y), "axis")]
    for celsius in round_values(scale.low, scale.high, about):
        x = scale(celsius)
        parts.append(line((x, y), (x, y + TICK), "tick"))
        parts.append(text(x, y + 20, tick_words(celsius), "tick-label", "middle"))
    lower = y + 34
    parts.append(line((scale.start, lower), (scale.end, lower), "axis-second"))
    for fahrenheit in round_values(units.c_to_f(scale.low), units.c_to_f(scale.high), about):
        x = scale(units.f_to_c(fahrenheit))
        parts.append(line((x, lower), (x, lower + TICK), "tick"))
        parts.append(text(x, lower + 20, tick_words(fahrenheit), "tick-label", "middle"))
    parts.append(text(width - 2, y + 5, "°C", "axis-name", "end"))
    parts.append(text(width - 2, lower + 5, "°F", "axis-name", "end"))
    return parts


def _held_in(x: float, words: str, width: float, advance: float = 8.0) -> float:
    """The middle of a centred label moved so far that it stays on the paper."""
    half = len(words) * advance / 2
    return min(max(x, half + 2), width - half - 2)


def _with_window(report: "Report", window: tuple[float, float], key: str, width: float) -> Markup:
    hardening = report.hardening
    scale = _temperature_scale(report, width)
    left, right = scale(window[0]), scale(window[1])
    low_y, axis_y = 62.0, 176.0
    words = wording.temperature_range(*window)
    parts = [
        rectangle(left, axis_y - 12, right - left, 12, "band-heat"),
        extension((left, low_y - 8), (left, axis_y)),
        extension((right, low_y - 8), (right, axis_y)),
    ]
    parts += across(left, right, low_y, "", "dimension")
    parts.append(
        text(_held_in((left + right) / 2, words, width), low_y - 10, words, "dimension-label", "middle")
    )
    parts += _end_names(hardening.low_set_by, hardening.high_set_by, left, right, width)
    if hardening.set_point_c is not None:
        parts += _set_point(report, hardening.set_point_c, scale, axis_y, width)
    parts += _double_axis(scale, axis_y, width)
    title = "Hardening window"
    if hardening.set_point_c is not None:
        title = f"Harden at {wording.temperature(hardening.set_point_c)}"
    told = (
        f"The window runs {words}. Its low end is set by {hardening.low_set_by or 'no one steel'}, "
        f"its high end by {hardening.high_set_by or 'no one steel'}."
    )
    return drawing(key, width, axis_y + 74, title, told, parts)


def _end_names(
    low_by: str | None, high_by: str | None, left: float, right: float, width: float
) -> list[Markup]:
    """Who holds each end, written outside the window; on narrow paper on two lines above it."""
    low_words = f"low end: {low_by}" if low_by else ""
    high_words = f"high end: {high_by}" if high_by else ""
    return [
        text(4, 22, low_words, "small-label"),
        text(width - 4, 22, high_words, "small-label", "end"),
        line((left, 54), (left, 28), "leader") if low_words else Markup(""),
        line((right, 54), (right, 28), "leader") if high_words else Markup(""),
    ]


def _set_point(
    report: "Report", set_point_c: float, scale: Scale, axis_y: float, width: float
) -> list[Markup]:
    x = scale(set_point_c)
    words = wording.temperature(set_point_c)
    large = "big-number heat" if width > 500 else "mid-number heat"
    parts = [
        datum(x, axis_y, "datum heat-fill"),
        text(
            _held_in(x, words, width, 15.0 if width > 500 else 13.0),
            axis_y - 66,
            words,
            large,
            "middle",
        ),
    ]
    control = report.hardening.control
    if control is not None:
        start, end = (
            scale(set_point_c - control.half_width_k),
            scale(set_point_c + control.half_width_k),
        )
        y = axis_y - 34
        parts += [
            line((start, y), (end, y), "swing"),
            arrow((start, y), (-1, 0)),
            arrow((end, y), (1, 0)),
        ]
        name = f"your fire swings ± {wording.difference(control.half_width_k)}"
        parts.append(text(_held_in(x, name, width, 7.4), y - 7, name, "small-label", "middle"))
    return [group(parts, "set-point")]


def _gap_ends(report: "Report") -> tuple[float, float] | None:
    """Top of the lower and bottom of the upper possible window, where they do not meet."""
    if report.hardening.gap_k is None:
        return None
    pairs = [
        row.possible_c
        for row in report.hardening.per_steel
        if row.role != "soft" and row.possible_c is not None
    ]
    if len(pairs) < 2:
        return None
    low, high = min(pair[1] for pair in pairs), max(pair[0] for pair in pairs)
    return (low, high) if low < high else None


def _with_gap(report: "Report", ends: tuple[float, float], key: str, width: float) -> Markup:
    scale = _temperature_scale(report, width)
    left, right = scale(ends[0]), scale(ends[1])
    axis_y = 150.0
    gap = wording.difference(ends[1] - ends[0])
    words = f"gap {gap}"
    parts = [
        extension((left, 40), (left, axis_y)),
        extension((right, 40), (right, axis_y)),
        *across(left, right, 52, ""),
        text(_held_in((left + right) / 2, words, width), 36, words, "dimension-label strong", "middle"),
    ]
    for row in report.hardening.per_steel:
        if row.role == "soft" or row.possible_c is None:
            continue
        below = row.possible_c[1] <= ends[0] + 1e-6
        start, end = scale(row.possible_c[0]), scale(row.possible_c[1])
        y = 92.0 if below else 124.0
        parts.append(line((start, y), (end, y), "range range-preferred"))
        parts.append(
            text(_held_in((start + end) / 2, row.steel, width), y - 10, row.steel, "label", "middle")
        )
    least_bad = report.hardening.least_bad
    if least_bad is not None:
        x = scale(least_bad.c)
        parts.append(datum(x, axis_y, "datum open"))
    parts += _double_axis(scale, axis_y, width)
    told = f"The possible windows of the steels do not meet: {words}."
    return drawing(key, width, axis_y + 74, "No shared hardening temperature", told, parts)
