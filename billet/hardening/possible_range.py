"""How far a steel can be taken: from just over its critical line up to coarse grain or much austenite.

Own construction, every end a steady function of the analysis.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields

import numpy as np

from billet.hardening.critical_lines import Lines, ramp
from billet.hardening.good_range import GoodRange
from billet.hardening.samples import Array
from billet.tables.practice import decision_numbers


@dataclass(frozen=True)
class HardeningRange:
    """Good and possible range of a steel, C, (samples,) each: possible < good < possible."""

    good_low_c: Array
    good_high_c: Array
    possible_low_c: Array
    possible_high_c: Array
    sd_k: Array
    known: Array

    def of_steels(self, count: int) -> "HardeningRange":
        """So many steels one after another as (steels, samples)."""
        return HardeningRange(*(getattr(self, f.name).reshape(count, -1) for f in fields(HardeningRange)))

    def each(self) -> tuple["HardeningRange", ...]:
        """The steels of (steels, samples) apart."""
        rows = zip(*(getattr(self, f.name) for f in fields(HardeningRange)), strict=True)
        return tuple(HardeningRange(*row) for row in rows)


def hardening_range(wt: Mapping[str, Array], good: GoodRange, lines: Lines) -> HardeningRange:
    """Both ranges of a steel. Below the eutectoid neither end goes under Ae3."""
    numbers = decision_numbers("possible")
    floor = _floor_c(lines)
    by_line = _as_low_as_it_goes_c(wt["C"], lines)
    low = np.minimum(good.low_c - numbers["least_below_k"], by_line)
    low = np.maximum(low, floor)
    alloyed = lines.high_alloy
    low = (1.0 - alloyed) * low + alloyed * (good.low_c - numbers["high_alloy_below_k"])
    good_low = np.maximum(good.low_c, low + numbers["least_gap_k"])
    good_high = np.maximum(good.high_c, good_low + 2.0 * decision_numbers("good_range")["least_half_width_k"])
    above = _room_above_k(wt["C"])
    above = (1.0 - alloyed) * above + alloyed * numbers["high_alloy_above_k"]
    return HardeningRange(good_low, good_high, low, good_high + above, good.sd_k, good.known)


def _floor_c(lines: Lines) -> Array:
    """Ae1 + 30, and Ae3 + 15 where there is an Ae3. [C]"""
    numbers = decision_numbers("possible")
    ae3 = np.where(np.isnan(lines.ae3_c), -np.inf, lines.ae3_c)
    found: Array = np.maximum(lines.ae1_c + numbers["least_above_ae1_k"], ae3 + numbers["least_above_ae3_k"])
    return found


def _as_low_as_it_goes_c(carbon_wt: Array, lines: Lines) -> Array:
    """From Ae3 + 25 at 0.5 % carbon to Ae1 + 50 at 0.7 %. [C]"""
    numbers = decision_numbers("possible")
    share = ramp(carbon_wt, *numbers["line_changes_wt"])
    over_ae3, over_ae1 = lines.full_c + numbers["above_ae3_k"], lines.ae1_c + numbers["above_ae1_k"]
    found: Array = (1.0 - share) * over_ae3 + share * over_ae1
    return found


def _room_above_k(carbon_wt: Array) -> Array:
    """How far over the good range: much where grain alone limits it, less where much carbon dissolves. [K]"""
    numbers = decision_numbers("possible")
    share = ramp(carbon_wt, *numbers["room_falls_wt"])
    most, least = numbers["room_above_k"]
    found: Array = (1.0 - share) * most + share * least
    return found
