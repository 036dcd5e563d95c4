"""How many bars of a hundred come out as planned: what is never exact, carried through to the answer."""

import numpy as np

from billet.contract.uncertainty import BarCount
from billet.contract.values import Estimate, Medium
from billet.diffusion.simulation import Metal
from billet.errors import OutOfDomain
from billet.forging.model import Forged
from billet.hardening.decision import blade_section, half_width
from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.joint_decision import JointDecision, decide_jointly
from billet.hardening.samples import Array, LayerSamples, Mask
from billet.recipe.model import Recipe
from billet.tables.practice import decision_numbers
from billet.tables.uncertainty import spread
from billet.variation.carbon import carbon_response, differing_steels, more_carbon_wt
from billet.variation.draws import Draws, draw
from billet.variation.layers import layers_of_bars
from billet.variation.quench import Hold, asked_of, cooling_rates, hardened_through, medium_shares
from billet.variation.temper import ToldTemper, tempered_edge_hrc, told_temper

USUAL_BARS: int = 1000
SEED: int = 20250101


def count_bars(
    recipe: Recipe,
    forged: Forged,
    metal: Metal,
    answered: HeatTreatment,
    bars: int = USUAL_BARS,
    seed: int = SEED,
) -> BarCount:
    """So many bars made after this plan; the same seed gives the same bars. Raises OutOfDomain."""
    draws = draw(recipe, _checked(bars), seed)
    layers = drawn_layers(recipe, forged, metal, answered, draws)
    return judged_bars(recipe, answered, draws, layers, seed)


def _checked(bars: int) -> int:
    limits = spread("bars")
    if not limits["least"] <= bars <= limits["most"]:
        raise OutOfDomain("bars", bars, f"{limits['least']} to {limits['most']}")
    return bars


def drawn_layers(
    recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment, draws: Draws
) -> tuple[LayerSamples, ...]:
    """Every steel of the blade in every bar."""
    response = carbon_response(recipe, forged, metal, answered, differing_steels(recipe, draws))
    return layers_of_bars(recipe, answered, more_carbon_wt(recipe, answered, response, draws), draws)


def judged_bars(
    recipe: Recipe, answered: HeatTreatment, draws: Draws, layers: tuple[LayerSamples, ...], seed: int
) -> BarCount:
    """The shares of these bars, each decided by the rules of a plan."""
    half_width_k = half_width(recipe)
    found = decide_jointly(layers, half_width_k)
    has, window = found.has_window, found.window
    point_c, medium = answered.judged.set_point_c, answered.quench.medium
    in_window = works = None
    if point_c is not None:
        heat_c = point_c + half_width_k * draws.held
        in_window = _share(has & (heat_c >= window.low_c) & (heat_c <= window.high_c))
        works = _share(has & (found.worst.at(heat_c) <= decision_numbers("loss")["possible"]))
    media, through, edge = _quenched(recipe, answered, draws, found)
    told = told_temper(answered.temper) if point_c is not None else None
    tempered = None if told is None else _tempered(answered, draws, found, told)
    share_shared = _share(has & window.shared)
    low, high = (np.where(has, end, np.nan) for end in (window.low_c, window.high_c))
    return BarCount(
        bars=draws.bars,
        seed=seed,
        share_shared=share_shared,
        share_narrow=_share(has & ~window.shared),
        share_none=_share(~has),
        width_k=_estimate(high - low),
        window_low_c=_estimate(low),
        window_high_c=_estimate(high),
        set_point_c=point_c,
        half_width_k=half_width_k,
        share_in_window_at_set_point=in_window,
        share_works_at_set_point=works,
        medium=medium,
        medium_share=media,
        share_hardened_through=through,
        share_edge_hardened=edge,
        temper_c=None if told is None else told.temperature_c,
        tempered_hrc=None if tempered is None else _estimate(tempered),
        share_tempered_as_told=None if told is None or tempered is None else _inside(tempered, told),
    )


def _tempered(answered: HeatTreatment, draws: Draws, found: JointDecision, told: ToldTemper) -> Array:
    """The softest layer of the edge after the temper in every bar, hardened from the plan's set point as
    it is held. [HRC] (bars,); not a number where nothing hardens."""
    heat_c = found.heat_c * 0.0 + float(answered.judged.set_point_c or 0.0)
    hrc = tempered_edge_hrc(found.layers, heat_c + answered.judged.half_width_k * draws.held, told)
    return np.where(np.isfinite(hrc), hrc, np.nan)


def _inside(hrc: Array, told: ToldTemper) -> float:
    known = hrc[np.isfinite(hrc)]
    return float(np.mean((known >= told.low_hrc) & (known <= told.high_hrc))) if len(known) else 0.0


def _quenched(
    recipe: Recipe, answered: HeatTreatment, draws: Draws, found: JointDecision
) -> tuple[dict[Medium, float], float | None, float | None]:
    """Share of bars by medium, and of those that harden through and at the edge in the advised one."""
    point_c, medium = answered.judged.set_point_c, answered.quench.medium
    if point_c is None or medium is None:
        return {}, None, None
    section = blade_section(recipe, answered.judged)
    hold = Hold(point_c, recipe.start, section)
    told = {layer.name: layer for layer in answered.judged.layers}
    counts = decision_numbers("role")["soft_below"]
    hardening = [layer for layer in found.layers if told[layer.name].role != "soft"]
    asks = [
        asked_of(layer, told[layer.name], hold, draws.steels[layer.name].residual_wt) for layer in hardening
    ]
    here = [layer.weight >= counts for layer in hardening]
    through, edge = (
        _share(hardened_through(asks, here, cooling_rates(medium, mm, draws.film_factor)))
        for mm in (section.thickness_mm, section.thinnest_mm)
    )
    return medium_shares(asks, section, found.has_window), through, edge


def _share(mask: Mask) -> float:
    return float(np.mean(mask))


def _estimate(values: Array) -> Estimate | None:
    known = values[np.isfinite(values)]
    if len(known) == 0:
        return None
    low, middle, high = (float(v) for v in np.quantile(known, (0.05, 0.5, 0.95)))
    return Estimate(middle, low, high)
