"""What is left of the difference in nickel, chromium, manganese ... between the layers of a piece."""

from dataclasses import dataclass

import numpy as np

from billet.diffusion.heat import SPREADING
from billet.diffusion.profile import Floats, Profile
from billet.formulas.alloy_blur import difference_left, finest_layer_um
from billet.formulas.density import density_class

ELEMENTS = ("Ni", "Mn", "Cr", "Si", "Mo", "V", "W", "Co")
# A smaller difference between neighbours is not told: it lies within the spread of one melt.
LEAST_DIFFERENCE_WT = 0.05
_MM_TO_UM = 1e3


@dataclass(frozen=True)
class Contrast:
    """Mean difference between neighbouring layers in wt%, at first and now, and the share left."""

    start_wt: float
    now_wt: float
    left: float


@dataclass(frozen=True)
class AlloyContrast:
    """Contrast by element, the element that differs most, and the finest layer it still marks.

    `finest_useful_um` is the thickness of equal layers between which, after all these fires, 0.3 of the
    difference in that element is left; None where the piece has no seam between two alloys.
    """

    elements: dict[str, Contrast]
    main_element: str | None
    finest_useful_um: float | None


def alloy_contrast(profile: Profile) -> AlloyContrast:
    """Contrast of the piece as it is, every seam spread since it was joined."""
    thickness_mm, steel = profile.layers()
    if len(steel) < 2:
        return AlloyContrast({}, None, None)
    found: dict[str, Contrast] = {}
    widths: dict[str, float] = {}
    for element in ELEMENTS:
        by_steel = np.array([c[element] for c in profile.metals.compositions])
        content = by_steel[steel]
        steps = np.abs(np.diff(content))
        if not np.any(steps >= LEAST_DIFFERENCE_WT):
            continue
        spread_mm2 = _spread(profile, element, steel)
        sigma_um = _MM_TO_UM * np.sqrt(spread_mm2)
        found[element] = Contrast(*difference_left(thickness_mm * _MM_TO_UM, content, sigma_um))
        widths[element] = _MM_TO_UM * float(np.sqrt(np.average(spread_mm2, weights=steps)))
    if not found:
        return AlloyContrast({}, None, None)
    main = max(found, key=lambda element: found[element].start_wt)
    return AlloyContrast(found, main, finest_layer_um(widths[main]))


def _spread(profile: Profile, element: str, steel: np.ndarray) -> Floats:
    """Sigma squared of an element at every seam, mm2: (layers - 1,)."""
    spread = profile.spread_mm2[:, SPREADING.index(element)]
    if element != "Cr":
        return spread
    stainless = np.array([density_class(c) == "austenitic" for c in profile.metals.compositions])[steel]
    fast = profile.spread_mm2[:, SPREADING.index("Cr stainless")]
    return np.where(stainless[:-1] | stainless[1:], fast, spread)
