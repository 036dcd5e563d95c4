"""The quench of a plan: the bath of the bar, what each layer would take alone, and who pays."""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

from billet.contract.values import Fact, Medium, QuenchVerdict, Reason
from billet.hardening.media_cooling import class_baths, deepest_told_mm
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
    Asked,
    BladeSection,
    LayerAsk,
    LayerGrade,
    LayerInput,
    Places,
    Sections,
    graded,
    layer_asks,
)
from billet.hardening.quench_reasons import asks_because, bevel_mm, spine_reasons
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


@dataclass(frozen=True)
class _Here:
    """The bar at one section: its bath, and by layer the slowest bath that is trusted to harden it through
    and the fastest that it stands, as places of the ladder; by bath and layer how each does."""

    section: BladeSection
    place: int
    slowest: list[int]
    stands: list[int]
    grade: list[list[int]]
    through_mm: list[list[float]]
    likely_mm: list[list[float]]


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
    asks = layer_asks(inputs, section) if inputs else ()
    per_steel = each_alone(asks, section)
    if not inputs or not has_window:
        none = tuple(AtThickness(t, "none", None, None) for t in thicknesses)
        code = "quench-no-shared-heat" if inputs else "quench-nothing-hardens"
        return BarQuench("none", None, (), None, none, per_steel, (), (Reason(code),), ())
    looked_at = sorted({*thicknesses, section.thickness_mm})
    found, own_at = bar_quenches(asks, Sections.of(section, looked_at)), looked_at.index(section.thickness_mm)
    here = _here(found, section, own_at)
    name = medium_name(here.place, section.thickness_mm)
    at_edge = {i.layer.name for i in inputs if float(i.layer.at_edge[0]) >= _least_at_edge()}
    pays = _pays(asks, here, has_blade, at_edge)
    hrc = {i.layer.name: i.hrc for i in inputs}
    return BarQuench(
        "compromise" if pays else "shared",
        name,
        ("air",) if name == "plates" else (),
        GRADES[int(found.grade[own_at])],
        tuple(row for row in _by_thickness(found, looked_at) if row.thickness_mm in thicknesses),
        per_steel,
        pays,
        _reasons(per_steel, here, name, bool(oils)),
        tuple(oil_by_bar(oil, asks, section, hrc) for oil in oils),
    )


def _here(found: BarQuenches, section: BladeSection, at: int) -> _Here:
    """At one of the sections looked at; how deep a bath hardens does not depend on them."""
    by_bath = found.by_bath
    return _Here(
        section,
        int(found.place[at]),
        found.slowest[:, at].tolist(),
        found.stands[:, at].tolist(),
        by_bath.grade[..., at].tolist(),
        by_bath.through_mm[..., 0].tolist(),
        by_bath.likely_mm[..., 0].tolist(),
    )


def _by_thickness(found: BarQuenches, thicknesses_mm: Sequence[float]) -> Iterator[AtThickness]:
    """The same layers in other sections: what a layer asks does not depend on them."""
    for thick_mm, pays, place, grade in zip(
        thicknesses_mm, found.compromise, found.place, found.grade, strict=True
    ):
        verdict: QuenchVerdict = "compromise" if pays else "shared"
        yield AtThickness(thick_mm, verdict, medium_name(int(place), thick_mm), GRADES[int(grade)])


def each_alone(asks: Sequence[LayerAsk], section: BladeSection) -> tuple[SteelQuench, ...]:
    """What each layer of a plan (samples of one) takes alone."""
    if not asks:
        return ()
    asked = Asked.together([ask.alone for ask in asks])
    found = graded(asked, class_baths(TOLD), section)
    slowest, fastest = slowest_place(asked, section), fastest_place(asked, section)
    return tuple(_steel(ask, i, found, slowest, fastest, section) for i, ask in enumerate(asks))


def _steel(
    ask: LayerAsk, i: int, by_bath: LayerGrade, slowest: Places, fastest: Places, section: BladeSection
) -> SteelQuench:
    """Of arrays (layers, samples), and of every bath of TOLD (baths, layers, samples)."""
    each: list[list[float]] = [
        values[:, i, 0].tolist() for values in (by_bath.grade, by_bath.margin, by_bath.through_mm)
    ]
    place = int(slowest[i, 0])
    grades: dict[str, str] = {name: GRADES[int(grade)] for name, grade in zip(TOLD, each[0], strict=True)}
    through_mm = zip(TOLD, each[2], strict=True)
    return SteelQuench(
        ask,
        medium_name(place, section.thickness_mm),
        LADDER[int(fastest[i, 0])],
        grades,
        dict(zip(TOLD, each[1], strict=True)),
        {name: min(mm, deepest_told_mm()) for name, mm in through_mm if mm >= LEAST_TOLD_MM},
        asks_because(ask, grades, LADDER[place]),
    )


def _pays(
    asks: Sequence[LayerAsk], here: _Here, has_blade: bool, at_edge: Set[str]
) -> tuple[Payment, ...]:  # fmt: skip
    """Layers that the bath is too fast for, and those it does not harden through."""
    place, section = here.place, here.section
    found = []
    for ask, stands in zip(asks, here.stands, strict=True):
        if stands < place:
            values = {
                "medium": LADDER[place],
                "fastest": LADDER[stands],
                "likely": likely(float(ask.crack_faded[0]), place),
            }
            found.append(Payment(ask.name, Reason("quench-cracks", values)))
    each = zip(asks, here.grade[place], here.through_mm[place], here.likely_mm[place], strict=True)
    for ask, grade, depth_mm, likely_mm in each:
        if grade < GOOD:
            core: dict[str, Fact] = {
                "medium": LADDER[place], "through_mm": depth_mm, "likely_mm": likely_mm,
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
    per_steel: Sequence[SteelQuench], here: _Here, name: Medium, own_oils: bool
) -> tuple[Reason, ...]:  # fmt: skip
    asks = [one.ask for one in per_steel]
    asked_k_s = [float(ask.in_bar.rate_k_s[0]) for ask in asks]
    at = asked_k_s.index(max(asked_k_s))
    hardest, wanted = per_steel[at], LADDER[here.slowest[at]]
    first = asks_because(hardest.ask, hardest.grades, wanted)
    reasons = [Reason("quench-asks", {"steel": hardest.ask.name, "medium": wanted}), *first]
    reasons += spine_reasons(name, here.section)
    reasons += _gentler(asks, here, wanted)
    reasons += _way_out(asks, here)
    wet = name not in ("plates", "air")
    reasons += [Reason("quench-no-water")] if any(a.carbon_wt[0] >= _dry_from_wt() for a in asks) else []
    if wet and not own_oils:
        reasons += [Reason("quench-other-oils")]
    return (*reasons, Reason("quench-prove-oil" if wet else "quench-prove-dry"))


def _dry_from_wt() -> float:
    return float(decision_numbers("quench")["no_water_from_c_wt"])


def _gentler(asks: Sequence[LayerAsk], here: _Here, wanted: Medium) -> list[Reason]:
    """Said where a slower bath was taken than the hardest layer asks for, to spare the others."""
    if here.place >= LADDER.index(wanted):
        return []
    spared = [
        a.name for a, stands in zip(asks, here.stands, strict=True) if stands < LADDER.index(wanted)
    ]  # fmt: skip
    values: dict[str, Fact] = {"medium": LADDER[here.place], "wanted": wanted, "spared": tuple(spared)}
    return [Reason("quench-gentler", values)]


def _way_out(asks: Sequence[LayerAsk], here: _Here) -> list[Reason]:
    """A slower bath that spares a layer which pays, and what it hardens: through, or the edge alone."""
    paying = [(a.name, s) for a, s in zip(asks, here.stands, strict=True) if s < here.place]
    for slower in range(min(here.place, FAST) - 1, 0, -1):
        spared = tuple(name for name, stands in paying if stands >= slower)
        depth_mm = min(here.through_mm[slower])
        if spared and depth_mm >= here.section.thinnest_mm:
            values: dict[str, Fact] = {"medium": LADDER[slower], "spared": spared, "through_mm": depth_mm}
            worst = min(here.grade[slower])
            return [Reason("quench-slower-through" if worst == GOOD else "quench-slower-edge", values)]
    return []
