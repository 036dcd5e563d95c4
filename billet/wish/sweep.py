"""One number of a recipe swept: every bar forged, few followed in full, all decided by the array rules.

The carbon of some bars is followed through every fire. Between two neighbours a bar in the middle is
followed too, as a check; where reading between them misses it by more than a stated amount of carbon, the
halves are checked in turn. All bars are then decided in one batch by the rules of a plan, so that a bar
that was followed is decided as its plan is, to rounding. (Own construction.)
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from billet.contract.sweep import Sweep, SweepRow
from billet.errors import Fault, RecipeError
from billet.forging.model import Forged
from billet.hardening.decision import half_width
from billet.hardening.samples import LayerSamples
from billet.recipe.model import Recipe
from billet.tables.wish import wish_numbers
from billet.wish.followed import Followed, Follower, Tried, between, miss, plans_allowed, tried
from billet.wish.swept_decision import Swept, decide_swept
from billet.wish.varied import Varied


def swept(recipe: Recipe, what: Varied) -> Sweep:
    """The answer at every value.

    Raises RecipeError where the place is not there, and where every value is refused.
    """
    found = [tried(recipe, what.place, value) for value in what.values]
    bars = [one for one in found if isinstance(one, Tried)]
    if not bars:
        raise RecipeError([Fault(what.place, f"every value is refused; the first: {found[0]}")])
    read = _Reading(bars, plans_allowed(bars))
    decided = iter(decide_swept(read.all()))
    rows = tuple(
        SweepRow(value, refused=one) if isinstance(one, str) else next(decided)
        for value, one in zip(what.values, found, strict=True)
    )
    return Sweep(
        vary=what.place,
        title=recipe.title,
        recipe_id=recipe.recipe_id,
        half_width_k=half_width(recipe),
        steels=tuple(recipe.steels),
        rows=rows,
        planned=len(read.followed),
        miss_wt=read.worst_wt,
    )


@dataclass(frozen=True)
class _Gap:
    """Places of two bars that were followed, and how far off the middle one was read: in tolerances, and
    in carbon."""

    low: int
    high: int
    off: float
    carbon_wt: float = 0.0


class _Reading:
    """Which bars are followed, and what is read between them."""

    def __init__(self, bars: Sequence[Tried], allowed: int) -> None:
        self.bars, self.allowed = bars, allowed
        self.followed: dict[int, Followed] = {}
        self.worst_wt = 0.0
        self._follower = Follower()
        self._sides: dict[int, tuple[int, int]] = {}
        alike = _alike(bars)
        for places in alike:
            self._read(places, max(len(places) * allowed // len(bars), 2))

    def all(self) -> list[Swept]:
        """Every bar with the steels of its blade."""
        found = []
        for place, bar in enumerate(self.bars):
            if place in self.followed:
                near = self.followed[place]
                found.append(Swept(bar, near.layers, near.ready, True))
                continue
            low, high = self._sides[place]
            layers = self._between(place, low, high)
            near = self.followed[low if place - low <= high - place else high]
            found.append(Swept(bar, near.layers if layers is None else layers, near.ready, False))
        return found

    def _read(self, places: Sequence[int], allowed: int) -> None:
        """Follow some bars of one kind, evenly first, then where reading between them misses most."""
        last, first = len(places) - 1, int(wish_numbers("sweep")["first_nodes"])
        if last < min(first, allowed):
            for place in places:
                self._follow(place)
            return
        seeds = sorted({round(i * last / (min(first, allowed) - 1)) for i in range(min(first, allowed))})
        for seed in seeds:
            self._follow(places[seed])
        gaps = [_Gap(a, b, float("inf")) for a, b in pairwise(seeds)]
        done: list[_Gap] = []
        left = allowed - len(seeds)
        while gaps:
            gaps.sort(key=lambda gap: gap.off * (gap.high - gap.low))
            gap = gaps.pop()
            if gap.high - gap.low < 2 or gap.off <= 1.0 or left <= 0:
                done.append(gap)
                continue
            middle, left = (gap.low + gap.high) // 2, left - 1
            self._follow(places[middle])
            off, carbon = self._off(places[gap.low], places[middle], places[gap.high])
            gaps += [_Gap(gap.low, middle, off, carbon), _Gap(middle, gap.high, off, carbon)]
        for gap in done:
            if gap.high - gap.low > 1:
                self.worst_wt = max(self.worst_wt, gap.carbon_wt)
            for inside in range(gap.low + 1, gap.high):
                self._sides[places[inside]] = (places[gap.low], places[gap.high])

    def _follow(self, place: int) -> None:
        self.followed[place] = self._follower.follow(self.bars[place])

    def _off(self, low: int, middle: int, high: int) -> tuple[float, float]:
        numbers = wish_numbers("sweep")
        carbon, share = miss(self._between(middle, low, high), self.followed[middle])
        return max(carbon / numbers["carbon_wt"], share / numbers["share_frac"]), carbon

    def _between(self, place: int, low: int, high: int) -> dict[str, LayerSamples] | None:
        at, start, end = (self.bars[i].value for i in (place, low, high))
        return between(self.followed[low], self.followed[high], (at - start) / (end - start))


def _alike(bars: Sequence[Tried]) -> list[list[int]]:
    """Places of bars that can stand for one another: the same steels outside, amid and in the bar."""
    found: dict[object, list[int]] = {}
    for place, bar in enumerate(bars):
        found.setdefault(_kind(bar.forged), []).append(place)
    return list(found.values())


def _kind(forged: Forged) -> object:
    names = [layer.steel for layer in forged.final.layers]
    amid = (names[(len(names) - 1) // 2], names[len(names) // 2])
    return names[0], names[-1], amid, len(names) % 2, forged.final.on_edge, frozenset(names)
