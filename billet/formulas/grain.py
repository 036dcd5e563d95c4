"""Grain size of austenite: the ASTM number in micrometres, and growth at heat."""

import math

from billet.composition import Composition
from billet.formulas.domain import (
    refuse_impossible_temperature,
    refuse_negative,
    refuse_not_finite,
    refuse_not_positive,
)
from billet.published import published
from billet.units import c_to_k

GAS_CONSTANT_J_MOL_K = 8.314


@published(
    "astm-e112",
    where="Table 4, mean diameter",
    equation="d = 254 um x 2^(-(G - 1) / 2)",
    unit="um",
    grain_size=(0.0, 14.0),
)
def mean_diameter_um(grain_size: float) -> float:
    """Mean diameter of the grains of an ASTM number. [um]"""
    refuse_not_finite("grain_size", grain_size)
    return float(254.0 * 2.0 ** (-(grain_size - 1.0) / 2.0))


@published(
    "astm-e112",
    where="Table 4, mean intercept",
    equation="l = 10^(-(G + 3.2877) / 6.6439) mm",
    unit="um",
    grain_size=(0.0, 14.0),
)
def mean_intercept_um(grain_size: float) -> float:
    """Mean length that a line cuts from the grains of an ASTM number. [um]"""
    refuse_not_finite("grain_size", grain_size)
    return float(10.0 ** (-(grain_size + 3.2877) / 6.6439) * 1000.0)


@published(
    "astm-e112",
    where="number from the mean intercept",
    equation="G = -6.6439 log10(l in mm) - 3.2877",
    unit="1",
    intercept_um=(2.5, 320.0),
)
def grain_size_from_intercept(intercept_um: float) -> float:
    """ASTM number of grains with this mean intercept. [1]"""
    refuse_not_positive("intercept_um", intercept_um)
    return -6.6439 * math.log10(intercept_um / 1000.0) - 3.2877


@published(
    "astm-e112",
    where="number from the mean diameter",
    equation="G = 1 - 2 log2(d / 254 um)",
    unit="1",
    diameter_um=(2.8, 360.0),
)
def grain_size_from_diameter(diameter_um: float) -> float:
    """ASTM number of grains with this mean diameter. [1]"""
    refuse_not_positive("diameter_um", diameter_um)
    return 1.0 - 2.0 * math.log2(diameter_um / 254.0)


@published(
    "lee-lee-2008",
    where="growth of austenite grains",
    equation="d = 76671 exp(-(89098 + 3581 C + 1211 Ni + 1443 Cr + 4031 Mo) / (8.314 T)) t^0.211",
    unit="um",
    note="Knows no first grain size and no pinning: not below Acm; in the forge an order of magnitude.",
    C=(0.1, 0.6),
    temperature_c=(850.0, 1050.0),
)
def austenite_grain_um(composition: Composition, temperature_c: float, seconds: float) -> float:
    """Mean grain of austenite after a time at heat, with no carbide left. [um]

    Raises OutOfDomain for an impossible temperature or a negative time.
    """
    refuse_impossible_temperature("temperature_c", temperature_c)
    refuse_negative("seconds", seconds)
    wt = composition
    barrier = 89098.0 + 3581.0 * wt["C"] + 1211.0 * wt["Ni"] + 1443.0 * wt["Cr"] + 4031.0 * wt["Mo"]
    speed = math.exp(-barrier / (GAS_CONSTANT_J_MOL_K * c_to_k(temperature_c)))
    return float(76671.0 * speed * seconds**0.211)
