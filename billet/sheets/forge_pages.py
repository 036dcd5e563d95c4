"""How a long schedule is spread over sides of paper: split where the pile is laid anew.

Heights are millimetres of paper in twelve points, measured on the printed sheet; a side is the shorter one
of A4 and Letter.
"""

from collections.abc import Sequence

from billet.sheets.drawn import Operation
from billet.wording import Units

MOST_STEPS = 8
ROOM_MM = 167.0
"""What the steps of a side may take: Letter, less head, what can hurt and title block as they usually are."""
WELD_MM, DRAW_MM, WORK_MM = 14.2, 18.5, 15.5
"""A weld, a draw whose sizes to stop at stand on one line, other work in a fire."""
TALL_MM, TALLEST = 2.5, 2
"""Welds and piles stand so much higher for each step missing to eight: their bars are drawn larger."""
TABLE_MM, INCH_TABLE_MM = 21.0, 23.5
"""A draw whose sizes stand in a table; its decimals have a line of their own."""
MORE_ROWS_MM, INCH_MORE_ROWS_MM = 15.0, 20.0
BOXES_APART_MM = 6.0
"""Boxes in a row of their own, under sizes that have no room for them beside."""
COLD_MM, RULED_MM, LABELS_MM = 11.9, 21.2, 5.2
"""A cold step, one with a ruler, and a line of labels under a ruler that has no room for them."""
MARKS_INSIDE, MARKS_A_LINE = 10, 12
INCH_MARKS_INSIDE, INCH_MARKS_A_LINE = 4, 5
LINE_MM = 4.7
STOPS_A_LINE, STOPS_A_ROW = 4, 6
INCH_STOPS_A_LINE, INCH_STOPS_BOXED, INCH_STOPS_A_ROW = 3, 5, 6
LETTERS_A_LINE, HAND_LETTERS = 75, 50


def spread(
    operations: Sequence[Operation], units: Units = "mm", more_lines: int = 0
) -> list[tuple[Operation, ...]]:
    """The steps of each side: at most eight, and no more than there is room for; split after a restack where
    one allows it. `more_lines` stand on the sheet beside what usually does."""

    def fits(some: Sequence[Operation]) -> bool:
        high = sum(height_mm(made, units, len(some)) for made in some) + LINE_MM * more_lines
        return len(some) == 1 or (len(some) <= MOST_STEPS and high <= ROOM_MM)

    def split(some: Sequence[Operation]) -> list[tuple[Operation, ...]]:
        if fits(some):
            return [tuple(some)]
        cuts = [i + 1 for i, made in enumerate(some[:-1]) if made.do == "restack"]
        allowed = [cut for cut in cuts if fits(some[:cut])]
        if allowed:
            cut = min(allowed, key=lambda at: (len(split(some[at:])), abs(2 * at - len(some))))
        else:
            cut = next(i for i in range(len(some) - 1, 0, -1) if fits(some[:i]))
        return [tuple(some[:cut]), *split(some[cut:])]

    return split(operations)


def height_mm(made: Operation, units: Units, steps: int = MOST_STEPS) -> float:
    """About how high a step stands on a side of so many steps in its least type."""
    tall = TALL_MM * min(max(MOST_STEPS - steps, 0), TALLEST)
    told = [made.order, *([] if made.stops else made.then)]
    lines = -(-len(made.note) // LETTERS_A_LINE) + sum(len(words) // HAND_LETTERS for words in told)
    lines += 0 if made.stops else len(made.then)
    if made.heat is None:
        return _cold_mm(made, units) + LINE_MM * max(lines - 1, 0) + (tall if made.marks else 0.0)
    if len(made.stops) > 1:
        return _stops_mm(len(made.stops), units) + LINE_MM * lines
    return (WELD_MM if made.stops or made.check else WORK_MM) + tall + LINE_MM * lines


def _cold_mm(made: Operation, units: Units) -> float:
    """A cold step, with the ruler of its marks where it has any."""
    if not made.marks:
        return COLD_MM
    inside, a_line = (
        (INCH_MARKS_INSIDE, INCH_MARKS_A_LINE) if units == "inch" else (MARKS_INSIDE, MARKS_A_LINE)
    )
    return RULED_MM if made.marks <= inside else RULED_MM + LABELS_MM * -(-made.marks // a_line)


def _stops_mm(stops: int, units: Units) -> float:
    """A draw of so many heats."""
    inch = units == "inch"
    if stops <= (INCH_STOPS_A_LINE if inch else STOPS_A_LINE):
        return DRAW_MM
    rows = -(-stops // (INCH_STOPS_A_ROW if inch else STOPS_A_ROW))
    table, more = (INCH_TABLE_MM, INCH_MORE_ROWS_MM) if inch else (TABLE_MM, MORE_ROWS_MM)
    apart = BOXES_APART_MM if inch and -(-stops // rows) > INCH_STOPS_BOXED else 0.0
    return table + apart + (rows - 1) * (more + apart)
