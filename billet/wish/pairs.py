"""Many pairs of steels as samples of one blade of two: what each is once carbon has evened out."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, fields, replace

import numpy as np

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.hardening.austenite import AusteniteSamples, austenitised
from billet.hardening.critical_rate import CriticalRates
from billet.hardening.joint_decision import JointDecision, decide_jointly
from billet.hardening.layer import is_austenitic, is_high_alloy
from billet.hardening.quench_grades import BladeSection, LayerAsk, layer_ask
from billet.hardening.residuals import printed_residuals, with_usual_residuals
from billet.hardening.samples import Array, CellCarbon, FormulaErrors, LayerSamples
from billet.tables.practice import decision_numbers
from billet.tables.steels import Steel
from billet.tables.wish import wish_numbers
from billet.wish.levelling import Places, activity_curves, levelled_wt

USUAL_HEAT_C = 820.0
"""Stands in where a pair has no heat, so that a batch has no holes; nothing of it is told."""


@dataclass(frozen=True)
class PairSteel:
    """A steel that may be one of a pair: by its grade, or by an analysis of its own."""

    name: str
    number: str
    analysis: Composition
    density_g_cm3: float
    grade: Steel | None


@dataclass(frozen=True)
class Shop:
    """The fire, the section and the share that partners are asked for."""

    share: float
    half_width_k: float
    section_mm: float


@dataclass(frozen=True)
class Pairs:
    """Pairs in order: `first` and `second` (pairs,) are places in `steels`.

    `carbon_wt` (2, pairs) is what each holds once level, `state` that of both at the heat of the pair,
    `asks` what both ask of a bath.
    """

    steels: tuple[PairSteel, ...]
    first: Places
    second: Places
    carbon_wt: Array
    decided: JointDecision
    as_supplied: "AsSupplied | None"
    heat_c: Array
    state: tuple[AusteniteSamples, AusteniteSamples]
    asks: tuple[LayerAsk, LayerAsk]
    section: BladeSection


def decided_pairs(steels: Sequence[PairSteel], first: Places, second: Places, shop: Shop) -> Pairs:
    """Carbon levelled, one decision for all pairs, and what each steel asks of a bath there."""
    numbers = wish_numbers("partners")
    curves = activity_curves([steel.analysis for steel in steels], numbers["level_c"])
    carbon = np.stack(levelled_wt(curves, first, second, shop.share))
    layers = _layers(steels, (first, second), carbon, shop.share)
    decided = decide_jointly(layers, shop.half_width_k)
    unknown = np.flatnonzero(decided.unknown.any(axis=0))
    as_supplied = _as_supplied(steels, (first, second), unknown, shop)
    heat = np.where(np.isfinite(decided.heat_c), decided.heat_c, USUAL_HEAT_C)
    section = BladeSection(shop.section_mm, numbers["edge_mm"], None, True)
    state = [austenitised(layer.wt, heat, layer.start, layer.errors) for layer in decided.layers]
    asks = [
        _asks(layer, steels, place, found, section)
        for layer, place, found in zip(decided.layers, (first, second), state, strict=True)
    ]
    both = (state[0], state[1])
    return Pairs(
        tuple(steels), first, second, carbon, decided, as_supplied, heat, both, (asks[0], asks[1]), section
    )


@dataclass(frozen=True)
class AsSupplied:
    """Pairs whose range is not known with level carbon, decided with the carbon that each was bought with,
    which layers too thick to even out keep. `place` is the sample of a pair."""

    decided: JointDecision
    place: Mapping[int, int]


def _as_supplied(
    steels: Sequence[PairSteel], places: tuple[Places, Places], pairs: Places, shop: Shop
) -> AsSupplied | None:
    if not len(pairs):
        return None
    here = (places[0][pairs], places[1][pairs])
    bought = np.stack([_columns(steels, place)["C"] for place in here])
    decided = decide_jointly(_layers(steels, here, bought, shop.share), shop.half_width_k)
    return AsSupplied(decided, {int(pair): i for i, pair in enumerate(pairs)})


def _layers(
    steels: Sequence[PairSteel], places: tuple[Places, Places], carbon: Array, share: float
) -> tuple[LayerSamples, LayerSamples]:
    density = np.array([steel.density_g_cm3 for steel in steels])
    heights = (share / density[places[0]], (1.0 - share) / density[places[1]])
    found = []
    for side, place in enumerate(places):
        supplied = _columns(steels, place)
        metal = (100.0 - carbon[side]) / (100.0 - supplied["C"])
        zone = CellCarbon(carbon[side][:, None], (heights[side] / (heights[0] + heights[1]))[:, None])
        plain = LayerSamples.plain(supplied, zone, "normalised", len(place))
        wt = {e: carbon[side] if e == "C" else v * metal for e, v in supplied.items()}
        found.append(replace(plain, name=("first", "second")[side], wt=wt))
    return found[0], found[1]


def _columns(steels: Sequence[PairSteel], place: Places) -> dict[str, Array]:
    elements = [e for e in ATOMIC_WEIGHT if e == "C" or any(steel.analysis[e] > 0.0 for steel in steels)]
    return {e: np.array([steel.analysis[e] for steel in steels])[place] for e in elements}


def _asks(
    layer: LayerSamples,
    steels: Sequence[PairSteel],
    place: Places,
    state: AusteniteSamples,
    section: BladeSection,
) -> LayerAsk:
    """What one side of every pair asks: steels that are reckoned alike in one batch, put back in order."""
    kinds: dict[tuple[frozenset[str], bool], list[int]] = {}
    for i, steel in enumerate(steels):
        kinds.setdefault((_assumed(steel), is_high_alloy(steel.analysis)), []).append(i)
    more = _untold(steels)
    parts: list[tuple[Places, LayerAsk]] = []
    for (assumed, rich), members in kinds.items():
        at = np.flatnonzero(np.isin(place, members))
        if len(at):
            added = {e: v[place[at]] for e, v in more.items()}
            here = _part(layer, at)
            dissolved = None if rich else _more({e: v[at] for e, v in state.dissolved_wt.items()}, added)
            whole = replace(here, wt=_more(here.wt, added))
            parts.append((at, layer_ask(whole, dissolved, section, assumed)))
    return _joined(parts, len(place))


def _assumed(steel: PairSteel) -> frozenset[str]:
    usual: Mapping[str, float] = decision_numbers("residuals")["usual_wt"]
    return frozenset(usual) - printed_residuals(steel.analysis, steel.grade)


def _untold(steels: Sequence[PairSteel]) -> dict[str, Array]:
    """What the whole analysis of each steel has more than the told one, wt% by element: (steels,)."""
    whole = [with_usual_residuals(s.analysis.wt, printed_residuals(s.analysis, s.grade)) for s in steels]
    usual: Collection[str] = decision_numbers("residuals")["usual_wt"]
    return {
        e: np.array([w.get(e, 0.0) - s.analysis[e] for w, s in zip(whole, steels, strict=True)])
        for e in usual
    }


def _more(wt: Mapping[str, Array], added: Mapping[str, Array]) -> dict[str, Array]:
    none = np.zeros(len(wt["C"]))
    return {**wt, **{e: np.maximum(wt.get(e, none) + v, 0.0) for e, v in added.items()}}


def _part(layer: LayerSamples, at: Places) -> LayerSamples:
    return replace(
        layer,
        wt={e: v[at] for e, v in layer.wt.items()},
        weight=layer.weight[at],
        errors=FormulaErrors.none(len(at)),
    )


def _joined(parts: Sequence[tuple[Places, LayerAsk]], pairs: int) -> LayerAsk:
    """Asks of parts of the samples as one of all."""

    def put(values: Sequence[Array]) -> Array:
        found = np.zeros(pairs)
        for (at, _), value in zip(parts, values, strict=True):
            found[at] = value
        return found

    rates = {
        f.name: put([getattr(ask.rates, f.name) for _, ask in parts])
        for f in fields(CriticalRates)
        if f.name not in ("estimated", "outside")
    }
    whole = {
        name: put([getattr(ask, name) for _, ask in parts])
        for name in ("carbon_wt", "crack", "crack_faded", "lost_decades", "film_factor")
    }
    return LayerAsk(
        name=parts[0][1].name,
        rates=CriticalRates(estimated=False, outside=(), **rates),
        published=(),
        **whole,
    )


def never_hardens(steel: PairSteel) -> bool:
    """Whether a steel stays austenite, or is nickel: it never becomes martensite."""
    return is_austenitic(steel.analysis)
