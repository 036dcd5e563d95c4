"""The answer as a dimensioned statement: the hardening window between its two ends, or the gap."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import TEXT_WIDTH, TICK, Scale, shop_degrees, tick_words
from web.charts.dimension import across, arrow, datum, extension
from web.charts.svg import drawing, group, line, rectangle, text, upright_lines

if TYPE_CHECKING:
    from billet import Report

SIDE = 26.0
ROW = 82.0


def window_axis(
    report: "Report", key: str = "window", width: float = 720.0, shop: wording.Units = "mm"
) -> Markup:
    """The window as a dimension line on a temperature axis with the set point as datum mark.

    Where the possible windows do not meet, the gap between them is dimensioned. Where nothing
    hardens, or a steel is unknown, there is no axis and the answer is empty.
    """
    hardening = report.hardening
    if hardening.window_c is not None:
        return _with_window(report, hardening.window_c, key, width, shop)
    ends = _gap_ends(report)
    if ends is None:
        return Markup("")
    return _with_gap(report, ends, key, width, shop)


def steel_windows(
    report: "Report", key: str = "steels", width: float = 720.0, shop: wording.Units = "mm"
) -> Markup:
    """Published range, preferred and possible window of every steel, one under the other, on one axis."""
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
        parts.append(text(held_in(x, words, width), 16, words, "label heat", "middle"))
    for index, row in enumerate(rows):
        top = 34 + ROW * index
        name = row.steel if row.role == "hardens" else f"{row.steel}: {_role_words(row.role)}"
        parts.append(text(4, top + 13, name, "label strong"))
        for offset, pair, class_ in (
            (28, row.supplied_c, "supplied"),
            (46, row.preferred_c, "preferred"),
            (64, row.possible_c, "possible"),
        ):
            if pair is not None:
                parts += range_bar(scale, pair, top + offset, class_, width)
        parts.append(line((4, top + ROW - 4), (width - 4, top + ROW - 4), "rule"))
    parts += double_axis(scale, bottom, width, shop)
    told = "; ".join(
        f"{row.steel} preferred {wording.temperature_range(*row.preferred_c)}"
        for row in rows
        if row.preferred_c is not None
    )
    return drawing(
        key, width, bottom + 66, "Hardening window of each steel", told or "No window known.", parts
    )


def range_bar(
    scale: Scale, pair: tuple[float, float], y: float, kind: str, width: float, label: str | None = None
) -> list[Markup]:
    """One range: two end strokes, the line between (its weight tells the kind), and its name, which breaks
    the line where there is room for it neither after nor before."""
    left, right = scale(pair[0]), scale(pair[1])
    words = kind if label is None else label
    long = len(words) * TEXT_WIDTH + 8
    if width - right > long:
        named = text(right + 7, y + 4.5, words, "small-label halo")
    elif left > long:
        named = text(left - 7, y + 4.5, words, "small-label halo", "end")
    else:
        named = text(max(min(left + 7, width - long), 2.0), y + 4.5, words, "small-label halo")
    return [
        line((left, y), (right, y), f"range range-{kind}"),
        upright_lines((left, right), y - 5, 10, "range-end"),
        named,
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


def double_axis(scale: Scale, y: float, width: float, shop: wording.Units = "mm") -> list[Markup]:
    """The shop's own degree on the line, the other on a second one under it, each at its round values."""
    about = 8 if width > 500 else 4
    first, second = shop_degrees(scale, shop), shop_degrees(scale, "inch" if shop == "mm" else "mm")
    parts = []
    for (degrees, sign), line_y, class_ in ((first, y, "axis"), (second, y + 34, "axis-second")):
        ticks = degrees.ticks(about)
        parts.append(line((scale.start, line_y), (scale.end, line_y), class_))
        parts.append(upright_lines([degrees(value) for value in ticks], line_y, TICK, "tick"))
        for value in ticks:
            parts.append(text(degrees(value), line_y + 20, tick_words(value), "tick-label", "middle"))
        parts.append(text(width - 2, line_y + 5, sign, "axis-name", "end"))
    return parts


def held_in(x: float, words: str, width: float, advance: float = 8.0) -> float:
    """The middle of a centred label moved so far that it stays on the paper."""
    half = len(words) * advance / 2
    return min(max(x, half + 2), width - half - 2)


def _with_window(
    report: "Report", window: tuple[float, float], key: str, width: float, shop: wording.Units
) -> Markup:
    hardening = report.hardening
    scale = _temperature_scale(report, width)
    left, right = scale(window[0]), scale(window[1])
    wide = width > 500
    line_y, axis_y = (84.0, 168.0) if wide else (112.0, 196.0)
    words = wording.temperature_range(*window)
    parts = [rectangle(left, axis_y - 14, right - left, 14, "band-heat")]
    parts += [
        extension((left, line_y - 5), (left, axis_y)),
        extension((right, line_y - 5), (right, axis_y)),
    ]
    if hardening.set_point_c is not None:
        parts += _set_point(report, hardening.set_point_c, scale, axis_y, width)
    parts += [
        *across(left, right, line_y, ""),
        *_window_words(hardening.low_set_by, hardening.high_set_by, (left, right), line_y, words, width),
        *double_axis(scale, axis_y, width, shop),
    ]
    title = "Hardening window"
    if hardening.set_point_c is not None:
        title = f"Harden at {wording.temperature(hardening.set_point_c)}"
    told = (
        f"The window runs {words}. Its low end is set by {hardening.low_set_by or 'no one steel'}, "
        f"its high end by {hardening.high_set_by or 'no one steel'}."
    )
    return drawing(key, width, axis_y + 66, title, told, parts)


def _window_words(
    low_by: str | None,
    high_by: str | None,
    ends: tuple[float, float],
    y: float,
    words: str,
    width: float,
) -> list[Markup]:
    """The window in figures, and who holds each end: beside the dimension line, or above it."""
    left, right = ends
    low_words = f"low end: {low_by}" if low_by else ""
    high_words = f"high end: {high_by}" if high_by else ""
    if width - right > len(words) * TEXT_WIDTH + 16:
        return [
            text(right + 10, y + 5, words, "dimension-label"),
            text(right + 10, y + 24, high_words, "small-label"),
            text(left - 10, y + 5, low_words, "small-label", "end"),
        ]
    return [
        text(held_in((left + right) / 2, words, width), y - 10, words, "halo wide-halo", "middle"),
        text(2, y - 30, low_words, "small-label halo"),
        text(width - 2, y - 30, high_words, "small-label halo", "end"),
    ]


def _set_point(
    report: "Report", set_point_c: float, scale: Scale, axis_y: float, width: float
) -> list[Markup]:
    """The set point as datum mark with its number large, and the swing of the fire about it."""
    x = scale(set_point_c)
    words = wording.temperature(set_point_c)
    parts = [
        line((x, 44), (x, axis_y), "leader-heat"),
        datum(x, axis_y, "datum heat-fill"),
        text(held_in(x, words, width, 15.0), 34, words, "mid-number heat", "middle"),
    ]
    control = report.hardening.control
    if control is not None:
        start = scale(set_point_c - control.half_width_k)
        end = scale(set_point_c + control.half_width_k)
        y = axis_y - 32
        parts += [line((start, y), (end, y), "swing")]
        parts += [arrow((start, y), (-1, 0)), arrow((end, y), (1, 0))]
        name = f"fire {wording.plus_minus(control.half_width_k)}"
        long = len(name) * TEXT_WIDTH + 12
        if width - end > long or start > long:
            place = (end + 10, "start") if width - end > long else (start - 10, "end")
            parts.append(text(place[0], y + 5, name, "small-label halo", place[1]))
        else:
            parts.append(text(held_in(x, name, width), y - 8, name, "small-label halo wide-halo", "middle"))
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


def _with_gap(
    report: "Report", ends: tuple[float, float], key: str, width: float, shop: wording.Units
) -> Markup:
    scale = _temperature_scale(report, width)
    left, right = scale(ends[0]), scale(ends[1])
    axis_y = 176.0
    gap = wording.difference(ends[1] - ends[0])
    gap_words = f"gap {gap}"
    parts = [
        extension((left, 40), (left, axis_y)),
        extension((right, 40), (right, axis_y)),
        *across(left, right, 52, ""),
        text(held_in((left + right) / 2, gap_words, width), 36, gap_words, "strong", "middle"),
    ]
    for row in report.hardening.per_steel:
        if row.role == "soft" or row.possible_c is None:
            continue
        below = row.possible_c[1] <= ends[0] + 1e-6
        start, end = scale(row.possible_c[0]), scale(row.possible_c[1])
        y = 88.0 if below else 118.0
        parts.append(line((start, y), (end, y), "range range-preferred"))
        parts.append(text(held_in((start + end) / 2, row.steel, width), y - 10, row.steel, "label", "middle"))
    least_bad = report.hardening.least_bad
    if least_bad is not None:
        x = scale(least_bad.c)
        words = f"least bad {wording.temperature(least_bad.c)}"
        side = (x + 14, "start") if x < width / 2 else (x - 14, "end")
        parts.append(datum(x, axis_y, "datum open"))
        parts.append(text(side[0], axis_y - 14, words, "label halo wide-halo", side[1]))
    parts += double_axis(scale, axis_y, width, shop)
    told = f"The possible windows of the steels do not meet: {gap_words}."
    return drawing(key, width, axis_y + 66, "No shared hardening temperature", told, parts)
