"""All bars of a sweep decided together: those of one kind in one batch by the rules of a plan."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.sweep import SweepRow
from billet.contract.values import Medium
from billet.hardening.austenite import austenitised
from billet.hardening.decision import assumed_residuals, blade_section, half_width, with_untold
from billet.hardening.heat_treatment import BladeReady
from billet.hardening.joint_decision import JointDecision, decide_jointly
from billet.hardening.layer import is_high_alloy, role_of
from billet.hardening.media_ranking import bar_quenches, medium_name
from billet.hardening.quench_grades import BladeSection, LayerAsk, layer_ask
from billet.hardening.samples import Array, CellCarbon, FormulaErrors, LayerSamples
from billet.hardening.set_point import grade_of
from billet.wish.followed import Tried


@dataclass(frozen=True)
class Swept:
    """A bar with the steels of its blade; `ready` is that of the nearest bar that was followed."""

    bar: Tried
    layers: Mapping[str, LayerSamples]
    ready: BladeReady
    followed: bool


def decide_swept(bars: Sequence[Swept]) -> list[SweepRow]:
    """The row of every bar, in order."""
    batches: dict[object, list[int]] = {}
    for place, one in enumerate(bars):
        batches.setdefault(_kind(one), []).append(place)
    rows: dict[int, SweepRow] = {}
    for places in batches.values():
        batch = [bars[i] for i in places]
        rows |= dict(zip(places, _decided(batch), strict=True))
    return [rows[i] for i in range(len(bars))]


def _kind(one: Swept) -> object:
    """What must be one for bars to be decided in one batch."""
    steels = one.bar.recipe.steels
    each = tuple(
        (name, steels[name].grade, steels[name].harden_c, steels[name].cladding, steels[name].analysis)
        for name in one.layers
    )
    return each, one.bar.recipe.start


def _decided(batch: Sequence[Swept]) -> list[SweepRow]:
    layers = tuple(_stacked(batch, name) for name in batch[0].layers)
    held_k = np.array([half_width(one.bar.recipe) for one in batch])
    found = decide_jointly(layers, held_k)
    media = _media(batch, found)
    return [_row(one, found, i, float(held_k[i]), media[i]) for i, one in enumerate(batch)]


def _stacked(batch: Sequence[Swept], name: str) -> LayerSamples:
    """One steel of all bars. What the recipe tells of it is each bar's own."""
    own, samples = [one.layers[name] for one in batch], len(batch)
    steels = [one.bar.recipe.steels[name] for one in batch]
    first = steels[0]
    return replace(
        own[0],
        grade=first.grade,
        harden_c=first.harden_c,
        cladding=first.cladding,
        given=first.analysis == "given",
        start=batch[0].bar.recipe.start,
        wt=_columns([{e: float(v[0]) for e, v in layer.wt.items()} for layer in own]),
        supplied_wt=_columns([steel.composition.wt for steel in steels]),
        edge=_cells([layer.edge for layer in own]),
        blade=_cells([layer.blade for layer in own]),
        weight=np.ones(samples),
        errors=FormulaErrors.none(samples),
    )


def _columns(rows: Sequence[Mapping[str, float]]) -> dict[str, Array]:
    elements = dict.fromkeys(e for row in rows for e in row) | {"C": None}
    return {e: np.array([row.get(e, 0.0) for row in rows]) for e in elements}


def _cells(zones: Sequence[CellCarbon]) -> CellCarbon:
    """Zones of many bars as one, filled up with cells that count nothing."""
    most = max(len(zone.share) for zone in zones)
    carbon, share = np.zeros((len(zones), most)), np.zeros((len(zones), most))
    for i, zone in enumerate(zones):
        carbon[i, : len(zone.share)], share[i, : len(zone.share)] = zone.carbon_wt[0], zone.share
    return CellCarbon(carbon, share)


def _media(batch: Sequence[Swept], found: JointDecision) -> list[Medium | None]:
    """The medium of every bar, None where there is no window; bars of one section in one batch."""
    sections: dict[tuple[BladeSection, frozenset[str]], list[int]] = {}
    greatest = np.max(np.stack([layer.weight for layer in found.layers]), axis=0)
    for i, one in enumerate(batch):
        told = frozenset(
            layer.name
            for layer in found.layers
            if role_of(_one_of(layer, i), float(greatest[i]))[0] != "soft"
        )
        sections.setdefault((blade_section(one.bar.recipe, one.ready.first), told), []).append(i)
    media: list[Medium | None] = [None] * len(batch)
    for (section, told), places in sections.items():
        if not told:
            continue
        at = np.array(places)
        asks = [_asked(_part(la, at), batch[places[0]], found.point.c[at], section)
                for la in found.layers if la.name in told]  # fmt: skip
        place = bar_quenches(asks, section).place
        for i, rung in zip(places, place, strict=True):
            if found.has_window[i]:
                media[i] = medium_name(int(rung), section.thickness_mm)
    return media


def _asked(layer: LayerSamples, one: Swept, heat_c: Array, section: BladeSection) -> LayerAsk:
    told = next(known for known in one.ready.first.layers if known.name == layer.name)
    dissolved = None
    if not is_high_alloy(told.composition):
        dissolved = with_untold(austenitised(layer.wt, heat_c, layer.start, layer.errors).dissolved_wt, told)
    whole = replace(layer, wt=with_untold(layer.wt, told))
    return layer_ask(whole, dissolved, section, assumed_residuals(told))


def _one_of(layer: LayerSamples, place: int) -> LayerSamples:
    return _part(layer, np.array([place]))


def _part(layer: LayerSamples, at: np.ndarray[tuple[int], np.dtype[np.intp]]) -> LayerSamples:
    """The same steel in some of the samples."""
    return replace(
        layer,
        wt={e: v[at] for e, v in layer.wt.items()},
        supplied_wt={e: v[at] for e, v in layer.supplied_wt.items()},
        edge=CellCarbon(layer.edge.carbon_wt[at], layer.edge.share[at]),
        blade=CellCarbon(layer.blade.carbon_wt[at], layer.blade.share[at]),
        weight=layer.weight[at],
        errors=FormulaErrors.none(len(at)),
    )


def _row(one: Swept, found: JointDecision, i: int, held_k: float, medium: Medium | None) -> SweepRow:
    last, window = one.bar.forged.rows[-1], found.window
    none = found.none_because(i)
    has = none is None
    loss = float(found.point.loss[i])
    return SweepRow(
        value=one.bar.value,
        planned=one.followed,
        verdict=found.verdict(i),
        none_because=none,
        window_low_c=float(window.low_c[i]) if has else None,
        window_high_c=float(window.high_c[i]) if has else None,
        works_low_c=float(window.works_low_c[i]) if has else None,
        works_high_c=float(window.works_high_c[i]) if has else None,
        set_point_c=float(found.point.c[i]) if has else None,
        least_bad_c=float(found.heat_c[i]) if none == "gap" else None,
        gap_k=float(window.gap_k[i]) if none == "gap" else None,
        loss=loss if has else None,
        grade=grade_of(loss) if has else None,
        medium=medium,
        layers_visible=last.layers_visible,
        layer_um=last.layer_um.mean,
        height_mm=last.height_mm,
        length_mm=last.length_mm,
        yield_=last.yield_,
        carbon_wt={name: float(layer.wt["C"][0]) for name, layer in one.layers.items()},
    )
