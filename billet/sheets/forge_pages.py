"""How a long schedule is spread over sides of paper: split where the pile is laid anew.

Heights are millimetres of paper in twelve points, measured on the printed sheet; a side is the shorter one
of A4 and Letter.
"""

from collections.abc import Sequence

from billet.sheets.drawn import Operation

MOST_STEPS = 8
ROOM_MM = 9155.0
"""What the steps of a side may take: Letter, less head, what can hurt and title block."""
INCH_ROOM_MM = 9130.0
"""The same in inches, whose fractions make the head taller."""
FIRE_MM = 21.0
MANY_STOPS_MM = 27.0
COLD_MM = 14.0
CUT_MM = 33.0
LINE_MM = 5.0
FEW_STOPS, STOPS_A_ROW, FRACTIONS_A_ROW = 3, 6, 4
LETTERS_A_LINE, HAND_LETTERS = 75, 50
DECIMAL_MM = 4.5


def spread(operations: Sequence[Operation]) -> list[tuple[Operation, ...]]:
    """The steps of each side: at most eight, and no more than there is room for; split after a restack where
    one allows it."""
    if _fits(operations):
        return [tuple(operations)]
    cuts = [i + 1 for i, made in enumerate(operations[:-1]) if made.do == "restack"]
    allowed = [cut for cut in cuts if _fits(operations[:cut])]
    if allowed:
        cut = min(allowed, key=lambda at: (len(spread(operations[at:])), abs(2 * at - len(operations))))
    else:
        cut = next(i for i in range(len(operations) - 1, 0, -1) if i == 1 or _fits(operations[:i]))
    return [tuple(operations[:cut]), *spread(operations[cut:])]


def height_mm(made: Operation) -> float:
    """About how high a step stands on paper."""
    told = [made.order, *([] if made.stops else made.then)]
    lines = -(-len(made.note) // LETTERS_A_LINE) + sum(len(words) // HAND_LETTERS for words in told)
    lines += 0 if made.stops else len(made.then)
    if made.heat is None:
        return (CUT_MM if made.do in {"restack", "crop"} else COLD_MM) + LINE_MM * lines
    inches = DECIMAL_MM if made.stops and made.stops[0].decimal else 0.0
    rows = -(-len(made.stops) // (FRACTIONS_A_ROW if inches else STOPS_A_ROW))
    many = len(made.stops) > (1 if inches else FEW_STOPS)
    stops = (MANY_STOPS_MM + inches) * rows if many else FIRE_MM
    return stops + LINE_MM * lines


def _fits(operations: Sequence[Operation]) -> bool:
    inches = any(stop.decimal for made in operations for stop in made.stops)
    room_mm = INCH_ROOM_MM if inches else ROOM_MM
    few = len(operations) <= MOST_STEPS and sum(map(height_mm, operations)) <= room_mm
    return few or len(operations) == 1
