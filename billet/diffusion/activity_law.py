"""What drives carbon through each steel at one temperature: activity and mobility against y.

Low-alloy steel is one phase, austenite, and has closed formulas. Where carbide or ferrite takes part
(chromium steels, and every steel below about 900 C) the activity is a table against total carbon.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from billet.composition import Composition
from billet.diffusion.profile import Floats, Ints, Metals
from billet.formulas.activity import (
    alloy_shift,
    austenite_reference,
    carbon_self_interaction,
    nickel_reference,
)
from billet.formulas.diffusion import agren_mobility, carbon_diffusivity_nickel_m2_s, hot_length_ratio

NICKEL_WT = 50.0
# From steel to nickel the law goes over between these contents of nickel (own construction).
_NICKEL_RAMP_WT = (40.0, 60.0)
# From the first to the second, chromium turns a layer into a sink (own construction).
_SINK_RAMP_WT = (3.0, 5.0)
SINK_CR_WT = _SINK_RAMP_WT[1]
# Colder, no carbon moves in a smith's time (own construction).
STILL_BELOW_C = 450.0
TABLE_POINTS = 961
"""Points of every table."""
MOST_RATIO = 0.4
"""No steel holds so much carbon for a metal atom; where a search for y strays, it is held here."""


def ramp(value: float, low: float, high: float) -> float:
    """0 up to `low`, 1 from `high`, straight between."""
    return min(max((value - low) / (high - low), 0.0), 1.0)


@dataclass(frozen=True)
class Table:
    """Activity and mobility of one steel against y, at even steps of y from 0.

    activity: (TABLE_POINTS,), never falling. hindrance: (TABLE_POINTS,), one over the mobility B in the flux
    -B grad(activity), in s/m2 of cold metal.
    """

    step: float
    activity: Floats
    hindrance: Floats


@dataclass(frozen=True)
class Curve:
    """ln a = reference + ln(y/(1-y)) + slope y, and ln mobility = mobility + mobility_slope y."""

    reference: float
    slope: float
    mobility: float
    mobility_slope: float

    def table(self, ratio: Floats) -> Table:
        """The same as a table at even steps of y from 0."""
        rest = 1.0 - ratio
        activity = np.exp(self.reference + self.slope * ratio) * ratio / rest
        fall = self.reference - self.mobility + (self.slope - self.mobility_slope) * ratio
        return Table(float(ratio[1]), activity, np.exp(fall) / (rest * rest))


@dataclass(frozen=True)
class SteelLaw:
    """The curves of all steels, each array in their order; a steel with a table follows the table."""

    reference: Floats
    slope: Floats
    mobility: Floats
    mobility_slope: Floats
    tables: Mapping[int, Table]

    def activity(self, ratio: Floats, steel: Ints) -> Floats:
        """Carbon activity of cells, graphite 1: the shape of `ratio`, (cells,) or (rows, cells)."""
        rows = np.atleast_2d(ratio)
        return self.of_cells(steel).read(rows)[0].reshape(ratio.shape)

    def of_cells(self, steel: Ints) -> "CellLaw":
        """The law of these cells, each of the steel at its place."""
        curves, values, first, per_step = self._by_steel
        return CellLaw(curves.take(steel, axis=1), values, first[steel], per_step[steel])

    @cached_property
    def _by_steel(self) -> tuple[Floats, Floats, Ints, Floats]:
        """What `CellLaw` holds by cell, by steel."""
        hindrance, fall = self.reference - self.mobility, self.slope - self.mobility_slope
        count = len(self.slope)
        first, per_step, values = np.full(count, -1), np.ones(count), [np.zeros((2, 0))]
        for place, (index, table) in enumerate(self.tables.items()):
            first[index], per_step[index] = place * TABLE_POINTS, 1.0 / table.step
            values.append(np.stack([table.activity, table.hindrance]))
        curves = np.stack([self.reference, self.slope, hindrance, fall])
        return curves, np.concatenate(values, axis=1), first, per_step


class CellLaw:
    """Activity and hindrance of each cell against its y, and how steeply both rise.

    curves: (4, cells), the logarithms at no carbon and their slopes: of activity, then of hindrance. values:
    (2, points), activity and hindrance of all tables end to end; first: (cells,), where the table of a cell
    begins in them, below 0 where it follows the curves; per_step: (cells,), points for one of y.
    """

    def __init__(self, curves: Floats, values: Floats, first: Ints, per_step: Floats) -> None:
        self.curves, self.values, self.first, self.per_step = curves, values, first, per_step
        self._reference, self._slope, self._hindrance, self._fall = curves
        self._some = self._all = False
        if values.size:
            where = np.flatnonzero(first >= 0)
            self._some, self._all = len(where) > 0, len(where) == len(first)
            self._where: Ints | slice = slice(None) if self._all else where
            self._first, self._per_step = first[self._where], per_step[self._where]

    def part(self, first: int, last: int) -> "CellLaw":
        """That of the cells [first, last)."""
        cells = slice(first, last)
        return CellLaw(self.curves[:, cells], self.values, self.first[cells], self.per_step[cells])

    def read(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity and hindrance at y: (rows, cells) all."""
        if self._all:
            (activity, hindrance), _ = self._read_tables(ratio)
            return activity, hindrance
        rest = 1.0 / (1.0 - ratio)
        activity = np.exp(self._slope * ratio + self._reference) * ratio * rest
        hindrance = np.exp(self._fall * ratio + self._hindrance) * rest * rest
        if self._some:
            there, _ = self._read_tables(ratio[:, self._where])
            activity[:, self._where], hindrance[:, self._where] = there
        return activity, hindrance

    def rising(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity at y, and its derivative by it: (rows, cells) both."""
        if self._all:
            (activity,), (rise,) = _read(self.values[:1], self._first, self._per_step, ratio)
            return activity, rise
        activity, rise = self._along_curves(ratio, 1.0 / (1.0 - ratio))
        if self._some:
            where = self._where
            (there,), (by,) = _read(self.values[:1], self._first, self._per_step, ratio[:, where])
            activity[:, where], rise[:, where] = there, by
        return activity, rise

    def read_slopes(self, ratio: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Activity and hindrance at y, and the derivatives of both by it: (rows, cells) all."""
        if self._all:
            (activity, hindrance), (rise, climb) = self._read_tables(ratio)
            return activity, hindrance, rise, climb
        rest = 1.0 / (1.0 - ratio)
        activity, rise = self._along_curves(ratio, rest)
        hindrance = np.exp(self._fall * ratio + self._hindrance) * rest * rest
        climb = (2.0 * rest + self._fall) * hindrance
        if self._some:
            where, (there, by) = self._where, self._read_tables(ratio[:, self._where])
            activity[:, where], hindrance[:, where] = there
            rise[:, where], climb[:, where] = by
        return activity, hindrance, rise, climb

    def _along_curves(self, ratio: Floats, rest: Floats) -> tuple[Floats, Floats]:
        """Activity of the curves and its derivative; `rest` is 1/(1 - y)."""
        growth = np.exp(self._slope * ratio + self._reference) * rest
        activity = growth * ratio
        return activity, growth * rest + self._slope * activity

    def steepest(self) -> Floats:
        """Most that activity rises with y in each cell, whatever its y: (cells,)."""
        top = np.exp(self._reference + self._slope * MOST_RATIO)
        most: Floats = top * (1.0 + self._slope) / (1.0 - MOST_RATIO) ** 2
        for begin in set(self.first[self.first >= 0].tolist()):
            here = self.first == begin
            rises = np.diff(self.values[0, begin : begin + TABLE_POINTS])
            most[here] = float(np.max(rises)) * self.per_step[here]
        return most

    def at(self, cell: int, ratio: float) -> float:
        """Activity of one cell at this y."""
        if self.values.size and self.first[cell] >= 0:
            one = slice(cell, cell + 1 or None)
            there, _ = _read(self.values, self.first[one], self.per_step[one], np.array([[ratio]]))
            return there.item(0)
        rise = self._reference.item(cell) + self._slope.item(cell) * ratio
        return math.exp(rise) * ratio / (1.0 - ratio)

    def _read_tables(self, ratio: Floats) -> tuple[Floats, Floats]:
        return _read(self.values, self._first, self._per_step, ratio)


def _read(values: Floats, first: Ints, per_step: Floats, ratio: Floats) -> tuple[Floats, Floats]:
    """Values and slopes of even tables at `ratio`, (2, rows, cells) both; beyond the ends of a table its
    last slope goes on."""
    place = ratio * per_step
    low = np.minimum(np.maximum(place.astype(np.intp), 0), TABLE_POINTS - 2)
    part = place - low
    low += first
    here = values.take(low, axis=1)
    low += 1
    rise = values.take(low, axis=1) - here
    return here + part * rise, rise * per_step


def mixed(first: Table, second: Table, share: float) -> Table:
    """Between two tables on the same steps by logarithms: `share` of the second."""
    if share <= 0.0:
        return first
    if share >= 1.0:
        return second

    def between(low: Floats, high: Floats) -> Floats:
        out: Floats = np.zeros_like(low)
        there = (low > 0.0) & (high > 0.0)
        out[there] = np.exp((1.0 - share) * np.log(low[there]) + share * np.log(high[there]))
        return out

    activity = np.maximum.accumulate(between(first.activity, second.activity))
    return Table(first.step, activity, between(first.hindrance, second.hindrance))


def nickel_share(composition: Composition) -> float:
    """How far the law of a metal is that of nickel, 0 to 1."""
    return ramp(composition["Ni"], *_NICKEL_RAMP_WT)


def sink_share(composition: Composition) -> float:
    """How far a steel is a carbide-forming sink, 0 to 1."""
    return ramp(composition["Cr"], *_SINK_RAMP_WT)


def austenite_curve(composition: Composition, temperature_c: float) -> Curve:
    """The closed formulas of one metal; sizes cold, so mobility is for cold lengths."""
    log_mobility, mobility_slope = agren_mobility(temperature_c)
    shrink = -2.0 * math.log(hot_length_ratio(temperature_c))
    nickel = nickel_share(composition)
    steel = 1.0 - nickel
    reference, mobility = 0.0, shrink
    if steel > 0.0:
        reference += steel * (austenite_reference(temperature_c) + alloy_shift(composition, temperature_c))
        mobility += steel * log_mobility
    if nickel > 0.0:
        reference += nickel * nickel_reference(temperature_c)
        mobility += nickel * math.log(carbon_diffusivity_nickel_m2_s(temperature_c))
    slope = steel * carbon_self_interaction(temperature_c)
    return Curve(reference, slope, mobility, steel * mobility_slope)


def austenite_law(metals: Metals, temperature_c: float, tables: Mapping[int, Table]) -> SteelLaw:
    """The law of all steels at one temperature."""
    curves = [austenite_curve(composition, temperature_c) for composition in metals.compositions]
    return SteelLaw(
        np.array([curve.reference for curve in curves]),
        np.array([curve.slope for curve in curves]),
        np.array([curve.mobility for curve in curves]),
        np.array([curve.mobility_slope for curve in curves]),
        tables,
    )
