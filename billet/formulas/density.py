"""Density of steel at room temperature and of hot austenite, for weights and for hot lengths."""

from typing import Literal

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_not_positive
from billet.published import published

SteelClass = Literal["low alloy", "austenitic", "13 to 17 chromium", "nickel"]
CLASS_DENSITY_KG_M3: dict[str, float] = {
    "low alloy": 7850.0,
    "austenitic": 7930.0,
    "13 to 17 chromium": 7700.0,
    "nickel": 8900.0,
}


def steel_class(composition: Composition) -> SteelClass:
    """Which of the four classes of density an analysis belongs to.

    Half nickel or more is nickel; Cr + Ni >= 22 with Ni >= 6, or Ni >= 20, is austenitic; Cr >= 11 is
    chromium steel; the rest is low alloy.
    """
    nickel, chromium = composition["Ni"], composition["Cr"]
    if nickel >= 50.0:
        return "nickel"
    if nickel >= 20.0 or (nickel >= 6.0 and nickel + chromium >= 22.0):
        return "austenitic"
    return "13 to 17 chromium" if chromium >= 11.0 else "low alloy"


@published(
    "common-practice",
    where="handbook density of the class",
    equation="7850 low alloy, 7930 austenitic, 7700 13 to 17 % Cr, 8900 nickel",
    unit="kg/m3",
    basis="practice",
)
def density_kg_m3(composition: Composition) -> float:
    """Density at room temperature by class; low-alloy steels lie within 0.5 % of it. [kg/m3]"""
    return CLASS_DENSITY_KG_M3[steel_class(composition)]


@published(
    "density-additive",
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
    "austenite-density",
    where="straight line against temperature",
    equation="8099.79 - 0.506 T",
    unit="kg/m3",
    basis="memory",
    note="Within 0.25 % of the molar volume of Lu and others (2005).",
    temperature_c=(727.0, 1400.0),
)
def austenite_density_kg_m3(temperature_c: float) -> float:
    """Density of hot austenite. [kg/m3]"""
    refuse_impossible_temperature("temperature_c", temperature_c)
    return 8099.79 - 0.506 * temperature_c


def hot_to_cold_length(temperature_c: float) -> float:
    """How much longer a bar is as austenite at a temperature than cold, as a ratio. [1]

    Cube root of the cold low-alloy density over the hot one. Raises OutOfDomain where the line for
    austenite gives no density.
    """
    hot = austenite_density_kg_m3(temperature_c)
    if not hot > 0.0:
        raise OutOfDomain("temperature_c", temperature_c, "below 16000 C")
    return float((CLASS_DENSITY_KG_M3["low alloy"] / hot) ** (1.0 / 3.0))


def mass_kg(volume_mm3: float, density: float) -> float:
    """Mass of a volume. [kg] Raises OutOfDomain unless both are above 0."""
    refuse_not_positive("volume_mm3", volume_mm3)
    refuse_not_positive("density_kg_m3", density)
    return volume_mm3 * 1e-9 * density
