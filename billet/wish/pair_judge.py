"""All pairs as they are judged: what is asked of all of them at once is asked once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from billet.contract.partners import PairVerdict
from billet.hardening.media_ranking import BarQuenches, bar_quenches
from billet.hardening.quench_grades import GOOD, Places, graded
from billet.hardening.samples import Array
from billet.hardening.set_point import widest_half_width_k
from billet.hardening.shop_oils import OwnOil, bath_of, too_fast
from billet.tables.media import unfit_baths
from billet.tables.practice import decision_numbers
from billet.wish.pairs import Pairs, PairSteel

_ORDER: tuple[PairVerdict, ...] = ("no", "unknown", "works", "good")


def worse(first: PairVerdict, second: PairVerdict) -> PairVerdict:
    """The worse of two verdicts."""
    return min(first, second, key=_ORDER.index)


@dataclass(frozen=True)
class OilByPairs:
    """An own oil by every pair: grade 0 to 2 (pairs,), and for which of the two it is too fast (2, pairs)."""

    oil: OwnOil
    grade: Places
    too_fast: np.ndarray[tuple[int, int], np.dtype[np.bool_]]
    rate_k_s: float

    def rank(self, i: int) -> tuple[float, float]:
        """The better grade first; of two good oils the slower, of others the faster."""
        grade = int(self.grade[i])
        stands = grade - 0.5 * bool(self.too_fast[:, i].any())
        return stands, -self.rate_k_s if grade == GOOD else self.rate_k_s


@dataclass(frozen=True)
class PairJudge:
    """Every verdict of every pair; what is asked of all of them at once is asked once."""

    pairs: Pairs
    quench: BarQuenches
    own: tuple[OilByPairs, ...]
    good_k: Array
    works_k: Array
    loss: Array

    def both(self, i: int) -> tuple[PairSteel, PairSteel]:
        """The two steels of a pair."""
        steels = self.pairs.steels
        return steels[self.pairs.first[i]], steels[self.pairs.second[i]]

    def soft(self, i: int) -> tuple[str, ...]:
        """The steels of a pair that stay soft though the other hardens."""
        limit = decision_numbers("role")["soft_below"]
        layers = self.pairs.decided.layers
        named = zip(self.both(i), layers, strict=True)
        return tuple(steel.name for steel, layer in named if layer.weight[i] < limit)


def judge(pairs: Pairs, oils: Sequence[OwnOil]) -> PairJudge:
    """What is asked of all pairs at once."""
    decided, limits = pairs.decided, decision_numbers("loss")
    own = []
    for oil in oils:
        if oil.medium not in unfit_baths():
            own.append(_oil_by_pairs(oil, pairs))
    point = decided.point.c
    return PairJudge(
        pairs,
        bar_quenches(pairs.asks, pairs.section),
        tuple(own),
        widest_half_width_k(decided.worst, point, limits["good"]),
        widest_half_width_k(decided.worst, point, limits["possible"]),
        decided.point.loss,
    )


def _oil_by_pairs(oil: OwnOil, pairs: Pairs) -> OilByPairs:
    bath = bath_of(oil)
    grades = [graded(ask.in_bar, bath, pairs.section).grade for ask in pairs.asks]
    harsh = [too_fast(ask, pairs.section, bath) for ask in pairs.asks]
    rate = float(bath.rates_k_s(pairs.section.thickness_mm, np.ones(1))[0])
    return OilByPairs(oil, np.min(np.stack(grades), axis=0), np.stack(harsh), rate)
