"""Where a layer may be tempered: the advised range, and the range that makes martensite brittle."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.hardening.tempered_hardness import content, printed_top, ramp
from billet.tables.tempering import temper_numbers

Array = npt.NDArray[np.float64]


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
