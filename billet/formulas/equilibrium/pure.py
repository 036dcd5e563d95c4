"""Gibbs energies of pure metals, graphite and iron carbide. [J/mol, T in K; arrays in, arrays out]

Dinsdale 1991 for the elements (iron and graphite read in a public transcription, the others from
memory), Hallstedt 2010 for cementite, both with the magnetic term of Hillert and Jarl.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

GAS_CONSTANT = 8.314462618
IRON_CURIE_K, IRON_MOMENT = 1043.0, 2.22


def magnetic(t: Array, curie_k: float, moment: float, short_range: float) -> Array:
    """Magnetic Gibbs energy (Hillert and Jarl); `short_range` is 0.4 in bcc and 0.28 elsewhere."""
    p = short_range
    norm = 518.0 / 1125.0 + 11692.0 / 15975.0 * (1.0 / p - 1.0)
    tau = t / curie_k
    series = tau**3 / 6.0 + tau**9 / 135.0 + tau**15 / 600.0
    below = 1.0 - (79.0 / (140.0 * p * tau) + 474.0 / 497.0 * (1.0 / p - 1.0) * series) / norm
    above = -(tau**-5 / 10.0 + tau**-15 / 315.0 + tau**-25 / 1500.0) / norm
    energy: Array = GAS_CONSTANT * t * np.log(moment + 1.0) * np.where(tau < 1.0, below, above)
    return energy


def iron(t: Array) -> Array:
    """Ferrite without its magnetic part, the reference of iron (below 1811 K)."""
    return 1225.7 + 124.134 * t - 23.5143 * t * np.log(t) - 4.39752e-3 * t**2 - 5.8927e-8 * t**3 + 77359.0 / t


def iron_austenite(t: Array) -> Array:
    """Austenite, with its small magnetic part."""
    return iron(t) - 1462.4 + 8.282 * t - 1.15 * t * np.log(t) + 6.4e-4 * t**2 + magnetic(t, 67.0, 0.7, 0.28)


def iron_ferrite(t: Array) -> Array:
    """Ferrite with its magnetic part."""
    return iron(t) + magnetic(t, IRON_CURIE_K, IRON_MOMENT, 0.4)


def graphite(t: Array) -> Array:
    """Graphite."""
    head = -17368.441 + 170.73 * t - 24.3 * t * np.log(t) - 4.723e-4 * t**2
    return head + 2562600.0 / t - 2.643e8 / t**2 + 1.2e10 / t**3


def iron_carbide(t: Array) -> Array:
    """Fe3C above 163 K, with its magnetic part (Hallstedt 2010)."""
    lattice = -10195.860754 + 690.949887637 * t - 118.47637 * t * np.log(t) - 7e-4 * t**2 + 590527.0 / t
    return lattice + magnetic(t, 485.0, 1.008, 0.28)


def chromium(t: Array) -> Array:
    """Chromium, bcc, without its magnetic part."""
    head = -8856.94 + 157.48 * t - 26.908 * t * np.log(t) + 1.89435e-3 * t**2
    return head - 1.47721e-6 * t**3 + 139250.0 / t


def vanadium(t: Array) -> Array:
    """Vanadium, bcc, from 790 K."""
    return -7967.842 + 143.291093 * t - 25.9 * t * np.log(t) + 6.25e-5 * t**2 - 6.8e-7 * t**3


def tungsten(t: Array) -> Array:
    """Tungsten, bcc."""
    head = -7646.311 + 130.4 * t - 24.1 * t * np.log(t) - 1.936e-3 * t**2
    return head + 2.07e-7 * t**3 + 44500.0 / t - 5.33e-11 * t**4


def _manganese(t: Array, a: float, b: float, c: float, d: float, e: float) -> Array:
    return a + b * t + c * t * np.log(t) + d * t**2 + e / t


def manganese(t: Array) -> Array:
    """Manganese, alpha form."""
    return _manganese(t, -8115.28, 130.059, -23.4582, -7.34768e-3, 69827.0)


def as_austenite(element: str, t: Array) -> Array:
    """Energy of a pure metal in the fcc lattice over its own reference form."""
    if element == "Mn":
        return _manganese(t, -3439.3, 131.884, -24.5177, -6e-3, 69600.0) - manganese(t)
    constant, slope = {
        "Si": (51000.0, -21.8), "Cr": (7284.0, 0.163), "Ni": (0.0, 0.0),
        "Mo": (15200.0, 0.63), "V": (7500.0, 1.7), "W": (19300.0, 0.63),
    }[element]  # fmt: skip
    return constant + slope * t


def as_ferrite(element: str, t: Array) -> Array:
    """Energy of a pure metal in the bcc lattice over its own reference form."""
    if element == "Mn":
        return _manganese(t, -3235.3, 127.85, -23.7, -7.44271e-3, 60000.0) - manganese(t)
    constant, slope = {"Si": (47000.0, -22.5), "Ni": (8715.084, -3.556)}.get(element, (0.0, 0.0))
    return constant + slope * t
