"""What drives carbon through each steel at one temperature: activity and mobility against y.

Low-alloy steel is one phase, austenite, and has closed formulas. Where carbide or ferrite takes part
(chromium steels, and every steel below about 900 C) the activity is a table against total carbon.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from billet.diffusion.profile import Floats, Ints, Metals
from billet.formulas.activity import (
    alloy_shift,
    austenite_reference,
    carbon_self_interaction,
    nickel_reference,
)
from billet.formulas.diffusion import agren_mobility, carbon_diffusivity_nickel_m2_s, hot_length_ratio

NICKEL_WT = 50.0
# Colder, no carbon moves in a smith's time (own construction).
STILL_BELOW_C = 450.0


@dataclass(frozen=True)
class Table:
    """Activity and mobility of one steel against y, at even steps of y from 0.

    activity: (points,), never falling. hindrance: (points,), one over the mobility B in the flux
    -B grad(activity), in s/m2 of cold metal.
    """

    step: float
    activity: Floats
    hindrance: Floats


@dataclass(frozen=True)
class SteelLaw:
    """ln a = reference + ln(y/(1-y)) + slope y, and ln mobility = mobility + mobility_slope y.

    Each array in the order of the steels; a steel with a table follows the table instead.
    """

    reference: Floats
    slope: Floats
    mobility: Floats
    mobility_slope: Floats
    tables: Mapping[int, Table]

    def activity(self, ratio: Floats, steel: Ints) -> Floats:
        """Carbon activity of cells, graphite 1: (cells,)."""
        activity: Floats = np.exp(self.reference[steel] + self.slope[steel] * ratio) * ratio / (1.0 - ratio)
        for index, table in self.tables.items():
            here = steel == index
            activity[here] = read_table(table.activity, table.step, ratio[here])[0]
        return activity


def read_table(values: Floats, step: float, ratio: Floats) -> tuple[Floats, Floats]:
    """Value and slope of an even table at `ratio`; beyond its ends the last slope goes on."""
    place = ratio / step
    low = np.minimum(np.maximum(place.astype(np.intp), 0), len(values) - 2)
    rise = values[low + 1] - values[low]
    value: Floats = values[low] + (place - low) * rise
    return value, rise / step


def austenite_law(metals: Metals, temperature_c: float, tables: Mapping[int, Table]) -> SteelLaw:
    """The law of all steels at one temperature; sizes cold, so mobility is for cold lengths."""
    log_mobility, mobility_slope = agren_mobility(temperature_c)
    shrink = -2.0 * float(np.log(hot_length_ratio(temperature_c)))
    count = len(metals.names)
    reference = np.empty(count)
    slope = np.full(count, carbon_self_interaction(temperature_c))
    mobility = np.full(count, log_mobility + shrink)
    mobility_slopes = np.full(count, mobility_slope)
    for index, composition in enumerate(metals.compositions):
        if composition["Ni"] > NICKEL_WT:
            reference[index] = nickel_reference(temperature_c)
            slope[index], mobility_slopes[index] = 0.0, 0.0
            mobility[index] = float(np.log(carbon_diffusivity_nickel_m2_s(temperature_c))) + shrink
        else:
            reference[index] = austenite_reference(temperature_c) + alloy_shift(composition, temperature_c)
    return SteelLaw(reference, slope, mobility, mobility_slopes, tables)
