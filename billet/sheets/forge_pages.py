"""How a long schedule is spread over sides of paper: split where the pile is laid anew."""

from collections.abc import Sequence

from billet.sheets.drawn import Operation

MOST_STEPS = 8
MOST_ROOM = 7.2
"""How much a side holds, in steps of one fire with up to four stops."""
STOPS_A_LINE = 4
COLD_ROOM = 0.55
LINE_ROOM = 0.3


def spread(operations: Sequence[Operation]) -> list[tuple[Operation, ...]]:
    """The steps of each side: all on one to eight steps; else split after a restack where one allows it."""
    if _fits(operations):
        return [tuple(operations)]
    cuts = [i + 1 for i, made in enumerate(operations[:-1]) if made.do == "restack"]
    allowed = [cut for cut in cuts if _fits(operations[:cut])]
    if allowed:
        cut = min(allowed, key=lambda at: (_sides(operations[at:]), abs(2 * at - len(operations))))
    else:
        cut = next(i for i in range(len(operations), 0, -1) if i == 1 or _fits(operations[:i]))
    return [tuple(operations[:cut]), *spread(operations[cut:])]


def room(made: Operation) -> float:
    """The height of a step on paper, in steps of one fire with up to four stops."""
    lines = max(-(-len(made.stops) // STOPS_A_LINE) - 1, 0) * 2 + len(made.then)
    lines += -(-len(made.note) // 40)
    return (1.0 if made.heat is not None else COLD_ROOM) + LINE_ROOM * lines


def _fits(operations: Sequence[Operation]) -> bool:
    return len(operations) <= MOST_STEPS and sum(map(room, operations)) <= MOST_ROOM or len(operations) == 1


def _sides(operations: Sequence[Operation]) -> int:
    return len(spread(operations))
