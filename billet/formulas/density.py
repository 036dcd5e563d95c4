"""Density of iron and steel, cold and as austenite."""

import math
from typing import Literal

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.formulas.domain import refuse_impossible_temperature
from billet.published import published
from billet.units import c_to_k

DensityClass = Literal["low_alloy", "austenitic", "chromium", "nickel"]


def density_class(composition: Composition) -> DensityClass:
    """Which class of density an analysis belongs to; the figures of the classes stand in the data.

    Half nickel or more is nickel; Cr + Ni >= 22 with Ni >= 6, or Ni >= 20, is austenitic; Cr >= 11 is
    chromium steel; the rest is low alloy.
    """
    nickel, chromium = composition["Ni"], composition["Cr"]
    if nickel >= 50.0:
        return "nickel"
    if nickel >= 20.0 or (nickel >= 6.0 and nickel + chromium >= 22.0):
        return "austenitic"
    return "chromium" if chromium >= 11.0 else "low_alloy"


@published(
    "lu-2005",
    where="molar volume of bcc iron",
    equation="Vm = 7.00790e-6 exp(3.42756e-5 T + 8.14005e-9 T^2 + 0.291672 / T), T in K",
    unit="m3/mol",
    temperature_c=(20.0, 912.0),
)
def ferrite_molar_volume_m3_mol(temperature_c: float) -> float:
    """Molar volume of bcc iron. [m3/mol]"""
    refuse_impossible_temperature("temperature_c", temperature_c)
    kelvin = c_to_k(temperature_c)
    return 7.00790e-6 * math.exp(3.42756e-5 * kelvin + 8.14005e-9 * kelvin**2 + 0.291672 / kelvin)


@published(
    "lu-2005",
    where="molar volume of fcc iron",
    equation="Vm = 6.72092e-6 exp(6.97895e-5 T), T in K",
    unit="m3/mol",
    temperature_c=(727.0, 1394.0),
)
def austenite_molar_volume_m3_mol(temperature_c: float) -> float:
    """Molar volume of fcc iron. [m3/mol]"""
    refuse_impossible_temperature("temperature_c", temperature_c)
    return 6.72092e-6 * math.exp(6.97895e-5 * c_to_k(temperature_c))


@published(
    "lu-2005",
    where="density of fcc iron from its molar volume",
    equation="55.845e-3 / Vm",
    unit="kg/m3",
    temperature_c=(727.0, 1394.0),
)
def austenite_iron_density_kg_m3(temperature_c: float) -> float:
    """Density of hot austenitic iron. [kg/m3]"""
    return ATOMIC_WEIGHT["Fe"] * 1e-3 / austenite_molar_volume_m3_mol(temperature_c)
