"""How much of the difference in nickel, manganese, chromium ... is left between layers.

Every seam is an erf step that has spread by its own sigma since it was joined; steps add up.
Exact for a diffusivity that does not depend on content.
"""

import math
from functools import cache

import numpy as np
import numpy.typing as npt

from billet.errors import OutOfDomain
from billet.formulas.laminate import tau_for_amplitude
from billet.published import published

Floats = npt.NDArray[np.float64]

# Smallest share of a difference that still counts as two layers.
LEAST_SHARE = 0.3


@published(
    "crank-1975",
    where="two half-spaces joined; steps superposed",
    equation="c(x) = c0 + sum over seams of step_j [1 + erf((x - x_j)/(sigma_j sqrt 2))]/2",
    unit="as given",
)
def blurred_centres(thickness_um: Floats, content: Floats, sigma_um: Floats) -> Floats:
    """Content at the centre of every layer after its seams have spread.

    thickness_um and content: (layers,); sigma_um: (layers - 1,), 0 where a seam is still sharp.
    The faces count as mirrors. Returns (layers,). Raises OutOfDomain on lengths that do not fit.
    """
    if len(content) != len(thickness_um) or len(sigma_um) != max(len(thickness_um) - 1, 0):
        raise OutOfDomain("number of seams", len(sigma_um), f"{len(thickness_um) - 1}")
    if len(content) < 2:
        return content.astype(np.float64)
    edges = np.cumsum(thickness_um)
    height = float(edges[-1])
    centres = edges - 0.5 * thickness_um
    seams, steps = edges[:-1], np.diff(content)
    spread = np.maximum(sigma_um, 1e-9) * math.sqrt(2.0)
    # The mirrors of all seams at both faces: up the wall the step has the opposite sign.
    places = np.concatenate([-seams[::-1], seams, 2.0 * height - seams[::-1]])
    steps = np.concatenate([-steps[::-1], steps, -steps[::-1]])
    spread = np.concatenate([spread[::-1], spread, spread[::-1]])
    # Below the lower mirror the content is that of the upper face.
    blurred: Floats = content[-1] + _sum_of_steps(centres, places, steps, spread)
    return blurred


def _erf(values: Floats) -> Floats:
    """Error function, element by element; a few thousand at most, so no library is loaded for it."""
    return np.asarray(np.frompyfunc(math.erf, 1, 1)(values), dtype=np.float64)


def _sum_of_steps(centres: Floats, places: Floats, steps: Floats, spread: Floats) -> Floats:
    """Sum of all steps at the centres; seams out of reach count in full or not at all."""
    reach = 4.0 * float(np.max(spread))
    below = np.searchsorted(places, centres - reach)
    beyond = np.searchsorted(places, centres + reach)
    whole = np.concatenate([[0.0], np.cumsum(steps)])[below]
    width = int(np.max(beyond - below))
    index = below[:, None] + np.arange(width)[None, :]
    inside = index < beyond[:, None]
    index = np.minimum(index, len(places) - 1)
    part = 0.5 * steps[index] * (1.0 + _erf((centres[:, None] - places[index]) / spread[index]))
    total: Floats = whole + np.sum(np.where(inside, part, 0.0), axis=1)
    return total


def difference_left(thickness_um: Floats, content: Floats, sigma_um: Floats) -> tuple[float, float, float]:
    """Mean difference between neighbours at first and now, and the share that is left (0 to 1)."""
    start = np.abs(np.diff(content))
    if not np.any(start > 0.0):
        return 0.0, 0.0, 1.0
    now = np.abs(np.diff(blurred_centres(thickness_um, content, sigma_um)))[start > 0.0]
    before = start[start > 0.0]
    return float(np.mean(before)), float(np.mean(now)), float(np.sum(now) / np.sum(before))


@published(
    "crank-1975",
    where="series for equal layers, at the centre, solved for the thickness",
    equation="d = sigma / sqrt(2 tau), tau where the share of the difference is left",
    unit="um",
)
def finest_layer_um(sigma_um: float, share: float = LEAST_SHARE) -> float:
    """Thickness of equal layers between which only `share` of the difference is left."""
    return sigma_um / math.sqrt(2.0 * (_least_tau() if share == LEAST_SHARE else tau_for_amplitude(share)))


@cache
def _least_tau() -> float:
    return tau_for_amplitude(LEAST_SHARE)
