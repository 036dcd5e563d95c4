"""How one step is set on a forge sheet: its sizes to stop at, where the bar is told, how high it all stands.

The template draws what is chosen here, and the fitting of the type adds up the heights. Of several ways
to set a step the lowest is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from billet import Operation, Stop, wording
from web.charts.paper import step_drawing_mm
from web.charts.paper.sheet import DrawingScale
from web.letter_widths import POINT_MM, line_count, width_mm

StopsWay = Literal["", "line", "beside", "boxed", "columns"]
"""One after another, each with its box; or a table, the boxes beside the cold sizes, before the hot ones, or
in a row of their own."""
TABLES: tuple[StopsWay, ...] = ("beside", "boxed", "columns")
ALIKE_MM = 0.3
"""Two heights no further apart than this are one to the eye."""
BOX_MM = 7.0
SIDE_MM, GAPS_MM, CAME_MM = 194.0, 8.0, 16.0
NUMBER_EM, HEAT_EMS, LEAST_AFTER_MM = 1.15, 3.65, 12.0
SECOND_EM = 1.17
BLANK_MM, COLD_BLANK_MM = 5.2, 4.0
LINE = 1.08
RULES_MM = 0.8
STOP_EM = 1.5
STOP_GAP_MM, CELL_GAP_MM, APART_MM = 2.5, 2.0, 3.5
LABELS = {"beside": "cold", "boxed": "cold", "columns": "done"}
"""The longest word before the rows of a table."""
CELLS_MM, BESIDE_MM = 2.2, 0.8
CHECK_LEAST_MM = 45.0


@dataclass(frozen=True)
class StepType:
    """The type of the steps of a side, of the words and of the heat, in points; the scale of the bars."""

    points: float
    heat_points: float
    scale: DrawingScale

    @property
    def em(self) -> float:
        """One em of the words. [mm]"""
        return self.points * POINT_MM


@dataclass(frozen=True)
class BarWords:
    """Where the bar after a step is told: in lines `under` its drawing, `within` the line of what the hand
    does, or in a line of its own `after` it."""

    under: tuple[str, ...] = ()
    within: str = ""
    after: str = ""


@dataclass(frozen=True)
class StepLayout:
    """`rows` of the sizes to stop at, set in the way `stops`, `apart` where there is room between them."""

    stops: StopsWay
    rows: tuple[tuple[Stop, ...], ...]
    apart: bool
    bar: BarWords
    high_mm: float


def step_layout(made: Operation, kind: StepType, ruler: str = "", cut_mm: float = 0.0) -> StepLayout:
    """The lowest way to set a step, of ways as low the one that tells most of the bar under its drawing.

    `ruler` is what the line of the step says of a ruler that stands `cut_mm` high under it.
    """
    ways = [_with_words(made, kind, ruler, cut_mm, told) for told in bar_words(made)]
    least = min(way.high_mm for way in ways)
    return next(way for way in ways if way.high_mm <= least + ALIKE_MM)


def bar_words(made: Operation) -> list[BarWords]:
    """Every way to tell the bar: its whole size, or its length alone where one stops at its height."""
    whole = f"{made.bar}, {made.layers}"
    if made.heat is None:
        return [BarWords(within=whole)]
    found = [BarWords(under=(made.bar, made.layers)), BarWords(after=f"then {whole}")]
    if made.stops and made.to.startswith("height"):
        found[1:1] = [
            BarWords(under=(made.long, made.layers)),
            BarWords(under=(made.long, made.seen)),
            BarWords(under=(made.long,), within=f"then {made.layers}"),
        ]
    return found


def order_line(made: Operation, ruler: str, within: str) -> str:
    """What the hand does in one run: the step, what comes with it, the ruler, and what the sizes measure."""
    parts = [made.order, *(made.then if made.stops else ()), within, ruler]
    parts += [f"{made.to} to"] if made.stops else []
    return "; ".join(part for part in parts if part)


def _with_words(made: Operation, kind: StepType, ruler: str, cut_mm: float, told: BarWords) -> StepLayout:
    em = kind.em
    wide_mm, drawn_mm = (0.0, 0.0) if made.figure is None else step_drawing_mm(made.figure, kind.scale)
    after_mm = max(wide_mm, LEAST_AFTER_MM, *(width_mm(words, kind.points) for words in told.under))
    heat_mm = HEAT_EMS * kind.heat_points * POINT_MM
    room = SIDE_MM - GAPS_MM - CAME_MM - NUMBER_EM * em - heat_mm - after_mm
    way, rows, apart, stops_mm = _stops(made, kind, room)
    star = "*" if made.assumed else ""
    hand = _lines_mm(f"{made.hand.upper()}{star}  {order_line(made, ruler, told.within)}", room, kind)
    hand += stops_mm + (_lines_mm(told.after, room, kind) if told.after else 0.0)
    if not made.stops:
        hand += sum(_lines_mm(words, room, kind) for words in made.then)
        hand += max(BOX_MM, _lines_mm(made.check, room - BOX_MM - 2.0, kind)) if made.check else 0.0
    fire = (kind.heat_points * POINT_MM + SECOND_EM * em * LINE) if made.heat is not None else 0.0
    came = BOX_MM + (BLANK_MM if made.heat is not None else COLD_BLANK_MM)
    note = line_count(made.note, room + after_mm + 2.0, kind.points) * em * LINE if made.note else 0.0
    bar = drawn_mm + len(told.under) * 1.1 * em
    high = max(max(hand, fire, bar) + note, came) + cut_mm + RULES_MM
    return StepLayout(way, rows, apart, told, high)


def _lines_mm(words: str, room_mm: float, kind: StepType) -> float:
    return line_count(words, room_mm, kind.points) * LINE * kind.em


def _stops(
    made: Operation, kind: StepType, room_mm: float
) -> tuple[StopsWay, tuple[tuple[Stop, ...], ...], bool, float]:
    """The way that stands lowest, its rows, whether it has room between sizes, and its height."""
    if not made.stops:
        return "", (), False, 0.0
    found = [_in_line(made, kind, room_mm)]
    if len(made.stops) > 1:
        found += [_in_table(made, kind, room_mm, way) for way in TABLES]
    return min(found, key=lambda one: one[3])


def _in_line(
    made: Operation, kind: StepType, room_mm: float
) -> tuple[StopsWay, tuple[tuple[Stop, ...], ...], bool, float]:
    """Each size with its box, what it is when hot below; of one size beside, with the weld's own box."""
    em, big = kind.em, max(BOX_MM, STOP_EM * kind.em)
    each = max(_number_mm(stop, kind) + 1.4 + BOX_MM for stop in made.stops)
    told = max(width_mm(hot_words(stop), kind.points) for stop in made.stops)
    if len(made.stops) == 1:
        rest = room_mm - each - told - 1.4 - STOP_GAP_MM
        check = _lines_mm(made.check, rest - BOX_MM - 2.0, kind) if made.check else 0.0
        beside = rest >= CHECK_LEAST_MM * kind.points / 12.0
        high = max(big, check) if beside else big + (BOX_MM + 0.6 if made.check else 0.0)
        return "line", (made.stops,), False, high + 1.0
    rows = _rows(made.stops, max(each, told) + STOP_GAP_MM, room_mm)
    return "line", rows, False, len(rows) * (big + em + 0.6) + 0.8


def _in_table(
    made: Operation, kind: StepType, room_mm: float, way: StopsWay
) -> tuple[StopsWay, tuple[tuple[Stop, ...], ...], bool, float]:
    em = kind.em
    decimals = [width_mm(stop.decimal, kind.points) for stop in made.stops if stop.decimal]
    hot = max(width_mm(stop.hot, kind.points) for stop in made.stops)
    number = max(_number_mm(stop, kind) for stop in made.stops)
    big = STOP_EM * em
    if way == "beside":
        each, high = max(number + BESIDE_MM + BOX_MM, hot, *decimals), max(big, BOX_MM) + em
    elif way == "boxed":
        each, high = max(number, *decimals, BOX_MM + BESIDE_MM + hot), big + BOX_MM
    else:
        each, high = max(number, *decimals, hot, BOX_MM), big + em + BOX_MM
    high += (em if decimals else 0.0) + CELLS_MM
    room = room_mm - width_mm(LABELS[way], kind.points) - 2.0
    rows = _rows(made.stops, each + CELL_GAP_MM, room)
    apart = all(len(row) * (each + APART_MM) <= room for row in rows)
    return way, rows, apart, len(rows) * high + (len(rows) - 1) * 0.8


def _rows(stops: Sequence[Stop], each_mm: float, room_mm: float) -> tuple[tuple[Stop, ...], ...]:
    """Rows of equal length that the width has room for."""
    count = -(-len(stops) // max(int(room_mm / each_mm), 1))
    a_row = -(-len(stops) // count)
    return tuple(tuple(stops[i : i + a_row]) for i in range(0, len(stops), a_row))


def hot_words(stop: Stop) -> str:
    """What stands beside or below a size: the decimal of a fraction, the caliper's setting when hot."""
    hot = f"hot {stop.hot}" if stop.hot else ""
    return ", ".join(part for part in (stop.decimal, hot) if part)


def _number_mm(stop: Stop, kind: StepType) -> float:
    """The width of a size to stop at; the parts of a fraction are set at two thirds."""
    big = STOP_EM * kind.points
    whole, _, parts = stop.cold.rpartition(wording.NO_BREAK)
    if "/" not in parts:
        return width_mm(stop.cold, big, True)
    return width_mm(whole, big, True) + width_mm(parts, kind.points, True) + 0.5 * kind.em
