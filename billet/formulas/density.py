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
    "from-memory",
    where="additive coefficients, annealed, 20 C",
    equation="7874 - 40 C - 73 Si - 16 Mn - 120 Al + 1 Cr + 4 Ni + 11 Cu + 12 Mo + 95 W + 4 Co - 20 V",
    unit="kg/m3",
    basis="memory",
    note="Gives 7827 for 0.80 % C where a handbook has 7851. Terms of Mo and V are the weakest.",
    C=(0.0, 1.5),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def density_additive_kg_m3(composition: Composition) -> float:
    """Density of annealed low-alloy steel at 20 C from its analysis. [kg/m3]"""
    wt = composition
    light = 40.0 * wt["C"] + 73.0 * wt["Si"] + 16.0 * wt["Mn"] + 120.0 * wt["Al"] + 20.0 * wt["V"]
    heavy = 1.0 * wt["Cr"] + 4.0 * wt["Ni"] + 11.0 * wt["Cu"] + 12.0 * wt["Mo"]
    return 7874.0 - light + heavy + 95.0 * wt["W"] + 4.0 * wt["Co"]


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
