"""Critical lines of every layer in every sample, solved in one batch."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import accumulate, pairwise

import numpy as np

from billet.formulas.equilibrium import CriticalLines, lines_many
from billet.hardening.samples import Array, FormulaErrors, side_by_side
from billet.tables.practice import decision_numbers

MODEL = ("C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")


@dataclass(frozen=True)
class Lines:
    """Lines on heating in C, (samples,) each; nan where an analysis has no such line.

    `full_c` is where ferrite is gone: Ae3, or Ae1 of a steel without one. `high_alloy` runs from 0, where
    the equilibrium holds, to 1, where only printed figures count.
    """

    ae1_c: Array
    ae3_c: Array
    acm_c: Array
    full_c: Array
    high_alloy: Array

    def first(self) -> CriticalLines:
        """The lines of the first sample, which is what a plan decides on."""
        return CriticalLines(*map(_first, (self.ae1_c, self.ae3_c, self.acm_c)))

    def split(self, sizes: Sequence[int]) -> tuple["Lines", ...]:
        """The steels apart that stand one after another, each of so many samples."""
        ends = list(accumulate(sizes, initial=0))
        each = [getattr(self, f.name) for f in fields(Lines)]
        return tuple(Lines(*(values[a:b] for values in each)) for a, b in pairwise(ends))


def _first(line_c: Array) -> float | None:
    return None if np.isnan(line_c[0]) else float(line_c[0])


def lines_of(parts: Sequence[tuple[Mapping[str, Array], FormulaErrors]]) -> tuple[Lines, ...]:
    """Lines of several steels, each (samples,) long, with their errors, in one solution."""
    if not parts:
        return ()
    analyses, errors = zip(*parts, strict=True)
    whole = lines_together(side_by_side(analyses), FormulaErrors.side_by_side(errors))
    return whole.split([len(wt["C"]) for wt in analyses])


def lines_together(wt: Mapping[str, Array], errors: FormulaErrors) -> Lines:
    """Lines of samples, whatever steel they are of, with their errors.

    Over the limits of the equilibrium the analysis is held at them, so that what is reckoned from the
    lines stays steady there; `high_alloy` says how far it counts.
    """
    found = lines_many({e: v for e, v in held_inside(wt).items() if e == "C" or v.any()})
    ae1, ae3 = found["ae1_c"] + errors.ae1_k, found["ae3_c"] + errors.ae3_k
    full = np.where(np.isnan(ae3), ae1, ae3)
    return Lines(ae1, ae3, found["acm_c"] + errors.acm_k, full, high_alloy(wt))


def high_alloy(wt: Mapping[str, Array]) -> Array:
    """How far a steel is beyond the computed equilibrium, 0 to 1: by chromium, or by W + Mo + V."""
    numbers = decision_numbers("high_alloy")
    zero = np.zeros(len(wt["C"]))
    refractory = wt.get("W", zero) + wt.get("Mo", zero) + wt.get("V", zero)
    most: Array = np.maximum(
        ramp(wt.get("Cr", zero), *numbers["cr_wt"]), ramp(refractory, *numbers["w_mo_v_wt"])
    )
    return most


def ramp(value: Array, start: float, end: float) -> Array:
    """0 up to `start`, 1 from `end`, straight between."""
    part: Array = np.minimum(np.maximum((value - start) / (end - start), 0.0), 1.0)
    return part


def held_inside(wt: Mapping[str, Array]) -> dict[str, Array]:
    """The analysis inside what the equilibrium is computed for."""
    limits = decision_numbers("high_alloy")
    zero = np.zeros(len(wt["C"]))
    refractory = wt.get("W", zero) + wt.get("Mo", zero) + wt.get("V", zero)
    factor = np.minimum(1.0, limits["held_w_mo_v_wt"] / np.maximum(refractory, 1e-9))
    held = {}
    for element in MODEL:
        value = wt.get(element, zero)
        if element in ("W", "Mo", "V"):
            value = value * factor
        held[element] = np.minimum(value, limits["held_wt"].get(element, np.inf))
    held["C"] = np.maximum(held["C"], limits["least_c_wt"])
    return held
