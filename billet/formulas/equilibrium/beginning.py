"""Where the solver begins. Rough regressions of its own answers.

Of the steels that are tried the answer is the same from any beginning that leads to one; beyond them, as
with much vanadium or silicon, some beginnings lead to none, which is why others follow.
"""

from dataclasses import dataclass

import numpy as np

from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    CEMENTITE,
    FERRITE,
    INDEX,
    VANADIUM_CARBIDE,
    Array,
)
from billet.formulas.equilibrium.offers import Batch
from billet.formulas.equilibrium.samples import COUNTED, Mask, Samples
from billet.units import ZERO_CELSIUS_K

# Slopes by C, Si, Mn, Cr, Ni, Mo, V, W in wt%, order of COUNTED.
_BY = {
    "ae1_c": {"Si": 26.0, "Mn": -12.6, "Cr": 14.0, "Ni": -12.0, "Mo": 15.0, "V": 5.0},
    "eutectoid": {"Si": 0.0005, "Mn": -0.0018, "Cr": -0.0031, "Ni": -0.0021, "Mo": -0.0046},
    "ae3_c": {"C": -56.0, "Si": 46.0, "Mn": -22.6, "Cr": 6.0, "Ni": -22.0, "Mo": 19.0, "V": 60.0, "W": 15.0},
    "acm_c": {"C": 240.0, "Si": 35.0, "Cr": 59.0, "Ni": 4.5, "Mo": 50.0, "V": -27.0, "W": -12.0},
}
_SLOPES = np.array([[by.get(e, 0.0) for e in COUNTED] for by in _BY.values()]).T
LEAST_RATIO, LEAST_EUTECTOID, MOST_LINE_C = 1e-7, 0.012, 1050.0
# Silicon goes to ferrite. Interactions see no more of it in austenite than this many times the steel's
# own: in the dilute form nickel and silicon would else draw one another into an austenite that is not.
MOST_SILICON = 1.4
# Atoms of metal in vanadium carbide for one of carbon, about, and carbon left beside it (only a beginning).
_CARBIDE_FOR_CARBON, _LITTLE_CARBON = 1.9, 1e-4
COLD_K = 3.0  # so far under Ae1 there is taken to be no austenite


@dataclass(frozen=True)
class Guess:
    """Lines in C and carbon atoms for one metal atom at the eutectoid, (n,) each."""

    ae1_c: Array
    eutectoid: Array
    ae3_c: Array
    acm_c: Array


def guess(samples: Samples) -> Guess:
    """Rough lines of each sample."""
    by = samples.wt @ _SLOPES
    carbon, chromium = samples.of("C"), samples.of("Cr")
    ae1 = np.maximum(by[:, 0] + 722.0, 600.0)
    eutectoid = np.maximum(by[:, 1] + 0.0346, LEAST_EUTECTOID)
    ae3 = np.minimum(by[:, 2] + 924.0 - 195.0 * np.sqrt(carbon), MOST_LINE_C)
    acm = np.minimum(by[:, 3] + 526.0 + carbon * (43.0 * carbon - 26.0 * chromium), MOST_LINE_C)
    return Guess(ae1, eutectoid, np.maximum(ae3, ae1), np.maximum(acm, ae1))


def _batch(
    samples: Samples, temperature_k: Array, share: Array, y: Array, allowed: Mask, watched: Mask
) -> Batch:  # fmt: skip
    n = len(samples.y0)
    allowed = allowed & ~watched
    share = np.where(allowed, share, 0.0)
    bare = share[:, AUSTENITE] + share[:, FERRITE] <= 0.0
    share[:, AUSTENITE] += bare & allowed[:, AUSTENITE]
    share[:, FERRITE] += bare & ~allowed[:, AUSTENITE]
    most = np.ones((n, 2, samples.u.shape[1]))
    if INDEX["Si"] in samples.system.metals:
        silicon = samples.system.metals.index(INDEX["Si"])
        most[:, AUSTENITE, silicon] = MOST_SILICON * samples.u[:, silicon]
    return Batch(
        np.arange(n), samples.u, samples.y0, temperature_k, share, share > 0.0, allowed, watched,
        np.log(y / (1.0 - y)), np.zeros(most.shape), most, np.zeros(n, bool), np.zeros(n),
    )  # fmt: skip


def begin_state(samples: Samples, temperature_c: Array, allowed: Mask) -> Batch:
    """Phases at a temperature by lever between the rough lines."""
    about, y0 = guess(samples), samples.y0
    rich = y0 > about.eutectoid
    top = np.where(rich, about.acm_c, about.ae3_c)
    ae1 = np.minimum(about.ae1_c - COLD_K, top - 1.0)
    way = np.minimum(np.maximum((top - temperature_c) / (top - ae1), 0.0), 1.0)
    y = np.minimum(y0 + (about.eutectoid - y0) * way, 0.2)
    other = np.where(rich, (y0 - y) / (1.0 / 3.0 - y), 1.0 - y0 / y)
    cold = temperature_c < ae1
    share = np.zeros(allowed.shape)
    carbide = np.minimum(3.0 * y0, 0.9)
    share[:, AUSTENITE] = np.where(cold, 0.0, 1.0 - other)
    share[:, FERRITE] = np.where(cold, 1.0 - carbide, np.where(rich, 0.0, other))
    share[:, CEMENTITE] = np.where(cold, carbide, np.where(rich, other, 0.0))
    return _batch(samples, temperature_c + ZERO_CELSIUS_K, share, y, allowed, np.zeros_like(allowed))


def begin_vanishing(samples: Samples, allowed: Mask, watched: Mask, about: Guess) -> Batch:
    """Where the last of the watched phases may go: ferrite, carbides or (falling) austenite."""
    y0, eutectoid = samples.y0, about.eutectoid
    rich = y0 > eutectoid
    ferrite, austenite = watched[:, FERRITE], watched[:, AUSTENITE]
    cementite = watched[:, CEMENTITE]
    carbide = np.where((ferrite & rich) | austenite, (y0 - eutectoid) / (1.0 / 3.0 - eutectoid), 0.0)
    carbide = np.where(austenite, 3.0 * y0, np.maximum(carbide, 0.0))
    beside = np.where(cementite & ~rich, 1.0 - y0 / eutectoid, 0.0)
    share = np.zeros(allowed.shape)
    share[:, AUSTENITE] = 1.0 - carbide - beside
    share[:, FERRITE] = np.where(austenite, 1.0 - carbide, beside)
    share[:, CEMENTITE] = carbide
    at_eutectoid = (ferrite & rich) | (cementite & ~rich) | austenite
    y = np.where(at_eutectoid, eutectoid, np.maximum(np.minimum(y0, 0.2), LEAST_RATIO))
    upper = np.where(rich, about.acm_c, about.ae3_c)
    temperature_c = np.where(at_eutectoid, about.ae1_c, np.maximum(upper, about.ae1_c))
    return _batch(samples, temperature_c + ZERO_CELSIUS_K, share, y, allowed, watched)


def begin_plain(samples: Samples, temperature_c: Array, allowed: Mask, cold: bool, frozen: bool) -> Batch:
    """The plainest beginning: all austenite, or (cold, or austenite suspended) ferrite and cementite."""
    low = ~allowed[:, AUSTENITE] | cold
    carbide = np.where(low & allowed[:, CEMENTITE], np.minimum(3.0 * samples.y0, 0.9), 0.0)
    share = np.zeros(allowed.shape)
    share[:, AUSTENITE] = np.where(low, 0.0, 1.0)
    share[:, FERRITE] = np.where(low, 1.0 - carbide, 0.0)
    share[:, CEMENTITE] = carbide
    y = np.where(low, 0.03, np.clip(samples.y0, LEAST_RATIO, 0.2))
    batch = _batch(samples, temperature_c + ZERO_CELSIUS_K, share, y, allowed, np.zeros_like(allowed))
    batch.frozen[:] = frozen
    return batch


def begin_bound(samples: Samples, temperature_c: Array, allowed: Mask, cold: bool) -> Batch:
    """Nearly all carbon bound in vanadium carbide, beside ferrite (cold) or austenite.

    With more vanadium than its carbon binds a steel has no cementite, and from cementite none of the
    other beginnings comes near so little carbon.
    """
    bound = allowed & samples.system.mark(VANADIUM_CARBIDE)
    share = np.where(bound, np.minimum(_CARBIDE_FOR_CARBON * samples.y0, 0.9)[:, None], 0.0)
    share[:, FERRITE if cold else AUSTENITE] = 1.0 - share.sum(1)
    y = np.full(len(samples.y0), _LITTLE_CARBON)
    return _batch(samples, temperature_c + ZERO_CELSIUS_K, share, y, allowed, np.zeros_like(allowed))
