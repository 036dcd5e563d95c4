"""One temperature to set, for a way of holding it that is never exact."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from billet.contract.values import Grade
from billet.hardening.loss import WorstLoss
from billet.hardening.samples import Array
from billet.tables.practice import decision_numbers


@dataclass(frozen=True)
class SetPoint:
    """(samples,) each: the temperature before and after rounding, C, and the worst loss over the
    half-width there."""

    exact_c: Array
    c: Array
    loss: Array


def set_point(worst: WorstLoss, half_width_k: float | Array) -> SetPoint:
    """Where to set a fire of this half-width, one for all samples or one for each.

    As low as the worst loss over the half-width stays near the least there is, and never under what a
    finer fire would be set to: overshoot stays in the steel, a blade that came out soft can be hardened
    again.
    """
    numbers = decision_numbers("loss")
    least = worst.least(half_width_k)
    best = 0.5 * (worst.low_c(least) + worst.high_c(least))
    spare = np.minimum(
        numbers["spare"], np.minimum(np.abs(numbers["good"] - least), np.abs(numbers["possible"] - least))
    )
    lowest = worst.low_c(least + spare) + half_width_k
    exact = np.minimum(best, np.maximum(lowest, _lowest_of_finer(worst, least)))
    return _rounded(worst, exact, half_width_k)


def _lowest_of_finer(worst: WorstLoss, least: Array) -> Array:
    """The lowest of the best temperatures of all finer fires: they lie on one line over the loss, which
    bends only where a steel passes an end of a range."""
    start = worst.least_of_all
    marks = np.stack([start, least, *worst.weight])
    inside = np.minimum(np.maximum(marks, start), least)[:, None]
    lowest: Array = (0.5 * (worst.low_c(inside) + worst.high_c(inside))).min(axis=0)
    return lowest


def _rounded(worst: WorstLoss, exact_c: Array, half_width_k: float | Array) -> SetPoint:
    """The multiple of 5 below if it costs hardly more, else the neighbour that costs less."""
    numbers = decision_numbers("loss")
    step = numbers["round_to_c"]
    below = step * np.floor(exact_c / step)
    above = below + step
    here, low, high = worst.over(np.stack([exact_c, below, above])[:, None], half_width_k)
    down = (low <= here + numbers["rounding_costs"]) | (low <= high)
    return SetPoint(exact_c, np.where(down, below, above), np.where(down, low, high))


def grade_of(loss: float) -> Grade:
    """What a worst loss over the half-width means."""
    numbers = decision_numbers("loss")
    if loss <= numbers["good"]:
        return "good"
    return "works" if loss <= numbers["possible"] else "no"


def grades_of_fires(worst: WorstLoss, half_widths_k: Sequence[float]) -> list[Grade]:
    """What each of these fires makes of the one sample of a plan, each at its own set point."""
    widths = np.array(half_widths_k, dtype=np.float64)
    return [grade_of(float(loss)) for loss in set_point(worst.repeated(len(widths)), widths).loss]


def widest_half_width_k(worst: WorstLoss, c: Array, loss: float) -> Array:
    """The roughest fire set to `c` that keeps the worst loss: (samples,); 0 where none does. [K]"""
    limit = np.full(len(c), loss)
    found: Array = np.maximum(np.minimum(c - worst.low_c(limit), worst.high_c(limit) - c), 0.0)
    return found


def fallback_temperature(
    worst: WorstLoss, half_width_k: float | Array, own: Sequence[SetPoint], edge_share: Array
) -> Array:
    """The least bad temperature where no shared one exists: (samples,). [C]

    From the best compromise, at a loss of 2, over to the set point of the steel with most of the edge,
    at a loss of 3 and beyond.
    """
    numbers = decision_numbers("loss")
    least = worst.least(half_width_k)
    best = 0.5 * (worst.low_c(least) + worst.high_c(least))
    chosen = edge_share.argmax(axis=0)
    alone = np.take_along_axis(np.stack([p.exact_c for p in own]), chosen[None, :], axis=0)[0]
    share = np.clip(least - numbers["possible"], 0.0, 1.0)
    mixed = (1.0 - share) * best + share * alone
    step = numbers["round_to_c"]
    found: Array = step * np.floor(mixed / step + 1e-9)
    return found
