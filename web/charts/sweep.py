"""The answer drawn against one number: window as a band, set point as a line; carbon of every steel."""

from collections.abc import Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import Scale, bottom_axis, left_axis, padded, shop_degrees, shorten, spread
from web.charts.svg import Point, drawing, line, polyline, rectangle, text

if TYPE_CHECKING:
    from billet import Sweep

TOP, BOTTOM, LEFT, ROOM = 44.0, 300.0, 56.0, 92.0


def swept_window(
    sweep: "Sweep", key: str = "swept", width: float = 700.0, named: str = "", shop: wording.Units = "mm"
) -> Markup:
    """Temperature against the number: where the bar works, where it is good, where to set the fire.

    `named` is the number in words, else it stands as it is written. Ticks under the axis mark values
    without a shared temperature. Empty where no value has one.
    """
    rows = [row for row in sweep.rows if row.refused is None]
    has = [row for row in rows if row.window_low_c is not None]
    if not has or len(rows) < 2:
        return Markup("")
    across = Scale(rows[0].value, rows[-1].value, LEFT, width - ROOM)
    ends = [end for row in has for end in (row.works_low_c, row.works_high_c) if end is not None]
    up = Scale(*padded(ends), BOTTOM, TOP)
    degrees, sign = shop_degrees(up, shop)
    parts = left_axis(degrees, LEFT, f"temperature, {sign}", rule_to=width - ROOM)
    for together, run in groupby(rows, key=lambda row: row.window_low_c is not None):
        listed = list(run)
        if together and len(listed) > 1:
            parts += _bands(listed, across, up)
        elif not together:
            start, end = across(listed[0].value), across(listed[-1].value)
            parts.append(rectangle(start - 1, BOTTOM - 8, max(end - start, 2), 8, "bar-now"))
    last = has[-1]
    lines = [("works to", last.works_high_c), ("good to", last.window_high_c), ("set", last.set_point_c),
             ("good from", last.window_low_c), ("works from", last.works_low_c)]  # fmt: skip
    parts += _names([(words, up(value)) for words, value in lines if value is not None], width)
    parts += bottom_axis(
        across, BOTTOM, shorten(named or sweep.vary, width - ROOM - LEFT), 8 if width > 500 else 4
    )
    counted = f"{wording.count(len(has), 'value')} of {len(rows)}"
    told = f"{counted} have a shared temperature; the table below has all."
    return drawing(key, width, BOTTOM + 48, f"Window against {named or sweep.vary}", told, parts)


def _bands(rows: Sequence[object], across: Scale, up: Scale) -> list[Markup]:
    def edge(name: str) -> list[Point]:
        return [(across(getattr(row, "value")), up(getattr(row, name))) for row in rows]  # noqa: B009

    good = [*edge("window_low_c"), *reversed(edge("window_high_c"))]
    return [
        polyline(edge("works_low_c"), "range-possible range"),
        polyline(edge("works_high_c"), "range-possible range"),
        polyline(good, "band-heat", closed=True),
        polyline(edge("window_low_c"), "curve"),
        polyline(edge("window_high_c"), "curve"),
        polyline(edge("set_point_c"), "curve start"),
    ]


def swept_carbon(sweep: "Sweep", key: str = "swept-carbon", width: float = 700.0, named: str = "") -> Markup:
    """Carbon of every steel of the blade against the number. Empty where nothing is computed."""
    rows = [row for row in sweep.rows if row.carbon_wt]
    if len(rows) < 2:
        return Markup("")
    lines = [
        (name, [(row.value, row.carbon_wt[name]) for row in rows if row.carbon_wt and name in row.carbon_wt])
        for name in sweep.steels
    ]
    lines = [(name, points) for name, points in lines if len(points) > 1]
    across = Scale(rows[0].value, rows[-1].value, LEFT, width - ROOM)
    up = Scale(*padded([y for _, points in lines for _, y in points], least=0.02), 220.0, TOP)
    parts = left_axis(up, LEFT, "carbon, % by mass", rule_to=width - ROOM)
    for place, (_, points) in enumerate(lines):
        dash = f" dash-{place % 4}" if place % 4 else ""
        parts.append(polyline([(across(x), up(y)) for x, y in points], f"curve{dash}"))
    parts += _names([(name, up(points[-1][1])) for name, points in lines], width)
    parts += bottom_axis(
        across, 220.0, shorten(named or sweep.vary, width - ROOM - LEFT), 8 if width > 500 else 4
    )
    names = wording.listed([name for name, _ in lines])
    told = f"Carbon inside the blade of {names}. The figures stand in the table below."
    return drawing(key, width, 268.0, f"Carbon against {named or sweep.vary}", told, parts)


def _names(wanted: Sequence[tuple[str, float]], width: float) -> list[Markup]:
    """Words at the right ends of lines, kept apart, each with a short line to its own."""
    x = width - ROOM
    places = spread([y for _, y in wanted], 16.0, TOP, BOTTOM)
    parts = []
    for (words, y), place in zip(wanted, places, strict=True):
        parts.append(line((x + 1, y), (x + 9, place), "rule"))
        parts.append(text(x + 11, place + 5, shorten(words, ROOM - 12), "small-label"))
    return parts
