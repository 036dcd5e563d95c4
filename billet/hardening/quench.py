"""The quench of a plan: the bath of the bar, what each layer would take alone, and who pays."""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.values import Estimate, Fact, Medium, QuenchVerdict, Reason
from billet.hardening.critical_rate import widened
from billet.hardening.media_cooling import class_bath, class_baths, deepest_told_mm
from billet.hardening.media_ranking import (
    FAST,
    LADDER,
    BarQuenches,
    bar_quenches,
    fastest_place,
    likely,
    medium_name,
    slowest_place,
)
from billet.hardening.quench_grades import (
    GOOD,
    GRADES,
    NO,
    BladeSection,
    LayerAsk,
    Sections,
    graded,
    layer_ask,
)
from billet.hardening.quench_reasons import asks_because, bevel_mm, spine_reasons
from billet.hardening.samples import Array, LayerSamples
from billet.hardening.shop_oils import OilByBar, OwnOil, oil_by_bar
from billet.tables.practice import decision_numbers

MEDIA_BY_COOLING: tuple[Medium, ...] = (
    "air",
    "plates",
    "slow oil",
    "medium oil",
    "fast oil",
    "water",
    "brine",
)
LEAST_TOLD_MM = 0.2
TOLD: tuple[Medium, ...] = (*MEDIA_BY_COOLING, "vegetable oil", "hot oil")


@dataclass(frozen=True)
class LayerInput:
    """A hardening layer with what is dissolved in it, each (samples,), or None; the residuals assumed in
    it; the hardness it has where it is hardened through; and `moved_wt`, what is dissolved with one input
    moved in every sample but the first, for the band of its rate."""

    layer: LayerSamples
    dissolved_wt: Mapping[str, Array] | None
    assumed: frozenset[str] = frozenset()
    hrc: Estimate | None = None
    moved_wt: Mapping[str, Array] | None = None


@dataclass(frozen=True)
class SteelQuench:
    """What one layer takes alone; grades and depths by bath at the blade's own section."""

    ask: LayerAsk
    slowest: Medium
    fastest: Medium
    grades: Mapping[str, str]
    margin: Mapping[str, float]
    hardens_to_mm: Mapping[str, float]
    because: tuple[Reason, ...]


@dataclass(frozen=True)
class Payment:
    steel: str
    how: Reason


@dataclass(frozen=True)
class AtThickness:
    thickness_mm: float
    verdict: QuenchVerdict
    medium: Medium | None
    grade: str | None


@dataclass(frozen=True)
class BarQuench:
    """The quench of a plan in facts; `also` are other baths as good, `grade` that of the worst layer."""

    verdict: QuenchVerdict
    medium: Medium | None
    also: tuple[Medium, ...]
    grade: str | None
    by_thickness: tuple[AtThickness, ...]
    per_steel: tuple[SteelQuench, ...]
    pays: tuple[Payment, ...]
    reasons: tuple[Reason, ...]
    in_shop: tuple[OilByBar, ...]


def quench_plan(
    inputs: Sequence[LayerInput],
    section: BladeSection,
    has_blade: bool,
    has_window: bool,
    oils: Sequence[OwnOil] = (),
) -> BarQuench:
    """The quench of a plan (samples of one) at the blade's section and at the usual thicknesses.

    `has_blade` false: the section is the usual one and no blade was told. Without a window there is no
    one bath, and each layer's own is told.
    """
    own = {section.thickness_mm} if has_blade else set()
    thicknesses = sorted({*decision_numbers("quench")["thicknesses_mm"], *own})
    if not inputs or not has_window:
        none = tuple(AtThickness(t, "none", None, None) for t in thicknesses)
        code = "quench-no-shared-heat" if inputs else "quench-nothing-hardens"
        per_steel = tuple(_steel(_ask(i, section), section) for i in inputs)
        return BarQuench("none", None, (), None, none, per_steel, (), (Reason(code),), ())
    asks = tuple(_ask(i, section) for i in inputs)
    looked_at = sorted({*thicknesses, section.thickness_mm})
    found, own_at = bar_quenches(asks, Sections.of(section, looked_at)), looked_at.index(section.thickness_mm)
    place = int(found.place[own_at])
    name = medium_name(place, section.thickness_mm)
    at_edge = {i.layer.name for i in inputs if float(i.layer.at_edge[0]) >= _least_at_edge()}
    pays = _pays(asks, section, place, has_blade, at_edge)
    hrc = {i.layer.name: i.hrc for i in inputs}
    return BarQuench(
        "compromise" if pays else "shared",
        name,
        ("air",) if name == "plates" else (),
        GRADES[int(found.grade[own_at])],
        tuple(row for row in _by_thickness(found, looked_at) if row.thickness_mm in thicknesses),
        tuple(_steel(ask, section) for ask in asks),
        pays,
        _reasons(asks, section, place, name, bool(oils)),
        tuple(oil_by_bar(oil, asks, section, hrc) for oil in oils),
    )


def _ask(given: LayerInput, section: BladeSection) -> LayerAsk:
    ask = layer_ask(given.layer, given.dissolved_wt, section, given.assumed)
    if given.moved_wt is None:
        return ask
    return replace(ask, rates=widened(ask.rates, given.moved_wt, section.cycled))


def _by_thickness(found: BarQuenches, thicknesses_mm: Sequence[float]) -> Iterator[AtThickness]:
    """The same layers in other sections: what a layer asks does not depend on them."""
    for thick_mm, pays, place, grade in zip(
        thicknesses_mm, found.compromise, found.place, found.grade, strict=True
    ):
        verdict: QuenchVerdict = "compromise" if pays else "shared"
        yield AtThickness(thick_mm, verdict, medium_name(int(place), thick_mm), GRADES[int(grade)])


def _steel(ask: LayerAsk, section: BladeSection) -> SteelQuench:
    found = graded(ask, class_baths(TOLD), section, alone=True)
    grades, margins = found.grade[:, 0].tolist(), found.margin[:, 0].tolist()
    through_mm = dict(zip(TOLD, found.through_mm[:, 0].tolist(), strict=True))
    slowest = int(slowest_place(ask, section, alone=True)[0])
    fastest = int(fastest_place(ask, section, alone=True)[0])
    return SteelQuench(
        ask,
        medium_name(slowest, section.thickness_mm),
        LADDER[fastest],
        {name: GRADES[grade] for name, grade in zip(TOLD, grades, strict=True)},
        dict(zip(TOLD, margins, strict=True)),
        {name: min(mm, deepest_told_mm()) for name, mm in through_mm.items() if mm >= LEAST_TOLD_MM},
        asks_because(ask, section, LADDER[slowest]),
    )


def _pays(
    asks: Sequence[LayerAsk], section: BladeSection, place: int, has_blade: bool, at_edge: Set[str]
) -> tuple[Payment, ...]:
    """Layers that the bath is too fast for, and those it does not harden through."""
    bath = class_bath(LADDER[place])
    found = []
    for ask in asks:
        stands = int(fastest_place(ask, section)[0])
        if stands < place:
            values = {
                "medium": LADDER[place],
                "fastest": LADDER[stands],
                "likely": likely(float(ask.crack_faded[0]), place),
            }
            found.append(Payment(ask.name, Reason("quench-cracks", values)))
    for ask in asks:
        here = graded(ask, bath, section)
        if (grade := int(here.grade[0])) < GOOD:
            depth_mm = float(here.through_mm[0])
            core: dict[str, Fact] = {
                "medium": bath.name, "through_mm": depth_mm, "likely_mm": float(here.likely_mm[0]),
                "edge_mm": section.thinnest_mm,
                "thickness_mm": None if has_blade else section.thickness_mm,
                "bevel_mm": bevel_mm(depth_mm, section),
            }  # fmt: skip
            code = _short_code(grade, depth_mm, section) if ask.name in at_edge else "quench-softer-inside"
            found.append(Payment(ask.name, Reason(code, core)))
    return tuple(found)


def _least_at_edge() -> float:
    """The weight by the edge alone under which a steel does not count there."""
    return float(decision_numbers("role")["soft_below"])


def _short_code(grade: int, through_mm: float, section: BladeSection) -> str:
    if grade == NO:
        return "quench-edge-short"
    return "quench-softer-core" if through_mm >= section.thinnest_mm else "quench-edge-near"


def _reasons(
    asks: Sequence[LayerAsk], section: BladeSection, place: int, name: Medium, own_oils: bool
) -> tuple[Reason, ...]:
    hardest = max(asks, key=lambda a: float(a.asked_faded_k_s[0]))
    slowest = int(slowest_place(hardest, section)[0])
    first = asks_because(hardest, section, LADDER[slowest])
    reasons = [Reason("quench-asks", {"steel": hardest.name, "medium": LADDER[slowest]}), *first]
    reasons += spine_reasons(name, section)
    reasons += _gentler(asks, section, LADDER[slowest], place)
    reasons += _way_out(asks, section, place)
    wet = name not in ("plates", "air")
    reasons += [Reason("quench-no-water")] if any(a.carbon_wt[0] >= _dry_from_wt() for a in asks) else []
    if wet and not own_oils:
        reasons += [Reason("quench-other-oils")]
    return (*reasons, Reason("quench-prove-oil" if wet else "quench-prove-dry"))


def _dry_from_wt() -> float:
    return float(decision_numbers("quench")["no_water_from_c_wt"])


def _gentler(asks: Sequence[LayerAsk], section: BladeSection, wanted: Medium, place: int) -> list[Reason]:
    """Said where a slower bath was taken than the hardest layer asks for, to spare the others."""
    if place >= LADDER.index(wanted):
        return []
    spared = [a.name for a in asks if int(fastest_place(a, section)[0]) < LADDER.index(wanted)]
    values: dict[str, Fact] = {"medium": LADDER[place], "wanted": wanted, "spared": tuple(spared)}
    return [Reason("quench-gentler", values)]


def _way_out(asks: Sequence[LayerAsk], section: BladeSection, place: int) -> list[Reason]:
    """A slower bath that spares a layer which pays, and what it hardens: through, or the edge alone."""
    paying = [a for a in asks if int(fastest_place(a, section)[0]) < place]
    for slower in range(min(place, FAST) - 1, 0, -1):
        spared = [a.name for a in paying if int(fastest_place(a, section)[0]) >= slower]
        bath = class_bath(LADDER[slower])
        here = [graded(a, bath, section) for a in asks]
        worst = min(int(g.grade[0]) for g in here)
        depth_mm = min(float(np.min(g.through_mm)) for g in here)
        if spared and depth_mm >= section.thinnest_mm:
            values: dict[str, Fact] = {"medium": bath.name, "spared": tuple(spared), "through_mm": depth_mm}
            return [Reason("quench-slower-through" if worst == GOOD else "quench-slower-edge", values)]
    return []
