"""What the smith asks: the blade inside the bar, one temperature, one medium, one temper."""

from dataclasses import dataclass

from billet.composition import Composition, blend
from billet.contract.report import CarbonSpread, Estimate, QuenchRow, TemperRow
from billet.diffusion.contrast import AlloyInterdiffusion, alloy_interdiffusion, interdiffused_composition
from billet.diffusion.profile import Profile
from billet.diffusion.simulation import Metal
from billet.forging.model import Forged
from billet.hardening.austenite_state import SteelState
from billet.hardening.blade import blade_profile, carbon_spreads, mass_shares, spare_height_mm
from billet.hardening.decision import HardeningDecision, judge, quench_of, states_at
from billet.hardening.layer import LayerSteel, judge_role
from billet.hardening.preheat_diffusion import after_normalising_and_soak
from billet.hardening.published_hardness import published_hrc
from billet.hardening.temper import temper_row
from billet.recipe.model import Recipe


@dataclass(frozen=True)
class HeatTreatment:
    """`blade` is the profile after normalising and soak, `as_forged` the same before them.

    `first` is what was decided on the carbon as forged: its heats are those that `blade` went through.
    """

    as_forged: Profile
    first: HardeningDecision
    blade: Profile
    grind_mm: float
    spreads: dict[str, CarbonSpread]
    blur: AlloyInterdiffusion
    bulk: Composition
    judged: HardeningDecision
    states: dict[str, SteelState]
    quench: QuenchRow
    temper: TemperRow


def answer(recipe: Recipe, forged: Forged, metal: Metal) -> HeatTreatment:
    """Decide on the blade's own carbon: once as forged, then after the heats that advises.

    Below Acm carbon gathers where chromium, vanadium or tungsten hold it, so the recommended
    normalising and soak are applied to the blade before it is judged for good (one pass).
    """
    on_edge = forged.final.on_edge
    blade = None if on_edge else recipe.blade
    profile = blade_profile(metal.bar, blade)
    blur = alloy_interdiffusion(metal.bar)
    before = _layers(recipe, metal, profile, blur)
    forged_mm = min(forged.rows[-1].height_mm, forged.rows[-1].width_mm)
    first = judge(recipe, before, forged_mm)
    after = after_normalising_and_soak(profile, first)
    layers = _layers(recipe, metal, after, blur)
    judged = judge(recipe, layers, forged_mm)
    states = states_at(recipe, judged)
    hardened = _hardened(judged)
    hrc = {layer.name: _quenched_hrc(layer, states, judged.heat_c) for layer in hardened}
    return HeatTreatment(
        profile,
        first,
        after,
        0.5 * spare_height_mm(metal.bar.height_mm, blade),
        _spreads(metal, after),
        blur,
        _bulk(metal),
        judged,
        states,
        quench_of(recipe, judged, states),
        temper_row(hardened, hrc),
    )


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


def _spreads(metal: Metal, profile: Profile) -> dict[str, CarbonSpread]:
    return carbon_spreads(profile, {name: c["C"] for name, c in metal.compositions.items()})


def _bulk(metal: Metal) -> Composition:
    """Analysis of the whole bar by mass, with the carbon that is left in it."""
    shares = mass_shares(metal.bar)
    carbon = metal.moved.steps[-1].carbon_wt
    return blend(
        (metal.compositions[name].with_carbon(carbon[name]), share)
        for name, share in shares.items()
        if share > 0.0
    )


def _layers(
    recipe: Recipe, metal: Metal, profile: Profile, blur: AlloyInterdiffusion
) -> tuple[LayerSteel, ...]:
    shares = mass_shares(profile)
    spreads = _spreads(metal, profile)
    mean = blend((metal.compositions[name], shares[name]) for name in spreads)
    start = recipe.blade.start if recipe.blade is not None else "normalised"
    found = []
    for name, carbon in spreads.items():
        steel = recipe.steels[name]
        alloy = interdiffused_composition(steel.composition, mean, blur.contrast).with_carbon(carbon.mean)
        role, why = judge_role(alloy, carbon)
        found.append(
            LayerSteel(
                name=name,
                grade=steel.grade,
                harden_c=steel.harden_c,
                supplied=steel.composition,
                composition=alloy,
                carbon=carbon,
                share=shares[name],
                role=role,
                role_because=why,
                start=start,
            )
        )
    return tuple(found)
