"""Where a layer may be tempered: the advised range, and the range that makes martensite brittle."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.contract.values import Reason
from billet.hardening.temper_types import TemperedLayer
from billet.hardening.tempered_hardness import content, printed_top, ramp
from billet.tables.tempering import temper_numbers

Array = npt.NDArray[np.float64]

FADE_K = 100.0
WITHIN_K = 0.5


@dataclass(frozen=True)
class TemperLimits:
    """Top of the advised range and the ends of the brittle range of one layer. [C] each (samples,)"""

    top_c: Array
    brittle_low_c: Array
    brittle_high_c: Array


def temper_limits(wt: Mapping[str, Array]) -> TemperLimits:
    """150-230 C is advised and 230-370 C brittle (practice), both moved by what the layer is made of.

    40 K higher for 1 % Si over 0.3 (memory); 440C kinds to 370 C, brittle from 425 to 565 (printed), as a
    ramp of chromium; the top of a range printed for a near analysis wins. Continuous in the analysis.
    """
    rules = temper_numbers("advised")
    silicon = np.maximum(0.0, content(wt, "Si") - rules["silicon_from_wt"])
    higher = np.minimum(rules["silicon_k_per_wt"] * silicon, rules["silicon_most_k"])
    stainless = ramp(content(wt, "Cr"), rules["stainless_cr_wt"])

    def between(usual_c: float, stainless_c: float) -> Array:
        return np.asarray((1.0 - stainless) * (usual_c + higher) + stainless * stainless_c)

    top = printed_top(wt, between(rules["high_c"], rules["stainless_high_c"]))
    low = between(rules["high_c"], rules["stainless_brittle_c"][0])
    high = between(rules["brittle_to_c"], rules["stainless_brittle_c"][1])
    return TemperLimits(top, np.maximum(low, top), np.maximum(high, top))


@dataclass(frozen=True)
class BarLimits:
    """The advised top and the brittle range of the bar, with the steel that sets the top, and the brittle
    range of each steel, narrower by what it counts less. [C]"""

    top_c: float
    low_c: float
    high_c: float
    steel: str
    brittle_c: Mapping[str, tuple[float, float]]


def bar_limits(layers: Sequence[TemperedLayer], wt: Mapping[str, Array]) -> BarLimits | None:
    """Lowest top and widest brittle range over the layers; one of little weight fades out by 100 K. `wt` are
    their analyses, (layers,)."""
    if not layers:
        return None
    found, weight = temper_limits(wt), np.array([float(layer.weight[0]) for layer in layers])
    fade = FADE_K * (1.0 - weight)
    tops, lows, highs = (
        each.tolist()
        for each in (found.top_c + fade, found.brittle_low_c + fade, found.brittle_high_c - fade)
    )
    brittle = {layer.name: (low, high) for layer, low, high in zip(layers, lows, highs, strict=True)}
    return BarLimits(min(tops), min(lows), max(highs), layers[int(np.argmin(tops))].name, brittle)


def why_not(temperature_c: float, limits: BarLimits | None) -> Reason | None:
    """Why a temperature is advised against; None where it is not."""
    if limits is None or temperature_c <= limits.top_c + WITHIN_K:
        return None
    turning = {name: ends for name, ends in limits.brittle_c.items() if ends[0] < temperature_c <= ends[1]}
    if turning:
        steel, (low_c, high_c) = next(iter(turning.items()))
        return Reason("temper-brittle", {"low_c": low_c, "high_c": high_c, "steel": steel})
    return Reason("temper-beyond", {"top_c": limits.top_c, "steel": limits.steel})
