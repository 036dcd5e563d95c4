"""How a long schedule is spread over sides of paper: split where the pile is laid anew."""

from collections.abc import Callable, Sequence
from functools import cache
from itertools import pairwise

from billet.sheets.drawn import Operation

MOST_STEPS = 8
Part = tuple[int, int]
"""The steps of a side: places in the schedule, from the first to before the second."""


def spread(operations: Sequence[Operation], holds: Callable[[Part], bool]) -> list[Part]:
    """The steps of each side: at most eight, and no more than a side holds; split after a restack where one
    allows it. A step that no side holds has one of its own."""
    end = len(operations)

    @cache
    def fits(start: int, stop: int) -> bool:
        return stop - start <= 1 or (stop - start <= MOST_STEPS and holds((start, stop)))

    @cache
    def cuts(start: int) -> tuple[int, ...]:
        """The places from which the sides begin that hold the steps from here on, and the end."""
        if fits(start, end):
            return start, end
        laid = [i + 1 for i in range(start, end - 1) if operations[i].do == "restack"]
        allowed = [cut for cut in laid if fits(start, cut)]
        if allowed:
            cut = min(allowed, key=lambda at: (len(cuts(at)), abs(2 * at - start - end)))
        else:
            cut = next(i for i in range(end - 1, start, -1) if fits(start, i))
        return start, *cuts(cut)

    return list(pairwise(cuts(0)))
