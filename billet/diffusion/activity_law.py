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
from billet.diffusion.cell_law import TABLE_POINTS, CellLaw, place_in_tables, read_tables
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
        """Carbon activity of cells, graphite 1: (cells,) all."""
        curves, values, first, per_step = self._by_steel
        slope, reference = curves[1].take(steel), curves[0].take(steel)
        activity: Floats = np.exp(slope * ratio + reference) * ratio / (1.0 - ratio)
        if self.tables:
            where = (first.take(steel) >= 0).nonzero()[0]
            there = steel[where]
            place = place_in_tables(first.take(there), per_step.take(there), ratio[where])
            activity[where], _ = read_tables(values[0], *place)
        return activity

    def of_cells(self, steel: Ints, half: Floats) -> CellLaw:
        """The law of these cells, each of the steel at its place; half: (cells,), the resistance of half of
        each at a hindrance of 1."""
        curves, values, first, per_step = self._by_steel
        if not self.tables:
            return CellLaw(curves.take(steel, axis=1), half, values, first[:0], per_step[:0])
        return CellLaw(curves.take(steel, axis=1), half, values, first.take(steel), per_step.take(steel))

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
