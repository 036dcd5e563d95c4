"""What the smith asks: the blade inside the bar, one temperature, one medium, one temper."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition, blend
from billet.contract.report import CarbonSpread, Estimate
from billet.diffusion.contrast import AlloyInterdiffusion, alloy_interdiffusion, interdiffused_composition
from billet.diffusion.profile import Profile, carbon_by_steel
from billet.diffusion.simulation import Metal
from billet.forging.model import Forged
from billet.hardening.austenite_state import SteelState
from billet.hardening.blade import (
    BladeColumns,
    blade_columns,
    carbon_spreads,
    each_held,
    edge_columns,
    in_one,
    mass_shares,
    spare_height_mm,
)
from billet.hardening.decision import (
    HardeningDecision,
    Swing,
    decide_hardening,
    half_width,
    quench_of,
    states_at,
)
from billet.hardening.joint_decision import JointDecision, decide_jointly
from billet.hardening.layer import LayerSteel, role_of
from billet.hardening.line_bands import LineBands, line_bands
from billet.hardening.plan_temper import temper_of_plan
from billet.hardening.preheat_diffusion import after_normalising_and_soak
from billet.hardening.published_hardness import published_hrc
from billet.hardening.quench import BarQuench
from billet.hardening.samples import CellCarbon, FormulaErrors, LayerSamples
from billet.hardening.temper_types import TemperDecision
from billet.hardening.zones import edge_zone, edge_zone_mm, together, whole
from billet.recipe.model import EdgeAt, Recipe


@dataclass(frozen=True)
class HeatTreatment:
    """`blade` is the profile after normalising and soak, `as_forged` the same before them; `columns` is that
    blade as it lies side by side, and `edge` the part of them that the edge is cut from.

    `undecided` are its layers before they are weighed. `first` is what was decided on the carbon as
    forged: its heats are those that `blade` went through. `lines` are Ae1, Ae3 and Acm of the layers that
    harden, where they are computed; `swings` where the fire takes layers out of their good range.
    """

    as_forged: Profile
    first: HardeningDecision
    blade: Profile
    columns: BladeColumns
    edge: BladeColumns
    grind_mm: float
    spreads: dict[str, CarbonSpread]
    blur: AlloyInterdiffusion
    bulk: Composition
    judged: HardeningDecision
    undecided: tuple[LayerSamples, ...]
    states: dict[str, SteelState]
    quench: BarQuench
    temper: TemperDecision
    lines: dict[str, LineBands]
    swings: tuple[Swing, ...]


@dataclass(frozen=True)
class BladeReady:
    """The blade inside a bar, brought to where it is judged: `held` after the heats that `first`, the
    decision on its carbon as forged, advises."""

    as_forged: BladeColumns
    first: HardeningDecision
    held: BladeColumns
    blur: AlloyInterdiffusion


def blade_ready(recipe: Recipe, forged: Forged, metal: Metal) -> BladeReady:
    """Cut the blade out of the bar and take it through normalising and soak.

    Below Acm carbon gathers where chromium, vanadium or tungsten hold it, so the recommended
    normalising and soak are applied to the blade before it is judged for good (one pass).
    """
    blade = None if forged.final.on_edge and not forged.final.alike else recipe.blade
    columns = blade_columns(metal, blade)
    blur = alloy_interdiffusion(metal.bar)
    samples = layer_samples(recipe, metal, columns, blur)
    first = _decided(recipe, metal, columns, samples, _forged_mm(forged))
    held = each_held(columns, lambda profile: after_normalising_and_soak(profile, first))
    return BladeReady(columns, first, held, blur)


def _forged_mm(forged: Forged) -> float:
    """Thickness of the bar as it comes from the fire, which is what is normalised."""
    return min(forged.rows[-1].height_mm, forged.rows[-1].width_mm)


def answer(recipe: Recipe, forged: Forged, metal: Metal) -> HeatTreatment:
    """Decide on the blade's own carbon: once as forged, then after the heats that advises."""
    ready = blade_ready(recipe, forged, metal)
    high_mm = metal.bar.height_mm if forged.final.through == "height" else forged.rows[-1].solid_height_mm
    blade = None if forged.final.on_edge and not forged.final.alike else recipe.blade
    held, blur = ready.held, ready.blur
    undecided = layer_samples(recipe, metal, held, blur)
    judged = _decided(recipe, metal, held, undecided, _forged_mm(forged), with_moved=True)
    found = states_at(judged)
    states, varied = found.at_heat, found.varied
    hardened = _hardened(judged)
    hrc = {layer.name: _quenched_hrc(layer, states, judged.heat_c) for layer in hardened}
    return HeatTreatment(
        in_one(ready.as_forged),
        ready.first,
        in_one(held),
        held,
        edge_columns(held, _edge_at(recipe)),
        0.5 * spare_height_mm(high_mm, blade),
        {layer.name: layer.carbon for layer in judged.layers},
        blur,
        _bulk(metal),
        judged,
        undecided,
        states,
        quench_of(recipe, judged, states, varied, hrc),
        temper_of_plan(
            hardened, hrc, varied, recipe.blade.temper_to_hrc if recipe.blade is not None else None
        ),
        {
            layer.name: line_bands(moved)
            for layer, moved in zip(judged.layers, judged.joint.moved, strict=True)
            if layer.name in varied
        },
        found.swings,
    )


def _decided(
    recipe: Recipe,
    metal: Metal,
    columns: BladeColumns,
    samples: tuple[LayerSamples, ...],
    forged_mm: float,
    *,
    with_moved: bool = False,
) -> HardeningDecision:
    joint = decide_jointly(samples, half_width(recipe), with_moved=with_moved)
    return decide_hardening(recipe, joint, _layers(recipe, metal, in_one(columns), joint), forged_mm)


def _edge_at(recipe: Recipe) -> EdgeAt:
    return recipe.blade.edge_at if recipe.blade is not None else "middle"


def _edge_cells(recipe: Recipe, columns: BladeColumns) -> dict[str, CellCarbon]:
    """Cells of the zone of the edge: about its plane, or all of them where layers reach every face alike."""
    edge_mm = recipe.blade.edge_mm if recipe.blade is not None else 0.0
    at = _edge_at(recipe)
    zones = []
    for column in edge_columns(columns, at):
        piece = column.profile
        high_mm = edge_zone_mm(piece.height_mm, edge_mm)
        zones.append((column.share, whole(piece) if column.alike else edge_zone(piece, high_mm, at)))
    return together(zones)


def layer_samples(
    recipe: Recipe, metal: Metal, columns: BladeColumns, blur: AlloyInterdiffusion
) -> tuple[LayerSamples, ...]:
    """Every steel of the blade as a sample of one, in the order of the recipe."""
    profile, edge = in_one(columns), _edge_cells(recipe, columns)
    blade = whole(profile)
    carbon_wt, shares = carbon_by_steel(profile), mass_shares(profile)
    mean = blend((metal.compositions[name], shares[name]) for name in carbon_wt)
    start = recipe.start
    found = []
    for name, own_wt in carbon_wt.items():
        steel = recipe.steels[name]
        alloy = interdiffused_composition(steel.composition, mean, blur.contrast).with_carbon(own_wt)
        found.append(
            LayerSamples(
                name=name,
                grade=steel.grade,
                harden_c=steel.harden_c,
                cladding=steel.cladding,
                given=steel.analysis == "given",
                start=start,
                wt=_columns(alloy.wt),
                supplied_wt=_columns(steel.composition.wt),
                edge=edge.get(name, CellCarbon(np.zeros((1, 0)), np.zeros(0))),
                blade=blade[name],
                weight=np.ones(1),
                errors=FormulaErrors.none(1),
            )
        )
    return tuple(found)


def _columns(wt: Mapping[str, float]) -> dict[str, np.ndarray[tuple[int], np.dtype[np.float64]]]:
    columns = {e: np.array([v]) for e, v in wt.items()}
    columns.setdefault("C", np.zeros(1))
    return columns


def _hardened(judged: HardeningDecision) -> tuple[LayerSteel, ...]:
    """The layers that the chosen heat hardens: those whose possible range it has reached."""
    heat_c = judged.heat_c
    if heat_c is None:
        return ()
    return tuple(
        layer
        for layer, window in zip(judged.layers, judged.windows, strict=True)
        if layer.role != "soft" and window.possible is not None and window.possible.low.c <= heat_c
    )


def _quenched_hrc(layer: LayerSteel, states: dict[str, SteelState], heat_c: float | None) -> Estimate | None:
    """Hardness as quenched: computed, or printed for a high-alloy grade."""
    state = states.get(layer.name)
    return state.hrc if state is not None and state.hrc is not None else published_hrc(layer, heat_c)


def _bulk(metal: Metal) -> Composition:
    """Analysis of the whole bar by mass, with the carbon that is left in it."""
    shares = mass_shares(metal.bar)
    carbon = metal.moved.steps[-1].carbon_wt
    return blend(
        (metal.compositions[name].with_carbon(carbon[name]), share)
        for name, share in shares.items()
        if share > 0.0
    )


def _layers(recipe: Recipe, metal: Metal, profile: Profile, joint: JointDecision) -> tuple[LayerSteel, ...]:
    """The steels of the blade as the plan tells them."""
    shares = mass_shares(profile)
    spreads = carbon_spreads(profile, {name: c["C"] for name, c in metal.compositions.items()})
    greatest = max(float(layer.weight[0]) for layer in joint.layers)
    found = []
    for layer in joint.layers:
        steel = recipe.steels[layer.name]
        role, why = role_of(layer, greatest)
        found.append(
            LayerSteel(
                name=layer.name,
                grade=steel.grade,
                harden_c=steel.harden_c,
                supplied=steel.composition,
                composition=layer.analysis(),
                carbon=spreads[layer.name],
                share=shares[layer.name],
                role=role,
                role_because=why,
                start=layer.start,
                weight=float(layer.weight[0]),
                edge_weight=float(layer.at_edge[0]),
            )
        )
    return tuple(found)
