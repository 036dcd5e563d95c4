"""Specific heat, conductivity and density of steel: slow heating, and undercooled austenite."""

import math

from billet.formulas.domain import refuse_impossible_temperature
from billet.published import published
from billet.units import c_to_k

EC3 = "en-1993-1-2-2005"
STEEL_DENSITY_KG_M3 = 7850.0
GAMMA_IRON_KG_MOL = 0.055845


def _checked(temperature_c: float) -> float:
    refuse_impossible_temperature("temperature_c", temperature_c)
    return temperature_c


@published(
    EC3,
    where="clause 3.4.1.2",
    equation="425 + 0.773T - 1.69e-3 T2 + 2.22e-6 T3; 666 + 13002/(738-T); 545 + 17820/(T-731); 650",
    unit="J kg-1 K-1",
    note="A value taken across the peak at 735 C loses heat: use the enthalpy for heating.",
    temperature_c=(20.0, 1200.0),
)
def specific_heat_ec3_j_kg_k(temperature_c: float) -> float:
    """Specific heat of carbon steel on slow heating, J kg-1 K-1; temperature in C.

    Raises OutOfDomain at or below absolute zero.
    """
    t = _checked(temperature_c)
    if t < 600.0:
        return 425.0 + t * (0.773 + t * (-1.69e-3 + t * 2.22e-6))
    if t < 735.0:
        return 666.0 + 13002.0 / (738.0 - t)
    if t < 900.0:
        return 545.0 + 17820.0 / (t - 731.0)
    return 650.0


@published(
    EC3,
    where="clause 3.4.1.3",
    equation="k = 54 - 3.33e-2 T below 800 C; 27.3 above",
    unit="W m-1 K-1",
    temperature_c=(20.0, 1200.0),
)
def conductivity_ec3_w_m_k(temperature_c: float) -> float:
    """Conductivity of carbon steel on slow heating, W m-1 K-1; temperature in C.

    Raises OutOfDomain at or below absolute zero.
    """
    t = _checked(temperature_c)
    return 54.0 - 3.33e-2 * t if t < 800.0 else 27.3


@published(
    EC3,
    where="clause 3.4.1.2, integrated from 0 C",
    equation="h = integral of c dT, piece by piece in closed form",
    unit="J kg-1",
    temperature_c=(20.0, 1200.0),
)
def enthalpy_ec3_j_kg(temperature_c: float) -> float:
    """Heat taken up by carbon steel from 0 C, J kg-1; differences of it are what counts.

    Raises OutOfDomain at or below absolute zero.
    """
    t = _checked(temperature_c)
    low = min(t, 600.0)
    heat = low * (425.0 + low * (0.773 / 2.0 + low * (-1.69e-3 / 3.0 + low * 2.22e-6 / 4.0)))
    if t > 600.0:
        upper = min(t, 735.0)
        heat += 666.0 * (upper - 600.0) + 13002.0 * math.log((738.0 - 600.0) / (738.0 - upper))
    if t > 735.0:
        upper = min(t, 900.0)
        heat += 545.0 * (upper - 735.0) + 17820.0 * math.log((upper - 731.0) / (735.0 - 731.0))
    if t > 900.0:
        heat += 650.0 * (t - 900.0)
    return heat


@published(
    EC3,
    where="clause 3.4.1.1",
    equation="1.2e-5 T + 0.4e-8 T2 - 2.416e-4 below 750 C; 1.1e-2 to 860 C; 2e-5 T - 6.2e-3 above",
    unit="1",
    temperature_c=(20.0, 1200.0),
)
def elongation_ec3(temperature_c: float) -> float:
    """Elongation of carbon steel from 20 C, as a share of its length; temperature in C.

    Raises OutOfDomain at or below absolute zero.
    """
    t = _checked(temperature_c)
    if t < 750.0:
        return 1.2e-5 * t + 0.4e-8 * t * t - 2.416e-4
    return 1.1e-2 if t <= 860.0 else 2.0e-5 * t - 6.2e-3


def heat_taken_up_ec3_j_kg(from_c: float, to_c: float) -> float:
    """Heat carbon steel takes up between two temperatures, J kg-1.

    Raises OutOfDomain at or below absolute zero.
    """
    return enthalpy_ec3_j_kg(to_c) - enthalpy_ec3_j_kg(from_c)


@published(
    "miettinen-1994",
    where="conductivity of austenite",
    equation="k = 20.14 + 9.313e-3 T",
    unit="W m-1 K-1",
    basis="memory",
    temperature_c=(200.0, 1400.0),
)
def austenite_conductivity_w_m_k(temperature_c: float) -> float:
    """Conductivity of austenite, also undercooled, W m-1 K-1; temperature in C.

    Raises OutOfDomain at or below absolute zero.
    """
    return 20.14 + 9.313e-3 * _checked(temperature_c)


@published(
    "gamma-iron-heat-capacity",
    where="gamma iron",
    equation="c = (24.481 + 8.368e-3 T(K)) / 0.055845",
    unit="J kg-1 K-1",
    basis="memory",
    temperature_c=(200.0, 1400.0),
)
def austenite_specific_heat_j_kg_k(temperature_c: float) -> float:
    """Specific heat of austenite, also undercooled: no peak, J kg-1 K-1; temperature in C.

    Raises OutOfDomain at or below absolute zero.
    """
    return (24.481 + 8.368e-3 * c_to_k(_checked(temperature_c))) / GAMMA_IRON_KG_MOL


@published(
    "jablonka-1991",
    where="density of austenite",
    equation="rho = 8099.79 - 0.506 T",
    unit="kg m-3",
    basis="memory",
    temperature_c=(200.0, 1400.0),
)
def austenite_density_kg_m3(temperature_c: float) -> float:
    """Density of austenite, kg m-3; temperature in C.

    Raises OutOfDomain at or below absolute zero.
    """
    return 8099.79 - 0.506 * _checked(temperature_c)
