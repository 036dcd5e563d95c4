"""One window out of several, by the worst loss of any steel that counts."""

from collections.abc import Sequence
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


def shared_window(
    worst: WorstLoss, ranges: Sequence[HardeningRange], weights: Sequence[Array]
) -> SharedWindow:
    """The window of every sample."""
    numbers = decision_numbers("loss")
    least = worst.least(0.0)
    edge = np.maximum(numbers["good"], least + numbers["window_over_least"])
    lows, highs = worst.low_ends_c(edge), worst.high_ends_c(edge)
    works = np.full(len(least), numbers["possible"])
    none = least > works
    low, high = worst.low_c(works), worst.high_c(works)
    return SharedWindow(
        least,
        np.max(lows, axis=0),
        np.min(highs, axis=0),
        np.where(none, np.nan, low),
        np.where(none, np.nan, high),
        _gap_k(ranges, weights),
        np.argmax(lows, axis=0),
        np.argmin(highs, axis=0),
    )


def _gap_k(ranges: Sequence[HardeningRange], weights: Sequence[Array]) -> Array:
    low = faded_most([r.possible_low_c for r in ranges], weights)
    high = faded_least([r.possible_high_c for r in ranges], weights)
    return np.maximum(low - high, 0.0)


def faded_most(values: Sequence[Array], weights: Sequence[Array], by: float = FADED_K) -> Array:
    """The highest of these, each stepping back by `by` as its weight goes to 0: (samples,)."""
    found: Array = np.max(
        np.stack([v - by * (1.0 - w) for v, w in zip(values, weights, strict=True)]), axis=0
    )
    return found


def faded_least(values: Sequence[Array], weights: Sequence[Array], by: float = FADED_K) -> Array:
    """The lowest of these, each stepping back by `by` as its weight goes to 0: (samples,)."""
    found: Array = np.min(
        np.stack([v + by * (1.0 - w) for v, w in zip(values, weights, strict=True)]), axis=0
    )
    return found
