"""The medium that every bar would ask for, and the bars that harden through in the advised one.

By the rules of the plan's own quench, on what is dissolved at the temperature of the plan.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.report import Medium
from billet.hardening.austenite import austenitised
from billet.hardening.decision import assumed_residuals, with_untold
from billet.hardening.layer import LayerSteel, is_high_alloy
from billet.hardening.media_cooling import class_bath
from billet.hardening.media_ranking import LADDER, bar_quenches, medium_name
from billet.hardening.quench_grades import BladeSection, LayerAsk, layer_ask
from billet.hardening.samples import Array, LayerSamples, Mask
from billet.tables.steels import Start


@dataclass(frozen=True)
class Hold:
    """The plan's temperature, the structure before it, and what is quenched."""

    heat_c: float
    start: Start
    section: BladeSection


def asked_of(layer: LayerSamples, told: LayerSteel, hold: Hold, residual_wt: Mapping[str, Array]) -> LayerAsk:
    """What a layer asks in every bar; `told` is the plan's own layer, `residual_wt` what was drawn of the
    residual elements that its analysis does not tell."""
    dissolved = None
    if not is_high_alloy(told.composition):
        heat_c = np.full(layer.samples, hold.heat_c)
        found = austenitised(layer.wt, heat_c, hold.start, layer.errors)
        dissolved = with_untold(found.dissolved_wt, told, residual_wt)
    whole = replace(layer, wt=with_untold(layer.wt, told, residual_wt))
    return layer_ask(whole, dissolved, hold.section, assumed_residuals(told))


def cooling_rates(name: Medium, thickness_mm: float, film_factor: Array) -> Array:
    """Cooling of the middle with the film of every bar. [K/s]"""
    return class_bath(name).rates_k_s(thickness_mm, film_factor)


def medium_shares(asks: Sequence[LayerAsk], section: BladeSection, has_window: Mask) -> dict[Medium, float]:
    """Share of all bars that would ask for each medium; bars without a window ask for none."""
    if not asks:
        return {}
    place = bar_quenches(asks, section).place
    found = {
        medium_name(i, section.thickness_mm): float(np.mean(has_window & (place == i)))
        for i in range(len(LADDER))
    }
    return {name: share for name, share in found.items() if share > 0.0}


def hardened_through(asks: Sequence[LayerAsk], takes_part: list[Mask], cooling_k_s: Array) -> Mask:
    """Bars in which every hardening layer cools at least at its critical rate: (bars,)."""
    through: Mask = np.any(takes_part, axis=0)
    for ask, here in zip(asks, takes_part, strict=True):
        through &= ~here | (cooling_k_s >= ask.rates.value)
    return through
