"""The bath of the bar: the slowest in which every hardening layer is good, and which layer pays for it."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from billet.contract.values import Medium
from billet.hardening.media_cooling import class_baths
from billet.hardening.quench_grades import (
    GOOD,
    Asked,
    BladeSection,
    LayerAsk,
    LayerGrade,
    Places,
    Sections,
    graded,
    trusted,
)
from billet.hardening.samples import Array, Mask
from billet.tables.practice import decision_numbers

LADDER: tuple[Medium, ...] = ("air", "slow oil", "medium oil", "fast oil", "water")
"""From the slowest up. The last is never chosen: it tells what a layer of little carbon stands."""
SLOW, MEDIUM, FAST, WATER = range(1, 5)


@dataclass(frozen=True)
class BarQuenches:
    """Of all samples: place on the ladder and grade of the bar (samples,), and the layers that pay.

    Of every layer as far as it counts, (layers, samples): `slowest` and `stands`, the places of the slowest
    bath trusted to harden it through and of the fastest that it stands; `softer`: not hardened through;
    `cracks`: the bath is faster than the layer stands. `by_bath` has every bath of the ladder, (baths,
    layers, samples).
    """

    place: Places
    grade: Places
    softer: Mask
    cracks: Mask
    slowest: Places
    stands: Places
    by_bath: LayerGrade

    @property
    def compromise(self) -> Mask:
        """Samples in which a layer pays, (samples,)."""
        found: Mask = np.any(self.softer | self.cracks, axis=0)
        return found


def slowest_place(asked: Asked, section: BladeSection | Sections) -> Places:
    """Place of the slowest bath trusted to harden through, (samples,) or (layers, samples); fast oil where
    none is."""
    good = trusted(asked, LADDER[:FAST], section)
    found: Places = np.where(good.any(axis=0), good.argmax(axis=0), FAST)
    return found


def fastest_place(asked: Asked, section: BladeSection | Sections) -> Places:
    """Place of the fastest bath a layer stands, (samples,) or (layers, samples). Common practice, no source.

    The section counts between medium and slow oil only, so that a thicker blade never asks for a slower
    bath than a thinner one.
    """
    limits, cracks = decision_numbers("quench"), decision_numbers("quench_cracks")
    deep = asked.crack * section_factor(section.thickness_mm) > cracks["stands_medium"]
    dry = asked.carbon_wt >= limits["no_water_from_c_wt"]
    wet = np.where(asked.crack > cracks["stands_fast"], MEDIUM, np.where(dry, FAST, WATER))
    found: Places = np.where(deep, SLOW, wet)
    return found


def section_factor(thickness_mm: float | Array) -> float | Array:
    """How much more easily a thicker section cracks than the usual one. (p)"""
    limits = decision_numbers("quench_cracks")
    usual_mm, thick_mm = limits["section_mm"]
    low, high = limits["section_limits"]
    more = limits["section_more"] * np.log(thickness_mm / usual_mm) / np.log(thick_mm / usual_mm)
    found: Array = np.minimum(np.maximum(1.0 + more, low), high)
    return found


def bar_quenches(asks: Sequence[LayerAsk], section: BladeSection | Sections) -> BarQuenches:
    """The bath of every sample. Raises ValueError without a layer.

    The slowest that practice trusts to harden every layer through. Where a layer stands only a slower one,
    that one is taken (medium oil at the slowest) as long as it surely hardens the edge of every layer: a
    softer spine costs a knife less than a crack. A layer counts as far as its weight.
    """
    if not asks:
        raise ValueError("a bar without a hardening layer has no bath")
    asked = Asked.together([ask.in_bar for ask in asks])
    slowest, stands = slowest_place(asked, section), fastest_place(asked, section)
    found = graded(asked, class_baths(LADDER), section)
    wanted, gentlest = slowest.max(axis=0), stands.min(axis=0)
    gentler = np.minimum(wanted, np.maximum(gentlest, MEDIUM))
    edge_sure = np.all(np.choose(gentler, found.through_mm) >= section.thinnest_mm, axis=0)
    place: Places = np.where(edge_sure, gentler, wanted)
    grades = np.choose(place, found.grade)
    return BarQuenches(
        place, grades.min(axis=0), grades < GOOD, stands < place, slowest, stands, found
    )  # fmt: skip


def medium_name(place: int, thickness_mm: float) -> Medium:
    """The bath at a place of the ladder: what still air hardens is pressed between plates while thin."""
    name = LADDER[place]
    thin = thickness_mm <= decision_numbers("quench")["plates_to_mm"]
    return "plates" if name == "air" and thin else name


def likely(crack: float, place: int) -> bool:
    """Whether a layer that does not stand this bath is likely to crack in it, not only may."""
    limits = decision_numbers("quench_cracks")
    return bool(place >= FAST and crack > limits["stands_fast"] + limits["likely_over"])
