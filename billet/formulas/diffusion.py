"""How fast carbon and the alloying metals move in austenite and in nickel."""

import math

from billet.composition import Composition
from billet.formulas.density import austenite_molar_volume_m3_mol, ferrite_molar_volume_m3_mol
from billet.formulas.domain import refuse_impossible_temperature
from billet.published import published
from billet.units import c_to_k

GAS_CONSTANT = 8.314462618  # J/(mol K)
GAS_CONSTANT_CAL = 1.98720426  # cal/(mol K)

# ln D0 (D0 in m2/s), slope with y, and the reference of 1/T in Agren's mobility.
AGREN_D0_M2_S = 4.53e-7
AGREN_FACTOR_K = 8339.9
AGREN_INVERSE_K = 2.221e-4
AGREN_ENERGY_K = 17767.0
AGREN_ENERGY_SLOPE_K = 26436.0

# D0 in m2/s and activation energy in J/mol of metals in gamma iron.
SUBSTITUTIONAL: dict[str, tuple[float, float]] = {
    "Fe": (2.245e-5, 272.8e3),
    "Ni": (3.011e-5, 279.7e3),
    "Mn": (3.455e-6, 246.5e3),
    "Cr": (1.125e-4, 284.2e3),
    "Si": (1.796e-6, 228.0e3),
    "Mo": (1.200e-4, 285.0e3),
    "Co": (4.877e-5, 291.6e3),
    "V": (2.5e-5, 264.2e3),
}
GENERAL_SUBSTITUTIONAL = (7.0e-5, 286.0e3)


def _kelvin(temperature_c: float) -> float:
    refuse_impossible_temperature("temperature_c", temperature_c)
    return c_to_k(temperature_c)


def agren_mobility(temperature_c: float) -> tuple[float, float]:
    """(ln of the mobility at y = 0 in m2/s, its slope with y): mobility = exp(first + slope y).

    The diffusivity is this mobility times the thermodynamic factor 1 + k y (1 - y).
    """
    reach = 1.0 / _kelvin(temperature_c) - AGREN_INVERSE_K
    return math.log(AGREN_D0_M2_S) - reach * AGREN_ENERGY_K, reach * AGREN_ENERGY_SLOPE_K


@published(
    "agren-1986",
    where="equation for the diffusivity of carbon in austenite",
    equation="D = 4.53e-7 [1 + y(1-y) 8339.9/T] exp{-(1/T - 2.221e-4)(17767 - 26436 y)}",
    unit="m2/s",
    note="y: carbon atoms for one metal atom; coefficients from a public transcription",
    temperature_c=(727.0, 1495.0),
    C=(0.0, 2.0),
)
def carbon_diffusivity_agren_m2_s(composition: Composition, temperature_c: float) -> float:
    """Diffusivity of carbon in austenite (Agren), counted for the gradient of y. [m2/s]"""
    y = composition.carbon_ratio
    log_mobility, slope = agren_mobility(temperature_c)
    factor = 1.0 + y * (1.0 - y) * AGREN_FACTOR_K / _kelvin(temperature_c)
    return factor * math.exp(log_mobility + slope * y)


@published(
    "slycke-ericsson-1981",
    where="part II, diffusivity of carbon in austenite",
    equation="D = 4.84e-5 exp(-38 x)/(1-5 x) exp(-(155000 - 570000 x)/RT)",
    unit="m2/s",
    note="x: mole fraction of carbon; other transcriptions print 38.49 and 4.85e-5",
    temperature_c=(800.0, 1100.0),
    C=(0.0, 1.3),
)
def carbon_diffusivity_slycke_m2_s(composition: Composition, temperature_c: float) -> float:
    """Diffusivity of carbon in austenite (Slycke and Ericsson); cross-check of Agren. [m2/s]"""
    y = composition.carbon_ratio
    x = y / (1.0 + y)
    energy = (155000.0 - 570000.0 * x) / (GAS_CONSTANT * _kelvin(temperature_c))
    return 4.84e-5 * math.exp(-38.0 * x) / (1.0 - 5.0 * x) * math.exp(-energy)


@published(
    "liu-2009",
    where="mobility of carbon in austenite, with the thermodynamic factor of gustafson-1985",
    equation="D = exp(Q/RT) [1 + (69342/RT) y(1-y)]; Q = (1-y)(-148123.29 - 88.33 T)"
    " + y(-103452.18 - 81.33 T) + y(1-y)[194029.43 - 17.15 T + 47981.91 (2y-1)]",
    unit="m2/s",
    temperature_c=(727.0, 1495.0),
    C=(0.0, 2.0),
)
def carbon_diffusivity_liu_m2_s(composition: Composition, temperature_c: float) -> float:
    """Diffusivity of carbon in austenite (Liu's mobility); cross-check of Agren. [m2/s]"""
    y, t_k = composition.carbon_ratio, _kelvin(temperature_c)
    energy = (1.0 - y) * (-148123.29 - 88.33 * t_k) + y * (-103452.18 - 81.33 * t_k)
    energy += y * (1.0 - y) * (194029.43 - 17.15 * t_k + 47981.91 * (2.0 * y - 1.0))
    factor = 1.0 + 69342.0 / (GAS_CONSTANT * t_k) * y * (1.0 - y)
    return math.exp(energy / (GAS_CONSTANT * t_k)) * factor


@published(
    "tibbetts-1980",
    where="fit for the diffusivity of carbon in austenite",
    equation="D = 0.47 exp(-1.6 w) exp(-(37000 - 6600 w)/R'T) cm2/s, w in wt%, R' in cal",
    unit="m2/s",
    basis="memory",
    C=(0.0, 1.3),
)
def carbon_diffusivity_tibbetts_m2_s(composition: Composition, temperature_c: float) -> float:
    """Diffusivity of carbon in austenite (Tibbetts); cross-check of Agren. [m2/s]"""
    w = composition["C"]
    energy = (37000.0 - 6600.0 * w) / (GAS_CONSTANT_CAL * _kelvin(temperature_c))
    return 0.47e-4 * math.exp(-1.6 * w) * math.exp(-energy)


@published(
    "wells-batz-mehl-1950",
    where="textbook fit",
    equation="D = (0.04 + 0.08 w) exp(-31350/R'T) cm2/s, w in wt%, R' in cal",
    unit="m2/s",
    basis="memory",
)
def carbon_diffusivity_wells_m2_s(composition: Composition, temperature_c: float) -> float:
    """Diffusivity of carbon in austenite (Wells, Batz and Mehl); cross-check of Agren. [m2/s]"""
    energy = 31350.0 / (GAS_CONSTANT_CAL * _kelvin(temperature_c))
    return (0.04 + 0.08 * composition["C"]) * 1e-4 * math.exp(-energy)


@published(
    "callister-2007",
    where="table of diffusion data, carbon in gamma iron",
    equation="D = 2.3e-5 exp(-148000/RT)",
    unit="m2/s",
    note="dilute limit only: at 0.8 wt% carbon it is half of what was measured",
    C=(0.0, 0.1),
)
def carbon_diffusivity_dilute_m2_s(temperature_c: float) -> float:
    """Diffusivity of very little carbon in austenite, the textbook's constant. [m2/s]"""
    return 2.3e-5 * math.exp(-148e3 / (GAS_CONSTANT * _kelvin(temperature_c)))


@published(
    "lander-1952",
    where="diffusivity of carbon in nickel, 700-1300 C",
    equation="D = 2.48 exp(-168000/RT) cm2/s",
    unit="m2/s",
    basis="memory",
    temperature_c=(700.0, 1300.0),
)
def carbon_diffusivity_nickel_m2_s(temperature_c: float) -> float:
    """Diffusivity of carbon in nickel. [m2/s]"""
    return 2.48e-4 * math.exp(-168e3 / (GAS_CONSTANT * _kelvin(temperature_c)))


@published(
    "lander-1952",
    where="solubility of graphite in nickel, 700-1300 C",
    equation="ln S = 2.480 - 4880/T, S in g of carbon on 100 g of nickel",
    unit="g/100 g",
    basis="memory",
    temperature_c=(700.0, 1300.0),
)
def carbon_solubility_nickel(temperature_c: float) -> float:
    """Carbon that nickel dissolves beside graphite, g on 100 g of nickel."""
    return math.exp(2.480 - 4880.0 / _kelvin(temperature_c))


@published(
    "khorasgani-2022",
    where="mobilities of metals in austenite at infinite dilution",
    equation="D = D0 exp(-Q/RT), D0 and Q by element",
    unit="m2/s",
    note="Fe, Ni, Cr, Co: khorasgani-2022; Mn: liu-2009; Si: zheng-2015; Mo: zheng-2017;"
    " V from memory (Bowen and Leak 1970); others the general value of Fridberg, from memory."
    " Physical spread: a factor of 1.5",
    temperature_c=(900.0, 1300.0),
)
def substitutional_diffusivity_m2_s(element: str, temperature_c: float) -> float:
    """Diffusivity of a metal in austenite; without own figures it takes the general ones. [m2/s]"""
    d0, energy = SUBSTITUTIONAL.get(element, GENERAL_SUBSTITUTIONAL)
    return d0 * math.exp(-energy / (GAS_CONSTANT * _kelvin(temperature_c)))


@published(
    "chromium-25cr20ni",
    where="abstract, chemical diffusion in 25Cr-20Ni austenite, 800-1200 C",
    equation="D = 2.7e-5 exp(-246000/RT)",
    unit="m2/s",
    temperature_c=(800.0, 1200.0),
)
def chromium_diffusivity_stainless_m2_s(temperature_c: float) -> float:
    """Diffusivity of chromium in austenitic stainless steel: about seven times that in iron. [m2/s]"""
    return 2.7e-5 * math.exp(-246e3 / (GAS_CONSTANT * _kelvin(temperature_c)))


@published(
    "ruzickova-million-1981",
    where="abstract, chromium tracer at no chromium, 950-1200 C",
    equation="D = exp(-34181/T) cm2/s",
    unit="m2/s",
    temperature_c=(950.0, 1200.0),
)
def chromium_tracer_diffusivity_m2_s(temperature_c: float) -> float:
    """Diffusivity of chromium in gamma iron, second source. [m2/s]"""
    return 1e-4 * math.exp(-34181.0 / _kelvin(temperature_c))


@published(
    "lu-2005",
    where="molar volumes of iron: face-centred hot, body-centred at 20 C",
    equation="(Vm fcc / Vm bcc at 20 C)^(1/3)",
    unit="-",
    temperature_c=(740.0, 1394.0),
)
def hot_length_ratio(temperature_c: float) -> float:
    """Length of a hot austenitic bar for its length at 20 C."""
    hot = austenite_molar_volume_m3_mol(temperature_c)
    return float((hot / ferrite_molar_volume_m3_mol(20.0)) ** (1.0 / 3.0))
