"""How deep a wave on the faces of a bar reaches, when the faces are pressed flat between frictionless dies.

Slow viscous flow of one wave over the thickness; eta runs from -1 at the bottom to 1 at the top, a is half
the thickness times the wave number. 1 at a face that moves by 1, with no shear there.
"""

import numpy as np

from billet.pattern.points import Floats

LONG_WAVE = 1e-3
"""Below it the column rule holds to rounding: everything over a place moves alike."""


def faces_alike(a: Floats, eta: Floats) -> tuple[Floats, Floats]:
    """Both faces go the same way: rise of the metal, and its slope by eta. a and eta broadcast."""
    a, safe, cosh_over, sinh_over = _over_cosh(a, eta)
    deep, w = safe * np.tanh(safe), safe * eta
    rise = (1.0 + deep) * cosh_over - w * sinh_over
    slope = safe * (deep * sinh_over - w * cosh_over)
    long = a < LONG_WAVE
    return np.where(long, 1.0, rise), np.where(long, 0.0, slope)


def faces_opposed(a: Floats, eta: Floats) -> tuple[Floats, Floats]:
    """The faces go apart or together: rise of the metal over that of the top, and its slope by eta."""
    a, safe, cosh_over, sinh_over = _over_cosh(a, eta)
    tanh = np.tanh(safe)
    deep, w = safe / tanh, safe * eta
    rise = ((1.0 + deep) * sinh_over - w * cosh_over) / tanh
    slope = safe * (deep * cosh_over - w * sinh_over) / tanh
    long = a < LONG_WAVE
    return np.where(long, eta, rise), np.where(long, 1.0, slope)


def _over_cosh(a: Floats, eta: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """a, a safe from 0, and cosh and sinh of a eta over cosh a, without overflow."""
    a, eta = np.broadcast_arrays(np.asarray(a, dtype=np.float64), np.asarray(eta, dtype=np.float64))
    safe = np.maximum(a, LONG_WAVE)
    rising = np.exp(safe * (np.abs(eta) - 1.0))
    falling = np.exp(-safe * (np.abs(eta) + 1.0))
    whole = 1.0 + np.exp(-2.0 * safe)
    return a, safe, (rising + falling) / whole, np.copysign((rising - falling) / whole, eta)
