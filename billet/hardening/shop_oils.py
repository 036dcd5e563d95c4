"""What a smith's own oils do by a bar: grade, depth, hardness at edge and spine."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from billet.contract.values import Estimate, Fact, Reason
from billet.errors import OutOfDomain
from billet.hardening.core_hardness import hrc_at
from billet.hardening.media_cooling import Bath, ball_bath, class_bath, deepest_told_mm
from billet.hardening.media_ranking import LADDER, fastest_place
from billet.hardening.quench_grades import GOOD, NO, BladeSection, LayerAsk, graded
from billet.hardening.samples import Mask
from billet.tables.media import unfit_baths

CLASSES = ("fast oil", "vegetable oil", "medium oil", "slow oil", "hot oil")


@dataclass(frozen=True)
class OwnOil:
    """An oil as its owner tells it: a class of the list or nickel-ball seconds, one of the two."""

    name: str
    medium: str | None
    nickel_ball_s: float | None


@dataclass(frozen=True)
class OilByBar:
    """What an own oil does by the bar: the worst grade of its layers, the least depth, hardness by steel.

    `likely_mm` as in `LayerGrade`; `too_fast` are the layers that may crack in it.
    """

    oil: OwnOil
    medium: str
    grade: int
    hardens_to_mm: float | None
    likely_mm: float | None
    too_fast: tuple[str, ...]
    edge_hrc: Mapping[str, Estimate | None]
    spine_hrc: Mapping[str, Estimate | None]
    because: tuple[Reason, ...]


def bath_of(oil: OwnOil) -> Bath:
    """The cooling of an own oil. Raises OutOfDomain for an oil without class and seconds."""
    if oil.nickel_ball_s is not None:
        return ball_bath(oil.nickel_ball_s)
    if oil.medium is None:
        raise OutOfDomain("oil", oil.name, "a class or nickel-ball seconds")
    return class_bath(oil.medium)


def oil_by_bar(
    oil: OwnOil, asks: Sequence[LayerAsk], section: BladeSection, hrc: Mapping[str, Estimate | None]
) -> OilByBar:
    """An own oil by the layers of a plan (samples of one). `hrc` is that of each layer hardened through."""
    unfit = unfit_baths().get(oil.medium or "")
    if unfit is not None:
        return OilByBar(oil, str(oil.medium), NO, None, None, (), {}, {}, (Reason(f"quench-{unfit}"),))
    bath = bath_of(oil)
    found = {a.name: graded(a.in_bar, bath, section) for a in asks}
    weakest = min(found, key=lambda name: float(found[name].through_mm[0]))
    through_mm = min(float(found[weakest].through_mm[0]), deepest_told_mm())
    likely_mm = min(float(found[weakest].likely_mm[0]), deepest_told_mm())
    grade = int(found[weakest].grade[0])
    values: dict[str, Fact] = {
        "oil": oil.name, "medium": bath.name, "steel": weakest, "through_mm": through_mm,
        "likely_mm": likely_mm, "thickness_mm": section.thickness_mm,
        "edge_mm": section.thinnest_mm, "margin": float(found[weakest].margin[0]),
    }  # fmt: skip
    code = "oil-good" if grade == GOOD else "oil-edge-short" if grade == NO else "oil-works"
    reasons = [Reason(f"quench-{code}", values)]
    cracked = tuple(a.name for a in asks if bool(too_fast(a, section, bath)[0]))
    reasons += [Reason("quench-oil-too-fast", {"steel": name, "oil": oil.name}) for name in cracked]
    return OilByBar(
        oil,
        bath.name,
        grade,
        through_mm,
        likely_mm,
        cracked,
        {a.name: hrc_at(a, bath, section.thinnest_mm, hrc.get(a.name)) for a in asks},
        {a.name: hrc_at(a, bath, section.thickness_mm, hrc.get(a.name)) for a in asks},
        tuple(reasons),
    )


def best_oil(oils: Sequence[OilByBar], edge_mm: float) -> OilByBar | None:
    """The oil to take of a smith's own: one that surely hardens the edge and cracks nothing, the deepest
    of them; then one that is too fast for a layer; then one that only likely hardens the edge."""

    def rank(found: OilByBar) -> tuple[int, int, float]:
        sure = found.hardens_to_mm is not None and found.hardens_to_mm >= edge_mm
        kind = 0 if found.grade == NO else 1 if not sure else 2 if found.too_fast else 3
        return kind, found.grade, found.hardens_to_mm or 0.0

    return max(oils, key=rank, default=None)


def too_fast(ask: LayerAsk, section: BladeSection, bath: Bath) -> Mask:
    """Samples in which the oil cools 3 mm faster than the fastest class that the layer stands."""
    one = np.ones(1)
    stands = np.array([class_bath(name).rates_k_s(3.0, one)[0] for name in LADDER])
    found: Mask = bath.rates_k_s(3.0, one)[0] > 1.0001 * stands[fastest_place(ask.in_bar, section)]
    return found
