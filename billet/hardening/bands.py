"""Bands of a plan: every input that is not exact moved to its nine-in-ten ends, one at a time.

The squares of what each moves are added, upwards and downwards apart: nine cases in ten lie inside where
the inputs are independent and their effects nearly straight.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from billet.contract.values import Estimate
from billet.hardening.analysis_limits import grade_limits_wt, laboratory_error_wt
from billet.hardening.austenite import dissolved_error_wt
from billet.hardening.samples import Array, FormulaErrors, LayerSamples, side_by_side
from billet.tables.practice import decision_numbers

UNIFORM_NINE_IN_TEN = 0.9
VARIED = ("C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")


@dataclass(frozen=True)
class Perturbed:
    """A steel as the plan takes it (sample 0) and with one input moved in every other sample."""

    wt: Mapping[str, Array]
    errors: FormulaErrors

    @property
    def samples(self) -> int:
        """How many there are."""
        return len(self.errors.soak)


def perturbed(layer: LayerSamples) -> Perturbed:
    """The first sample of a layer, with its analysis and every formula's error moved down and up."""
    analysis = {e: float(v[0]) for e, v in layer.wt.items()}
    moves = [*_of_analysis(layer, analysis), *_of_formulas(layer)]
    count = 1 + len(moves)
    wt = {e: np.full(count, v) for e, v in analysis.items()}
    base = FormulaErrors.none(count)
    fields = {name: getattr(base, name).copy() for name in FormulaErrors.__dataclass_fields__}
    for place, (kind, name, value) in enumerate(moves, start=1):
        if kind == "wt":
            wt.setdefault(name, np.zeros(count))[place] = value
        else:
            fields[name][place] = value
    return Perturbed(wt, FormulaErrors(**fields))


def analyses_moved(layer: LayerSamples) -> dict[str, Array]:
    """The analysis of the first sample of a layer, and with one element moved in every other, (samples,)."""
    analysis = {e: float(v[0]) for e, v in layer.wt.items()}
    moves = _of_analysis(layer, analysis)
    wt = {e: np.full(1 + len(moves), v) for e, v in analysis.items()}
    for place, (_, element, value) in enumerate(moves, start=1):
        wt.setdefault(element, np.zeros(1 + len(moves)))[place] = value
    return wt


def _of_analysis(layer: LayerSamples, analysis: Mapping[str, float]) -> list[tuple[str, str, float]]:
    moves = []
    for element in VARIED:
        value, supplied = analysis.get(element, 0.0), layer.supplied_wt.get(element)
        usual = 0.0 if supplied is None else float(supplied[0])
        for end in ends_wt(layer, element, usual):
            moved = max(value + end - usual, 0.0)
            if moved != value:
                moves.append(("wt", element, moved))
    return moves


def ends_wt(layer: LayerSamples, element: str, usual: float) -> tuple[float, float]:
    """Least and most of an element in nine melts of ten of this steel, around the usual. [wt%]

    Melts of a grade lie evenly between its limits, a given analysis is off by what laboratories are.
    """
    if layer.grade is not None and not layer.given:
        low, high = grade_limits_wt(layer.grade, element, usual)
        return usual + UNIFORM_NINE_IN_TEN * (low - usual), usual + UNIFORM_NINE_IN_TEN * (high - usual)
    if usual <= 0.0:
        return usual, usual
    off = laboratory_error_wt(element, usual)
    return max(usual - off, 0.0), usual + off


def _of_formulas(layer: LayerSamples) -> list[tuple[str, str, float]]:
    numbers = decision_numbers("state")
    dissolved = float(dissolved_error_wt(layer.wt)[0])
    size = {
        "ms_k": numbers["ms_error_k"],
        "hrc": numbers["hrc_error"],
        "dissolved_wt": dissolved,
    }
    moves = [("error", name, sign * value) for name, value in size.items() for sign in (-1.0, 1.0)]
    half = 0.5 * UNIFORM_NINE_IN_TEN
    return [*moves, ("error", "soak", 0.5 - half), ("error", "soak", 0.5 + half)]


def off_band(values: Array) -> tuple[Array, Array]:
    """How far down and up the perturbed samples span, the value first on the last axis; where one of them
    has no value it moves nothing."""
    off = _off(values[..., 1:], values[..., :1])
    return (
        np.sqrt((np.minimum(off, 0.0) ** 2).sum(axis=-1)),
        np.sqrt((np.maximum(off, 0.0) ** 2).sum(axis=-1)),
    )


def off_bands(values: Array, starts: Sequence[int]) -> tuple[Array, Array]:
    """`off_band` of several steels whose samples stand one after another on the last axis and begin at these
    places: (..., steels)."""
    sizes = np.diff([*starts, values.shape[-1]])
    off = _off(values, np.repeat(values[..., starts], sizes, axis=-1))
    return (
        np.sqrt(np.add.reduceat(np.minimum(off, 0.0) ** 2, starts, axis=-1)),
        np.sqrt(np.add.reduceat(np.maximum(off, 0.0) ** 2, starts, axis=-1)),
    )


def _off(values: Array, first: Array) -> Array:
    off = values - first
    return np.where(np.isfinite(off), off, 0.0)


def band_around(values: Array, error: float) -> Estimate | None:
    """The estimate that perturbed analyses (samples,) and an error of its own span; None without a value."""
    value = float(values[0])
    if not np.isfinite(value):
        return None
    down, up = (float(np.hypot(off, error)) for off in off_band(values))
    return Estimate(value, value - down, value + up)


def concatenated(parts: Sequence[Perturbed]) -> tuple[dict[str, Array], FormulaErrors]:
    """Several perturbed steels one after another, for one solution of them all."""
    return side_by_side([one.wt for one in parts]), FormulaErrors.side_by_side([one.errors for one in parts])
