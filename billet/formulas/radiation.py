"""What a pyrometer reads: Planck's law in a band, Wien's law, wrong emissivity, hot walls."""

import math
from functools import lru_cache
from typing import Literal

from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_not_positive
from billet.published import published
from billet.units import c_to_k, k_to_c

SECOND_RADIATION_CONSTANT_UM_K = 14388.0
STEFAN_BOLTZMANN_W_M2_K4 = 5.670374419e-8

Band = Literal["0.9 um", "1.6 um", "8-14 um"]
BANDS_UM: dict[str, tuple[float, float]] = {
    "0.9 um": (0.9, 0.9),
    "1.6 um": (1.6, 1.6),
    "8-14 um": (8.0, 14.0),
}
# Gauss-Legendre nodes and weights of 8 points on -1 to 1 (half of them, the rest by symmetry).
_GAUSS = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)


def _refuse_no_emissivity(name: str, value: float) -> None:
    if not 0.0 < value <= 1.0:
        raise OutOfDomain(name, value, "above 0 and at most 1")


def _planck(wavelength_um: float, kelvin: float) -> float:
    exponent = SECOND_RADIATION_CONSTANT_UM_K / (wavelength_um * kelvin)
    if exponent > 700.0:
        return 0.0
    return 1.0 / (wavelength_um**5 * math.expm1(exponent))


@lru_cache(maxsize=4096)
def _signal(low_um: float, high_um: float, kelvin: float) -> float:
    """What a black body gives in a band, in a unit of its own."""
    if low_um == high_um:
        return _planck(low_um, kelvin)
    middle, half = 0.5 * (low_um + high_um), 0.5 * (high_um - low_um)
    return half * sum(
        weight * (_planck(middle - half * node, kelvin) + _planck(middle + half * node, kelvin))
        for node, weight in _GAUSS
    )


def _temperature_of(low_um: float, high_um: float, signal: float) -> float:
    """Kelvin of the black body that gives this signal, by bisection on 1 to 20000 K."""
    low, high = 1.0, 20000.0
    for _ in range(64):
        middle = 0.5 * (low + high)
        if _signal(low_um, high_um, middle) < signal:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def band_um(band: str) -> tuple[float, float]:
    """Ends of a band, um. Raises OutOfDomain for a band that is not in the list."""
    if band not in BANDS_UM:
        raise OutOfDomain("band", band, f"one of {', '.join(BANDS_UM)}")
    return BANDS_UM[band]


@published(
    "from-memory",
    where="equation E-4",
    equation="1/Tread = 1/T + (lambda/c2) ln(set/true)",
    unit="C",
    basis="memory",
    note="Wien's law: short waves only, lambda T below 3000 um K.",
)
def wien_reading_c(
    true_c: float, emissivity_true: float, emissivity_set: float, wavelength_um: float
) -> float:
    """Reading of a short-wave pyrometer set to a wrong emissivity, C; no light from elsewhere.

    Raises OutOfDomain for an emissivity outside 0 to 1, a wavelength not above 0, or at absolute zero.
    """
    refuse_impossible_temperature("true_c", true_c)
    _refuse_no_emissivity("emissivity_true", emissivity_true)
    _refuse_no_emissivity("emissivity_set", emissivity_set)
    refuse_not_positive("wavelength_um", wavelength_um)
    share = wavelength_um / SECOND_RADIATION_CONSTANT_UM_K * math.log(emissivity_set / emissivity_true)
    inverse = 1.0 / c_to_k(true_c) + share
    if inverse <= 0.0:
        raise OutOfDomain("emissivity_set", emissivity_set, "large enough for a finite reading by Wien")
    return k_to_c(1.0 / inverse)


@published(
    "planck-1901",
    where="the law for a grey surface, summed over the band; walls reflected by what is left to 1",
    equation="set B(Tread) = true B(T) + (1 - true) B(Twall)",
    unit="C",
)
def pyrometer_reading_c(
    true_c: float,
    emissivity_true: float,
    emissivity_set: float,
    band: str = "0.9 um",
    wall_c: float | None = None,
) -> float:
    """What a pyrometer shows, C, for a surface of another emissivity than the one it is set to.

    `band` is "0.9 um", "1.6 um" or "8-14 um". With `wall_c` the surface mirrors walls of that
    temperature all round; without it nothing is mirrored (the workshop air gives next to nothing).
    Raises OutOfDomain for an emissivity outside 0 to 1, an unknown band, or at absolute zero.
    """
    refuse_impossible_temperature("true_c", true_c)
    _refuse_no_emissivity("emissivity_true", emissivity_true)
    _refuse_no_emissivity("emissivity_set", emissivity_set)
    low_um, high_um = band_um(band)
    signal = emissivity_true * _signal(low_um, high_um, c_to_k(true_c))
    if wall_c is not None:
        refuse_impossible_temperature("wall_c", wall_c)
        signal += (1.0 - emissivity_true) * _signal(low_um, high_um, c_to_k(wall_c))
    return k_to_c(_temperature_of(low_um, high_um, signal / emissivity_set))


@published(
    "planck-1901",
    where="the same law turned round",
    equation="true B(T) = set B(Tread) - (1 - true) B(Twall)",
    unit="C",
)
def true_temperature_c(
    reading_c: float,
    emissivity_true: float,
    emissivity_set: float,
    band: str = "0.9 um",
    wall_c: float | None = None,
) -> float:
    """How hot the surface is when a pyrometer shows a reading, C.

    Raises OutOfDomain as `pyrometer_reading_c` does, and where the walls alone would give more
    than the reading.
    """
    refuse_impossible_temperature("reading_c", reading_c)
    _refuse_no_emissivity("emissivity_true", emissivity_true)
    _refuse_no_emissivity("emissivity_set", emissivity_set)
    low_um, high_um = band_um(band)
    signal = emissivity_set * _signal(low_um, high_um, c_to_k(reading_c))
    if wall_c is not None:
        refuse_impossible_temperature("wall_c", wall_c)
        signal -= (1.0 - emissivity_true) * _signal(low_um, high_um, c_to_k(wall_c))
    if signal <= 0.0:
        raise OutOfDomain("reading_c", reading_c, "above what the walls alone give")
    return k_to_c(_temperature_of(low_um, high_um, signal / emissivity_true))


def reading_change_per_emissivity_k(
    true_c: float, emissivity: float, band: str = "0.9 um", step: float = 0.01
) -> float:
    """By how much the reading falls, K, when the set emissivity is too high by a share `step` of it.

    Raises OutOfDomain as `pyrometer_reading_c` does.
    """
    return true_c - pyrometer_reading_c(true_c, emissivity, emissivity * (1.0 + step), band)


@published(
    "planck-1901",
    where="total radiation between a grey surface and walls all round",
    equation="h = e s (T2 + Tw2)(T + Tw)",
    unit="W m-2 K-1",
)
def radiation_coefficient_w_m2_k(surface_c: float, walls_c: float, emissivity: float) -> float:
    """Film coefficient that stands for radiation between a surface and large walls, W m-2 K-1.

    Raises OutOfDomain for an emissivity outside 0 to 1 or at absolute zero.
    """
    refuse_impossible_temperature("surface_c", surface_c)
    refuse_impossible_temperature("walls_c", walls_c)
    _refuse_no_emissivity("emissivity", emissivity)
    hot, cold = c_to_k(surface_c), c_to_k(walls_c)
    return emissivity * STEFAN_BOLTZMANN_W_M2_K4 * (hot * hot + cold * cold) * (hot + cold)
