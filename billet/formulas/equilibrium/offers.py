"""What each phase offers the metals at given potentials, for a batch of samples.

E_j = exp(ln of what a phase gives a metal for its activity): u_j in the phase = activity_j E_j. In
austenite and ferrite E depends on the make-up x of the phase itself.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from billet.formulas.equilibrium.coefficients import AUSTENITE, FERRITE, Array
from billet.formulas.equilibrium.rows import Rows, Slopes
from billet.formulas.equilibrium.samples import Mask, System

MOST_LN_OFFER = 60.0
LEAST_IRON = 0.75  # the dilute form reaches no further: interactions stay as they are there


@dataclass
class Batch:
    """n samples while they are solved.

    u (n, metals), y0 (n,), temperature_k (n,); share of the metal atoms in each phase (n, phases);
    active: phases that are there, allowed: that may come, watched: of which one is at its last trace
    and the temperature unknown (all (n, phases)); logit (n,) of the carbon in austenite; x (n, 2,
    metals): make-up of austenite and of ferrite, most: how far it may go; frozen (n,): interactions
    are taken at the make-up of the whole steel, which always has an answer, for the corners where the
    full form has none; slope
    (n,): by what the temperature changes for more drive of the watched phase.
    """

    number: NDArray[np.intp]
    u: Array
    y0: Array
    temperature_k: Array
    share: Array
    active: Mask
    allowed: Mask
    watched: Mask
    logit: Array
    x: Array
    most: Array
    frozen: Mask
    slope: Array


@dataclass
class Offer:
    """E of each phase and metal, and how ln E and carbon answer to the potentials.

    e (n, phases, metals); by (n, phases, metals, 1 or 2): ln E by mu = ln a_C and by temperature;
    carbon (n, phases) for one metal atom; carbon_by (n, 2, 1 or 2) of the two solutions; pull (n, 2,
    metals, metals): -d ln E_j / d x_k; eps (n, metals); mu (n,); and of austenite d y / d mu, d logit /
    d mu and what mu drifts by for one kelvin at the same carbon (n,).
    """

    e: Array
    by: Array
    carbon: Array
    carbon_by: Array
    pull: Array
    eps: Array
    mu: Array
    y_by_mu: Array
    logit_by_mu: Array
    drift: Array


def within_reach(x: Array, most: Array) -> Array:
    """Make-ups (n, 2, metals) drawn back to where no metal is above `most` and iron is LEAST_IRON."""
    if not ((x > most).any() or (x[..., 0] < LEAST_IRON).any()):
        return x
    near = np.minimum(x, most)
    alloy = near[..., 1:].sum(2)
    near[..., 1:] *= np.minimum(1.0, (1.0 - LEAST_IRON) / np.maximum(alloy, 1e-9))[..., None]
    near[..., 0] = 1.0 - near[..., 1:].sum(2)
    return near


def first_make_up(b: Batch, rows: Rows) -> None:
    """Make-ups of austenite and ferrite as they would be without interactions."""
    e = np.exp(np.minimum(-rows.transfer, 30.0))
    w = b.u[:, None] * e[:, :2] / np.matmul(b.share[:, None], e)
    x = within_reach(w / w.sum(2, keepdims=True), b.most)
    b.x = np.where(b.frozen[:, None, None], b.u[:, None], x)


def offers(b: Batch, system: System, rows: Rows, slopes: Slopes | None) -> Offer:
    """What the phases offer at the present potentials; with `slopes` also by temperature."""
    x, eps, k, n = b.x, rows.carbon, rows.self_interaction, system.carbon
    eu = np.matmul(rows.pair, x[..., None])[..., 0]
    half = 0.5 * (eu * x).sum(2)
    s = (eps * x[:, AUSTENITE]).sum(1)
    y = 1.0 / (1.0 + np.exp(-b.logit))
    free = y * (1.0 - y)
    y_by_mu = free / (1.0 + k * free)
    mu = rows.const + b.logit + k * y + s
    y_ferrite = np.exp(np.minimum(mu - rows.const_ferrite, -1.0))
    lift = y_by_mu[:, None] * (eps - s[:, None])

    ln_e = n[:, None] * mu[:, None, None] - rows.transfer
    ln_e[:, :2] += half[..., None] - eu
    ln_e[:, AUSTENITE] += (0.5 * k * y * y + y * s - np.log1p(-y))[:, None] - y[:, None] * eps
    ln_e[:, FERRITE] += y_ferrite[:, None]

    wide = 1 if slopes is None else 2
    by = np.empty((*ln_e.shape, wide))
    by[..., 0] = n[:, None]
    by[:, AUSTENITE, :, 0] = y[:, None] - lift
    by[:, FERRITE, :, 0] = y_ferrite[:, None]
    carbon = np.empty((len(y), len(n)))
    carbon[:] = n
    carbon[:, AUSTENITE], carbon[:, FERRITE] = y, y_ferrite
    carbon_by = np.empty((len(y), 2, wide))
    carbon_by[:, AUSTENITE, 0], carbon_by[:, FERRITE, 0] = y_by_mu, y_ferrite
    pull = rows.pair - eu[:, :, None]
    pull[:, AUSTENITE] -= lift[:, :, None] * eps[:, None]
    e = np.exp(np.minimum(ln_e, MOST_LN_OFFER))
    made = Offer(e, by, carbon, carbon_by, pull, eps, mu, y_by_mu, y_by_mu / free, np.zeros_like(y))
    if slopes is not None:
        _by_temperature(b, made, k, slopes)
    return made


def _by_temperature(b: Batch, made: Offer, k: Array, slopes: Slopes) -> None:
    y, y_ferrite = made.carbon[:, AUSTENITE], made.carbon[:, FERRITE]
    by_mu = made.by[:, AUSTENITE, :, 0]
    s_slope = (slopes.carbon * b.x[:, AUSTENITE]).sum(1)
    k_slope = -k / b.temperature_k
    made.drift = slopes.const + s_slope + k_slope * y
    np.negative(slopes.transfer, out=made.by[..., 1])
    change = (y * (s_slope + 0.5 * k_slope * y))[:, None] - made.drift[:, None] * by_mu
    made.by[:, AUSTENITE, :, 1] += change - y[:, None] * slopes.carbon
    by_ferrite = y_ferrite * slopes.const_ferrite
    made.by[:, FERRITE, :, 1] -= by_ferrite[:, None]
    made.carbon_by[:, AUSTENITE, 1] = -made.y_by_mu * made.drift
    made.carbon_by[:, FERRITE, 1] = -by_ferrite
