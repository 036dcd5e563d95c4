"""What a temperature costs each steel: 0 amid its good range, 1 at its ends, 2 at the possible ends."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from billet.hardening.possible_range import HardeningRange
from billet.hardening.samples import Array

LEAST_WEIGHT = 1e-9


@dataclass(frozen=True)
class WorstLoss:
    """The worst weighted loss of several steels over temperature: (steels, samples) each.

    A steel's loss is straight from 0 amid its good range to 1 at its ends (`half_k` off), and from there
    on as straight as reaches 2 at the possible ends (`under_k` and `over_k` further). Each falls and rises
    once, so does their worst, and the temperatures of no more than a loss are one interval.

    Temperatures and losses that are asked for are (samples,), or (asked, 1, samples) of several at once, and
    so are the answers: (asked, steels, samples) or (asked, samples).
    """

    middle_c: Array
    half_k: Array
    under_k: Array
    over_k: Array
    weight: Array

    def of_steels(self, temperature_c: Array) -> Array:
        """Unweighted loss of every steel at these temperatures, (samples,): (steels, samples)."""
        off = temperature_c - self.middle_c
        beyond = np.abs(off) - self.half_k
        outer = np.where(off < 0.0, self.under_k, self.over_k)
        found: Array = np.where(beyond <= 0.0, np.abs(off) / self.half_k, 1.0 + beyond / outer)
        return found

    def at(self, temperature_c: Array) -> Array:
        """Worst weighted loss at these temperatures: (samples,)."""
        found: Array = (self.weight * self.of_steels(temperature_c)).max(axis=-2)
        return found

    def over(self, temperature_c: Array, half_width_k: float | Array) -> Array:
        """Worst loss from half a width under to half a width over: (samples,)."""
        found: Array = np.maximum(
            self.at(temperature_c - half_width_k), self.at(temperature_c + half_width_k)
        )
        return found

    def low_ends_c(self, loss: Array) -> Array:
        """The lowest temperature each steel takes for no more than this loss: (steels, samples)."""
        return self.middle_c - _reach_k(loss / self.weight, self.half_k, self.under_k)

    def high_ends_c(self, loss: Array) -> Array:
        """The highest temperature each steel takes for no more than this loss: (steels, samples)."""
        return self.middle_c + _reach_k(loss / self.weight, self.half_k, self.over_k)

    def low_c(self, loss: Array) -> Array:
        """The lowest temperature of no more than this loss: (samples,)."""
        found: Array = self.low_ends_c(loss).max(axis=-2)
        return found

    def high_c(self, loss: Array) -> Array:
        """The highest temperature of no more than this loss: (samples,)."""
        found: Array = self.high_ends_c(loss).min(axis=-2)
        return found

    @cached_property
    def least_of_all(self) -> Array:
        """The least worst loss there is: (samples,)."""
        return self.least(0.0)

    def least(self, half_width_k: float | Array) -> Array:
        """The least worst loss that can be kept over a half-width: (samples,).

        For every two steels, the loss at which the highest temperature of the one is a width above the
        lowest of the other; the greatest of these is the answer.
        """
        asked = 2.0 * half_width_k + self.middle_c[:, None] - self.middle_c[None, :]
        low_w, high_w = self.weight[:, None], self.weight[None, :]
        first, second = np.minimum(low_w, high_w), np.maximum(low_w, high_w)

        def reach(loss: Array) -> Array:
            under = _reach_k(loss / low_w, self.half_k[:, None], self.under_k[:, None])
            found: Array = under + _reach_k(loss / high_w, self.half_k[None, :], self.over_k[None, :])
            return found

        at_first, at_second = reach(first), reach(second)
        beyond = reach(second + 1.0) - at_second
        inner = first * np.maximum(asked, 0.0) / at_first
        middle = first + (second - first) * (asked - at_first) / np.maximum(at_second - at_first, 1e-12)
        outer = second + (asked - at_second) / beyond
        loss = np.where(asked <= at_first, inner, np.where(asked <= at_second, middle, outer))
        found: Array = loss.max(axis=(0, 1))
        return found

    def repeated(self, times: int) -> "WorstLoss":
        """So many samples alike, of a loss that has one."""
        fields = (self.middle_c, self.half_k, self.under_k, self.over_k, self.weight)
        return WorstLoss(*(np.repeat(each, times, axis=1) for each in fields))

    def alone(self, steel: int) -> "WorstLoss":
        """The loss of one steel, counted in full."""
        own = slice(steel, steel + 1)
        return WorstLoss(
            self.middle_c[own],
            self.half_k[own],
            self.under_k[own],
            self.over_k[own],
            np.ones_like(self.weight[own]),
        )


def _reach_k(loss: Array, half_k: Array, outer_k: Array) -> Array:
    found: Array = np.minimum(loss, 1.0) * half_k + np.maximum(loss - 1.0, 0.0) * outer_k
    return found


def worst_loss(ranges: HardeningRange, weight: Array) -> WorstLoss:
    """The worst loss of steels, (steels, samples), each counting by its weight, 0 to 1."""
    low, high = ranges.good_low_c, ranges.good_high_c
    return WorstLoss(
        0.5 * (low + high),
        0.5 * (high - low),
        low - ranges.possible_low_c,
        ranges.possible_high_c - high,
        np.maximum(weight, LEAST_WEIGHT),
    )
