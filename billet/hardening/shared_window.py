"""One window out of several, by the worst loss of any steel that counts."""

from dataclasses import dataclass

import numpy as np

from billet.hardening.loss import WorstLoss
from billet.hardening.possible_range import HardeningRange
from billet.hardening.samples import Array, Mask
from billet.tables.practice import decision_numbers

FADED_K = 100.0
"""How far a steel that counts nothing stands back in a least or most of temperatures."""


@dataclass(frozen=True)
class SharedWindow:
    """(samples,) each. `least` is the least worst loss there is.

    `window_c` is every temperature whose worst loss is at most 1, or a quarter over the least; `works_c`
    every one of at most 2, nan where there is none. `gap_k` is by how much the possible ranges miss each
    other, 0 where they meet. `low_set_by` and `high_set_by` are places of steels.
    """

    least: Array
    low_c: Array
    high_c: Array
    works_low_c: Array
    works_high_c: Array
    gap_k: Array
    low_set_by: np.ndarray[tuple[int], np.dtype[np.intp]]
    high_set_by: np.ndarray[tuple[int], np.dtype[np.intp]]

    @property
    def shared(self) -> Mask:
        """Every steel near the middle of its good range at one temperature."""
        found: Mask = self.least <= decision_numbers("loss")["shared"]
        return found

    @property
    def none(self) -> Mask:
        """No temperature that every steel can be taken to."""
        found: Mask = self.least > decision_numbers("loss")["possible"]
        return found


def shared_window(worst: WorstLoss, ranges: HardeningRange, weight: Array) -> SharedWindow:
    """The window of every sample, of ranges and weights (steels, samples)."""
    numbers = decision_numbers("loss")
    least = worst.least_of_all
    edge = np.maximum(numbers["good"], least + numbers["window_over_least"])
    lows, highs = worst.low_ends_c(edge), worst.high_ends_c(edge)
    works = np.full(len(least), numbers["possible"])
    none = least > works
    low, high = worst.low_c(works), worst.high_c(works)
    return SharedWindow(
        least,
        lows.max(axis=0),
        highs.min(axis=0),
        np.where(none, np.nan, low),
        np.where(none, np.nan, high),
        _gap_k(ranges, weight),
        lows.argmax(axis=0),
        highs.argmin(axis=0),
    )


def _gap_k(ranges: HardeningRange, weight: Array) -> Array:
    """Between the highest lowest and the lowest highest, a steel standing back as it counts less."""
    back_k = FADED_K * (1.0 - weight)
    low, high = (ranges.possible_low_c - back_k).max(axis=0), (ranges.possible_high_c + back_k).min(axis=0)
    found: Array = np.maximum(low - high, 0.0)
    return found
