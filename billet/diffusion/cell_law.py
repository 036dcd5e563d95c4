"""Carbon activity and resistance of cells: read from curves and from even tables, with their slopes."""

import math

import numpy as np

from billet.diffusion.profile import Floats, Ints

TABLE_POINTS = 961
"""Points of every table (own construction): half a hundredth of a per cent of carbon apart in a sink."""
MOST_RATIO = 0.4
"""No steel holds so much carbon for a metal atom; where a search for y strays, it is held here."""


class CellLaw:
    """Activity of each cell and the resistance of half of it against its y, and how steeply both rise.

    (cells,) all. curves: (4, cells), the logarithms at no carbon and their slopes: of activity, then of
    hindrance, which times `half` is the resistance. values: (2, points), activity and hindrance of all tables
    end to end; first: where the table of a cell begins in them, below 0 where it follows the curves, empty
    where all do; per_step: points for one of y.
    """

    def __init__(self, curves: Floats, half: Floats, values: Floats, first: Ints, per_step: Floats) -> None:
        self._reference, self._slope, hindrance, self._fall = curves
        self._resistance = hindrance + np.log(half)
        self._values, self._first, self._per_step, self._half = values, first, per_step, half
        self._where = (first >= 0).nonzero()[0] if len(first) else first
        self._all = len(self._where) == len(half)

    def read(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity and resistance at y."""
        if self._all:
            activity, resistance, _, _ = self.read_slopes(ratio)
            return activity, resistance
        rest = 1.0 / (1.0 - ratio)
        activity = _growing(self._slope, self._reference, ratio)
        activity *= ratio
        activity *= rest
        resistance = self._along_resistance(ratio, rest)
        if len(self._where):
            where = self._where
            activity[where], resistance[where], _, _ = self._read_tables(ratio, where)
        return activity, resistance

    def rising(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity at y, and its derivative by it."""
        if self._all:
            return read_tables(self._values[0], *place_in_tables(self._first, self._per_step, ratio))
        activity, rise = self._along_activity(ratio, 1.0 / (1.0 - ratio))
        if len(self._where):
            where = self._where
            place = place_in_tables(self._first[where], self._per_step[where], ratio[where])
            activity[where], rise[where] = read_tables(self._values[0], *place)
        return activity, rise

    def read_slopes(self, ratio: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Activity and resistance at y, and the derivatives of both by it."""
        if self._all:
            return self._read_tables(ratio, slice(None))
        rest = 1.0 / (1.0 - ratio)
        activity, rise = self._along_activity(ratio, rest)
        resistance = self._along_resistance(ratio, rest)
        climb = rest + rest
        climb += self._fall
        climb *= resistance
        if len(self._where):
            where = self._where
            there = self._read_tables(ratio, where)
            activity[where], resistance[where], rise[where], climb[where] = there
        return activity, resistance, rise, climb

    def _along_activity(self, ratio: Floats, rest: Floats) -> tuple[Floats, Floats]:
        """Activity of the curves and its derivative; `rest` is 1/(1 - y)."""
        growth = _growing(self._slope, self._reference, ratio)
        growth *= rest
        activity = growth * ratio
        growth *= rest
        growth += self._slope * activity
        return activity, growth

    def _along_resistance(self, ratio: Floats, rest: Floats) -> Floats:
        """Resistance by the curves."""
        resistance = _growing(self._fall, self._resistance, ratio)
        resistance *= rest
        resistance *= rest
        return resistance

    def _read_tables(self, ratio: Floats, cells: Ints | slice) -> tuple[Floats, Floats, Floats, Floats]:
        """What `read_slopes` tells, of cells that follow tables."""
        place, half = (
            place_in_tables(self._first[cells], self._per_step[cells], ratio[cells]),
            self._half[cells],
        )
        activity, rise = read_tables(self._values[0], *place)
        resistance, climb = read_tables(self._values[1], *place)
        resistance *= half
        climb *= half
        return activity, resistance, rise, climb

    def steepest(self) -> Floats:
        """Most that activity rises with y in each cell, whatever its y: (cells,)."""
        top = np.exp(self._reference + self._slope * MOST_RATIO)
        most: Floats = top * (1.0 + self._slope) / (1.0 - MOST_RATIO) ** 2
        for begin in set(self._first[self._where].tolist()):
            here = self._first == begin
            rises = np.diff(self._values[0, begin : begin + TABLE_POINTS])
            most[here] = float(np.max(rises)) * self._per_step[here]
        return most

    def at(self, cell: int, ratio: float) -> float:
        """Activity of one cell at this y."""
        if len(self._where) and self._first.item(cell) >= 0:
            one = slice(cell, cell + 1)
            place = place_in_tables(self._first[one], self._per_step[one], np.array([ratio]))
            return read_tables(self._values[0], *place)[0].item()
        rise = self._reference.item(cell) + self._slope.item(cell) * ratio
        return math.exp(rise) * ratio / (1.0 - ratio)


def _growing(slope: Floats, start: Floats, ratio: Floats) -> Floats:
    """exp(start + slope y)."""
    power = slope * ratio
    power += start
    grown: Floats = np.exp(power, out=power)
    return grown


def place_in_tables(first: Ints, per_step: Floats, ratio: Floats) -> tuple[Ints, Floats, Floats]:
    """Where in even tables a y lies: the point below it, steps beyond that, and steps for one of y.

    Beyond the ends of a table its last slope goes on. (cells,) all.
    """
    part = ratio * per_step
    low = part.astype(np.intp)
    np.maximum(low, 0, out=low)
    np.minimum(low, TABLE_POINTS - 2, out=low)
    part -= low
    low += first
    return low, part, per_step


def read_tables(values: Floats, low: Ints, part: Floats, per_step: Floats) -> tuple[Floats, Floats]:
    """What tables hold at such places, and how steeply it rises: (cells,) both."""
    here, rise = values.take(low), values.take(low + 1)
    rise -= here
    here += part * rise
    rise *= per_step
    return here, rise
