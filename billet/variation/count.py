"""How many bars of a hundred come out as planned: what is never exact, carried through to the answer."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from billet.contract.report import Estimate, Medium, to_plain
from billet.diffusion.simulation import Metal, simulate_diffusion
from billet.errors import OutOfDomain
from billet.forging.forge import forge
from billet.forging.model import Forged
from billet.forging.stack import build_stack
from billet.hardening.decision import blade_thickness_mm, half_width
from billet.hardening.heat_treatment import HeatTreatment, answer
from billet.recipe.model import Recipe
from billet.tables.uncertainty import spread
from billet.variation.carbon import bars_carbon, carbon_response, differing_steels
from billet.variation.draws import Array, Draws, draw
from billet.variation.layers import layers_of_bars
from billet.variation.quench import Hold, asked_of, cooling_rates, hardened_through, medium_shares
from billet.variation.shared_window import NARROW, NONE, SHARED, AgreementOfBars, agree_in_bars
from billet.variation.windows import SOFT, LayerBars, Mask, roles, windows_of_bars
from billet.variation.words import assumptions, sentence

USUAL_BARS: int = 1000
SEED: int = 20250101


@dataclass(frozen=True)
class Uncertainty:
    """Shares of all bars, 0 to 1. Estimates are over the bars that have a window, None where none has.

    `share_in_window_at_set_point`: heated at the plan's set point, as well as it is held, the steel lies
    inside the bar's own window; None where the plan has no set point. `share_hardened_through`: the middle
    of the blade in the advised medium; None where none is advised.
    """

    bars: int
    seed: int
    share_shared: float
    share_narrow: float
    share_none: float
    width_k: Estimate | None
    window_low_c: Estimate | None
    window_high_c: Estimate | None
    set_point_c: float | None
    half_width_k: float
    share_in_window_at_set_point: float | None
    medium: Medium | None
    medium_share: Mapping[Medium, float]
    share_hardened_through: float | None
    sentence: str
    assumptions: tuple[str, ...]

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON."""
        plain: dict[str, Any] = to_plain(self)
        return plain


def uncertainty_of(recipe: Recipe, bars: int = USUAL_BARS, seed: int = SEED) -> Uncertainty:
    """Plan the recipe and make so many bars of it. Raises OutOfDomain for too few or too many bars."""
    _checked(bars)
    forged = forge(recipe, build_stack(recipe))
    metal = simulate_diffusion(recipe, forged, 1)
    return uncertainty(recipe, forged, metal, answer(recipe, forged, metal), bars, seed)


def uncertainty(
    recipe: Recipe,
    forged: Forged,
    metal: Metal,
    answered: HeatTreatment,
    bars: int = USUAL_BARS,
    seed: int = SEED,
) -> Uncertainty:
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
) -> tuple[LayerBars, ...]:
    """Every steel of the blade in every bar."""
    response = carbon_response(recipe, forged, metal, answered, differing_steels(recipe, draws))
    return layers_of_bars(recipe, answered, bars_carbon(recipe, answered, response, draws), draws)


def judge_bars(layers: tuple[LayerBars, ...]) -> AgreementOfBars:
    """Verdict and window of every bar."""
    role = np.stack([roles(layer) for layer in layers])
    windows = [windows_of_bars(layer) if np.any(role[i] != SOFT) else None for i, layer in enumerate(layers)]
    return agree_in_bars(windows, role)


def judged_bars(
    recipe: Recipe, answered: HeatTreatment, draws: Draws, layers: tuple[LayerBars, ...], seed: int
) -> Uncertainty:
    """The shares of these bars."""
    found = judge_bars(layers)
    point = answered.judged.set_point
    half_width_k = half_width(recipe)
    in_window = None
    if point is not None:
        in_window = _share(_hit(found, point.c + half_width_k * draws.held))
    media, through = _quenched(recipe, answered, draws, layers, found)
    medium = answered.quench.medium
    share_shared = _share(found.verdict == SHARED)
    point_c = None if point is None else point.c
    return Uncertainty(
        bars=draws.bars,
        seed=seed,
        share_shared=share_shared,
        share_narrow=_share(found.verdict == NARROW),
        share_none=_share(found.verdict == NONE),
        width_k=_estimate(found.high - found.low),
        window_low_c=_estimate(found.low),
        window_high_c=_estimate(found.high),
        set_point_c=point_c,
        half_width_k=half_width_k,
        share_in_window_at_set_point=in_window,
        medium=medium,
        medium_share=media,
        share_hardened_through=through,
        sentence=sentence(share_shared, in_window, through, point_c, half_width_k, medium),
        assumptions=assumptions(recipe),
    )


def _hit(found: AgreementOfBars, heat_c: Array) -> Mask:
    hit: Mask = found.has_window & (heat_c >= found.low) & (heat_c <= found.high)
    return hit


def _quenched(
    recipe: Recipe,
    answered: HeatTreatment,
    draws: Draws,
    layers: tuple[LayerBars, ...],
    found: AgreementOfBars,
) -> tuple[dict[Medium, float], float | None]:
    point, medium = answered.judged.set_point, answered.quench.medium
    if point is None or medium is None:
        return {}, None
    start = recipe.blade.start if recipe.blade is not None else "normalised"
    cycled = answered.judged.normalising.cycled
    hold = Hold(point.c, start, blade_thickness_mm(recipe), cycled)
    hardening = [(layer, role != SOFT) for layer in layers if np.any((role := roles(layer)) != SOFT)]
    asked = [asked_of(layer, hold, draws.film_factor) for layer, _ in hardening]
    here = [mask for _, mask in hardening]
    cooling = cooling_rates(medium, hold.thickness_mm, draws.film_factor)
    return medium_shares(asked, here, found.has_window), _share(hardened_through(asked, here, cooling))


def _share(mask: Mask) -> float:
    return float(np.mean(mask))


def _estimate(values: Array) -> Estimate | None:
    known = values[np.isfinite(values)]
    if len(known) == 0:
        return None
    low, middle, high = (float(v) for v in np.quantile(known, (0.05, 0.5, 0.95)))
    return Estimate(middle, low, high)
