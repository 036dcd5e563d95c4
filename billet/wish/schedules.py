"""Schedules that may make a bar: start count, plates, restacks and pile heights, sized by their volume."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TypeVar

from billet.tables.wish import wish_numbers
from billet.wish.wanted import Wish

PIECES_ABOUT_A_CORE = 2
SPREAD = 1
"""So many start counts on either side of the one that fits best are sized too."""
COUNTS = 2 * SPREAD + 1


@dataclass(frozen=True)
class Way:
    """A schedule as far as it can be chosen: plates from the bottom up, how many pieces each restack has,
    the height that each of them is drawn and ground to before it is cut, and the plate of the core."""

    gauges_mm: tuple[float, ...]
    width_mm: float
    count: int
    pieces: tuple[int, ...]
    piece_mm: tuple[float, ...]
    core_mm: float | None

    @property
    def pile_mm(self) -> float:
        """Height of the first pile."""
        kinds = len(self.gauges_mm)
        return sum(self.gauges_mm[i % kinds] for i in range(self.count))

    @property
    def piles_mm(self) -> tuple[float, ...]:
        """Height of the first pile and of each restacked one."""
        piles = [k * mm for k, mm in zip(self.pieces, self.piece_mm, strict=True)]
        if self.core_mm is not None:
            piles[-1] += self.core_mm
        return (self.pile_mm, *piles)


def ways(wish: Wish) -> Iterator[Way]:
    """Every way worth sizing: the start counts whose layers come nearest, for all plates and restacks."""
    shapes = [
        (pieces, width_mm, piece_mm, core_mm)
        for pieces in restacks(wish)
        for width_mm in widths_of(wish)
        for piece_mm, core_mm in _heights(wish, pieces, width_mm)
    ]
    most = int(wish_numbers("search")["most_ways"]) // COUNTS
    shapes = thinned(shapes, most)
    gauges = thinned(list(product(*(wish.gauges_mm[name] for name in wish.pattern))), most // len(shapes))
    for pieces, width_mm, piece_mm, core_mm in shapes:
        for plates in gauges:
            for count in _counts(wish, plates, pieces, piece_mm):
                yield Way(plates, width_mm, count, pieces, piece_mm, core_mm)


Item = TypeVar("Item")


def thinned(items: list[Item], most: int) -> list[Item]:
    """At most so many of these, at least one, taken evenly from first to last."""
    most = max(most, 1)
    if len(items) <= most:
        return items
    return [items[i * (len(items) - 1) // max(most - 1, 1)] for i in range(most)]


def widths_of(wish: Wish) -> tuple[float, ...]:
    """Widths in stock from which the bar can be forged; the nearest where none is."""
    numbers, wanted = wish_numbers("search"), wish.want.width_mm
    low, high = numbers["width_from_frac"], numbers["width_to_frac"]
    good = tuple(w for w in wish.widths_mm if low * wanted <= w <= high * wanted)
    return good or (min(wish.widths_mm, key=lambda w: abs(math.log(w / wanted))),)


def restacks(wish: Wish) -> Iterator[tuple[int, ...]]:
    """Pieces of every restack, the first first; with a core the last lays two pieces about it."""
    numbers = wish_numbers("search")
    most = numbers["most_pieces"]
    core = () if wish.want.core is None else (PIECES_ABOUT_A_CORE,)
    for many in range(int(numbers["most_restacks"]) + 1 - len(core)):
        for pieces in product(range(2, int(most[many]) + 1), repeat=many):
            yield (*pieces, *core)


def tallest_mm(wish: Wish, width_mm: float) -> float:
    """The tallest pile on plates of this width that can be welded and does not fall over."""
    upright: float = wish_numbers("schedule")["tall_over_width"] * width_mm
    return min(wish.limits.stack_mm, upright)


def _heights(
    wish: Wish, pieces: tuple[int, ...], width_mm: float
) -> Iterator[tuple[tuple[float, ...], float | None]]:
    """Several heights of the pieces that are laid, and the plate of the core between the last."""
    core, tallest = wish.want.core, tallest_mm(wish, width_mm)
    shares = wish_numbers("search")["pile_fractions"] if pieces else [1.0]
    plates: Sequence[float | None] = (None,) if core is None else wish.gauges_mm[core]
    seen = set()
    for share in shares:
        for plate_mm in plates:
            heights = [_rounded(share * tallest / k) for k in pieces]
            if plate_mm is not None:
                heights[-1] = _rounded(_side_mm(wish, plate_mm))
            found = tuple(heights), plate_mm
            if found not in seen:
                seen.add(found)
                yield found


def _side_mm(wish: Wish, plate_mm: float) -> float:
    """Height of the bar on either side of a core of this plate, so that both come out as wished.

    What is ground off the finished bar comes off the sides alone.
    """
    return 0.5 * plate_mm * (wish.rough_mm / wish.core_mm - 1.0)


def _rounded(mm: float) -> float:
    """To a tenth, as a caliper is set."""
    return max(round(mm, 1), 0.1)


def layers_of(wish: Wish, count: float, pieces: tuple[int, ...], kept: Sequence[float], meets: bool) -> float:
    """Layers to the eye from so many plates; `kept` is the share of them that each stage leaves, the last
    that of the finished bar; `meets` tells whether the outer steels are alike."""
    found, core = count, wish.want.core is not None
    for place, k in enumerate(pieces):
        found *= kept[place]
        if core and place == len(pieces) - 1:
            return 2.0 * found * kept[-1] + 1.0
        found = k * found - (k - 1) * meets
    return found * kept[-1]


def kept_of(wish: Wish, pieces: tuple[int, ...], piece_mm: tuple[float, ...], pile_mm: float) -> list[float]:
    """Share of the layers that scale and grinding leave, stage by stage and of the finished bar."""
    shop, search = wish_numbers("schedule"), wish_numbers("search")
    found, pile = [], pile_mm
    for k, mm in zip(pieces, piece_mm, strict=True):
        before = mm + 2.0 * shop["grind_between_mm"]
        found.append(mm / before * (1.0 - search["scale_mm"] / pile - search["scale_mm"] / before))
        pile = k * mm
    rough = wish.rough_mm
    found.append(
        wish.want.thickness_mm / rough * (1.0 - search["scale_mm"] / pile - search["scale_mm"] / rough)
    )
    return [max(share, 0.05) for share in found]


def _counts(
    wish: Wish,
    gauges: tuple[float, ...],
    pieces: tuple[int, ...],
    piece_mm: tuple[float, ...],
) -> list[int]:
    """Start counts whose layers come nearest to what is wished for."""
    mean_mm = sum(gauges) / len(gauges)
    count = wish.layers
    for _ in range(3):
        kept = kept_of(wish, pieces, piece_mm, max(count * mean_mm, 5.0))
        one, two = (layers_of(wish, n, pieces, kept, False) for n in (0.0, 1.0))
        count = (wish.layers - one) / (two - one)
    middle = round(count)
    most = int(1.6 * tallest_mm(wish, max(wish.widths_mm)) / mean_mm)
    tried = [n for n in range(middle - SPREAD, middle + SPREAD + 1) if 2 <= n <= most]
    return tried or [min(max(middle, 2), max(most, 2))]
