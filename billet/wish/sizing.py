"""What a way needs, reckoned back from the finished bar by volume, and which limits it passes."""

import math
from dataclasses import dataclass

from billet.contract.wish import Obstacle
from billet.forging.default_heats import heats_for_ratio
from billet.tables.wish import wish_numbers
from billet.wish.schedules import PIECES_ABOUT_A_CORE, Way, kept_of, layers_of, tallest_mm
from billet.wish.wanted import Wish

Over = dict[Obstacle, tuple[float, float]]
"""By how much, as a share, each limit is passed, and the figure that would do."""


@dataclass(frozen=True)
class Sized:
    """A way with the length of its first pile, its heats, the steel it takes and what it passes."""

    way: Way
    layers: float
    length_mm: float
    heats: int
    steel_mm3: float
    over: Over

    @property
    def far(self) -> float:
        """How far off the wish, 0 where every wish is met."""
        return sum(share for share, _ in self.over.values())

    @property
    def order(self) -> tuple[float, float, float]:
        """By heats, then steel, then closeness; steel within a twentieth counts as the same."""
        return self.heats, round(math.log(self.steel_mm3) / math.log(1.05)), self.far


def sized(wish: Wish, way: Way) -> Sized:
    """What a way needs."""
    search, shop = wish_numbers("search"), wish_numbers("schedule")
    over: Over = {}
    piles, pressed = way.piles_mm, shop["pressed_to_frac"]
    each_yield = search["draw_yield"] * search["weld_yield"]
    note(over, "stack", max(piles), tallest_mm(wish, way.width_mm))
    length_mm = wish.want.length_mm + 2.0 * shop["trim_mm"]
    longest, shortest, core_mm3 = length_mm, math.inf, 0.0
    volume = wish.rough_mm * wish.want.width_mm * length_mm / each_yield
    heats = _last_heats(wish, way)
    _note_draw(over, pressed * piles[-1], wish.rough_mm)
    for i in reversed(range(len(way.pieces))):
        long_mm = volume / (piles[i + 1] * way.width_mm)
        shortest = min(shortest, long_mm)
        if way.core_mm is not None and i == len(way.pieces) - 1:
            core_mm3 = way.core_mm * way.width_mm * long_mm
        k, rough_mm = way.pieces[i], way.piece_mm[i] + 2.0 * shop["grind_between_mm"]
        bar_mm = k * long_mm + (k - 1) * shop["kerf_mm"] + 2.0 * shop["trim_mm"]
        longest = max(longest, bar_mm)
        volume = bar_mm * rough_mm * way.width_mm / each_yield
        heats += 1 + heats_for_ratio(pressed * piles[i] / rough_mm)
        _note_draw(over, pressed * piles[i], rough_mm)
    start_mm = volume / (piles[0] * way.width_mm)
    note(over, "length", search["least_piece_mm"], min(shortest, start_mm))
    note(over, "bar", max(longest, start_mm), wish.limits.bar_mm)
    if wish.limits.heats is not None:
        note(over, "heats", float(heats), float(wish.limits.heats))
    _note_width(wish, way, over)
    _note_share(wish, way, over)
    layers = _layers(wish, way)
    off = abs(layers / wish.layers - 1.0)
    if off > wish.want.within:
        over["layers"] = (off, float(round(layers)))
    return Sized(way, layers, start_mm, heats, volume + core_mm3, over)


def _layers(wish: Wish, way: Way) -> float:
    meets = (way.count - 1) % len(way.gauges_mm) == 0
    kept = kept_of(wish, way.pieces, way.piece_mm, way.pile_mm)
    return layers_of(wish, way.count, way.pieces, kept, meets)


def _last_heats(wish: Wish, way: Way) -> int:
    ratio = wish_numbers("schedule")["pressed_to_frac"] * way.piles_mm[-1] / wish.rough_mm
    return 1 + heats_for_ratio(max(ratio, ratio * way.width_mm / wish.want.width_mm))


def note(over: Over, what: Obstacle, needed: float, limit: float) -> None:
    """Note what passes a limit, where it passes it by more than noted before."""
    if needed > limit * (1.0 + 1e-9):
        over[what] = max(over.get(what, (0.0, 0.0)), (needed / max(limit, 1e-9) - 1.0, needed))


def _note_draw(over: Over, pressed_mm: float, to_mm: float) -> None:
    """A draw takes something off, or the pile was too low for the bar."""
    note(over, "thickness", to_mm, pressed_mm * (1.0 - wish_numbers("schedule")["least_draw_frac"]))


def _note_width(wish: Wish, way: Way, over: Over) -> None:
    search, ratio = wish_numbers("search"), way.width_mm / wish.want.width_mm
    off = max(ratio / search["width_to_frac"], search["width_from_frac"] / ratio) - 1.0
    if off > 1e-9:
        over["width"] = (off, way.width_mm)


def _note_share(wish: Wish, way: Way, over: Over) -> None:
    if not wish.share:
        return
    found = shares_of(wish, way)
    worst = max(wish.share, key=lambda name: abs(found.get(name, 0.0) - wish.share[name]))
    off = abs(found.get(worst, 0.0) - wish.share[worst])
    if off > wish_numbers("search")["share_within"]:
        over["share"] = (off, found.get(worst, 0.0))


def shares_of(wish: Wish, way: Way) -> dict[str, float]:
    """Share of each steel in the mass of the pile that is welded last, losses aside."""
    mass = dict.fromkeys(wish.steels, 0.0)
    kinds = len(wish.pattern)
    for i in range(way.count):
        name = wish.pattern[i % kinds]
        mass[name] += way.gauges_mm[i % kinds] * wish.steels[name].density_g_cm3
    if way.core_mm is not None and wish.want.core is not None:
        sides = PIECES_ABOUT_A_CORE * way.piece_mm[-1] / way.pile_mm
        mass = {name: value * sides for name, value in mass.items()}
        mass[wish.want.core] += way.core_mm * wish.steels[wish.want.core].density_g_cm3
    return {name: value / sum(mass.values()) for name, value in mass.items()}
