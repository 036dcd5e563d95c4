"""Carbon of two steels that have evened out: of one activity, and none of it lost. Many pairs at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.composition import Composition
from billet.diffusion.activity_law import austenite_law
from billet.diffusion.carbide_sink import tables_at
from billet.diffusion.profile import CARBON_G_MOL, carbon_wt, gather_metals

Array = npt.NDArray[np.float64]
Places = npt.NDArray[np.intp]
_MOST_RATIO = 0.25
_RATIOS = 1500
_LEVELS = 1200
_AT_ONCE = 512


@dataclass(frozen=True)
class ActivityCurves:
    """Steels at one temperature: `ratio` (steels, levels) is the carbon atoms for one metal atom that each
    holds at the activities `level` (levels,), rising; `start` (steels,) what each holds by itself."""

    level: Array
    ratio: Array
    start: Array
    metal_weight: Array


def activity_curves(steels: Sequence[Composition], temperature_c: float) -> ActivityCurves:
    """How much carbon each steel holds at each activity, by the law of the fires. [C]"""
    named = {str(i): steel for i, steel in enumerate(steels)}
    metals = gather_metals(named, dict.fromkeys(named, 7.85))
    start = np.array([steel.carbon_ratio for steel in steels])
    most_wt = max(steel["C"] for steel in steels) + 1.0
    law = austenite_law(metals, temperature_c, tables_at(metals, (temperature_c,), 0.0, most_wt)[0])
    ratio = np.linspace(0.0, _MOST_RATIO, _RATIOS)
    curves = [law.activity(ratio, np.full(len(ratio), i, dtype=np.intp)) for i in range(len(steels))]
    own = [float(np.interp(y, ratio, curve)) for y, curve in zip(start, curves, strict=True)]
    low, high = max(min(own), 1e-6), max(max(own), 1e-5)
    level = np.concatenate([[0.0], np.geomspace(0.5 * low, 1.01 * high, _LEVELS)])
    held = np.stack([np.interp(level, np.maximum.accumulate(curve), ratio) for curve in curves])
    return ActivityCurves(level, held, start, metals.metal_weight)


def levelled_wt(curves: ActivityCurves, first: Places, second: Places, share: float) -> tuple[Array, Array]:
    """Carbon of both steels of every pair once its activity is one. [wt%] (pairs,) each.

    first, second: (pairs,) places of steels; `share` of the mass is the first. No carbon is lost.
    """
    mass_first, mass_second = _metal(curves, first, share), _metal(curves, second, 1.0 - share)
    y_first, y_second = np.empty(len(first)), np.empty(len(first))
    for at in range(0, len(first), _AT_ONCE):
        here = slice(at, at + _AT_ONCE)
        a, b = first[here], second[here]
        n, m = mass_first[here, None], mass_second[here, None]
        total = n * curves.ratio[a] + m * curves.ratio[b]
        wanted = n[:, 0] * curves.start[a] + m[:, 0] * curves.start[b]
        above = np.clip(np.sum(total < wanted[:, None], axis=1), 1, total.shape[1] - 1)
        rows = np.arange(len(a))
        low, high = total[rows, above - 1], total[rows, above]
        part = np.clip((wanted - low) / np.maximum(high - low, 1e-15), 0.0, 1.0)
        for held, steel in ((y_first, a), (y_second, b)):
            start = curves.ratio[steel, above - 1]
            held[here] = start + part * (curves.ratio[steel, above] - start)
    return (
        carbon_wt(y_first, curves.metal_weight[first]),
        carbon_wt(y_second, curves.metal_weight[second]),
    )


def _metal(curves: ActivityCurves, steel: Places, share: float) -> Array:
    """Moles of metal in this share of the mass, as far as the ratio of two shares counts."""
    carbon = curves.start[steel] * CARBON_G_MOL / curves.metal_weight[steel]
    found: Array = share / (curves.metal_weight[steel] * (1.0 + carbon))
    return found
