"""How a long schedule is spread over sides of paper: split where the pile is laid anew.

Heights are millimetres of paper in twelve points, measured on the printed sheet; a side is the shorter one
of A4 and Letter.
"""

from collections.abc import Sequence

from billet.sheets.drawn import Operation

MOST_STEPS = 8
ROOM_MM = 168.0
"""What the steps of a side may take: Letter, less head, what can hurt and title block."""
FIRE_MM = 21.0
MANY_STOPS_MM = 27.0
COLD_MM = 14.0
CUT_MM = 33.0
LINE_MM = 5.0
FEW_STOPS, STOPS_A_ROW = 3, 6
LETTERS_A_LINE = 44


def spread(operations: Sequence[Operation]) -> list[tuple[Operation, ...]]:
    """The steps of each side: all on one to eight steps; else split after a restack where one allows it."""
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
    lines = -(-len(made.note) // LETTERS_A_LINE)
    if made.heat is None:
        return (CUT_MM if made.do in {"restack", "crop"} else COLD_MM) + LINE_MM * lines
    rows = -(-len(made.stops) // STOPS_A_ROW)
    return (MANY_STOPS_MM * rows if len(made.stops) > FEW_STOPS else FIRE_MM) + LINE_MM * lines


def _fits(operations: Sequence[Operation]) -> bool:
    few = len(operations) <= MOST_STEPS and sum(map(height_mm, operations)) <= ROOM_MM
    return few or len(operations) == 1
