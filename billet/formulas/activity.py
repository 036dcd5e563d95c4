"""Carbon activity in austenite, and how alloying moves it.

Graphite is the reference (activity 1). Two layers are level when their activities are equal;
their contents are then not equal.
"""

import math

from billet.composition import Composition
from billet.formulas.diffusion import GAS_CONSTANT, carbon_solubility_nickel
from billet.formulas.domain import refuse_impossible_temperature
from billet.published import published
from billet.units import c_to_k

# (constant, slope in K): epsilon = constant + slope / T, on site fractions.
UHRENIUS: dict[str, tuple[float, float]] = {
    "Si": (0.0, 14794.0),
    "Ni": (0.0, 5533.0),
    "Mn": (0.0, -4811.0),
    "Cr": (14.193, -30209.0),
    "Mo": (0.0, -10714.0),
    "V": (0.0, -21650.0),
    "W": (0.0, -10342.0),
    "Co": (0.0, 2800.0),
    "Nb": (0.0, -28770.0),
}
ASSESSED: dict[str, tuple[float, float]] = {
    "Si": (0.0, 10786.0),
    "Ni": (0.035, 3419.0),
    "Mn": (2.085, -7157.0),
    "Cr": (1.556, -12813.0),
    "Mo": (2.312, -14751.0),
    "V": (1.473, -22112.0),
    "W": (11.32, -24941.0),
    "Co": (1.160, 1722.0),
}


def _kelvin(temperature_c: float) -> float:
    refuse_impossible_temperature("temperature_c", temperature_c)
    return c_to_k(temperature_c)


@published(
    "gustafson-1985",
    where="interaction of carbon and vacancies in austenite, -34671 J/mol",
    equation="k = 2 x 34671/(RT)",
    unit="-",
    temperature_c=(727.0, 1495.0),
)
def carbon_self_interaction(temperature_c: float) -> float:
    """k: how steeply ln of the activity rises with y beyond ideal mixing."""
    return 69342.0 / (GAS_CONSTANT * _kelvin(temperature_c))


@published(
    "gustafson-1985",
    where="carbon in austenite against graphite",
    equation="const = (77207 - 34671)/(RT) - 15.877/R",
    unit="-",
    basis="memory",
    note="the two constants are from memory; with them the published activities at 1000 C come out",
    temperature_c=(727.0, 1495.0),
)
def austenite_reference(temperature_c: float) -> float:
    """Constant that makes graphite the reference in ln a = const + ln(y/(1-y)) + k y."""
    return 42536.0 / (GAS_CONSTANT * _kelvin(temperature_c)) - 15.877 / GAS_CONSTANT


@published(
    "uhrenius-1978",
    where="table of coefficients in austenite, from a public transcription",
    equation="epsilon = constant + slope/T by element",
    unit="-",
    note="elements without a coefficient count 0",
    temperature_c=(850.0, 1250.0),
)
def interaction_uhrenius(element: str, temperature_c: float) -> float:
    """Interaction coefficient of a metal on carbon in austenite (Uhrenius)."""
    constant, slope = UHRENIUS.get(element, (0.0, 0.0))
    return constant + slope / _kelvin(temperature_c)


@published(
    "assessed-interactions",
    where="derived from published assessments by element, fitted 900-1200 C",
    equation="epsilon = constant + slope/T by element",
    unit="-",
    note="elements without a coefficient count 0",
    temperature_c=(900.0, 1200.0),
)
def interaction_assessed(element: str, temperature_c: float) -> float:
    """Interaction coefficient of a metal on carbon in austenite (from assessed systems)."""
    constant, slope = ASSESSED.get(element, (0.0, 0.0))
    return constant + slope / _kelvin(temperature_c)


def alloy_shift(composition: Composition, temperature_c: float) -> float:
    """Sum of epsilon times site fraction: what the metals add to ln of the activity."""
    return sum(
        interaction_uhrenius(element, temperature_c) * fraction
        for element, fraction in composition.metal_fractions.items()
    )


@published(
    "gustafson-1985",
    where="carbon in austenite, with interaction coefficients on site fractions",
    equation="ln a = const(T) + ln(y/(1-y)) + k y + sum(epsilon u)",
    unit="-",
    temperature_c=(727.0, 1495.0),
    Cr=(0.0, 5.0),
    C=(0.0, 2.0),
)
def carbon_activity(composition: Composition, temperature_c: float) -> float:
    """Activity of carbon in single-phase austenite, graphite being 1."""
    y = composition.carbon_ratio
    if y == 0.0:
        return 0.0
    shift = austenite_reference(temperature_c) + alloy_shift(composition, temperature_c)
    return y / (1.0 - y) * math.exp(shift + carbon_self_interaction(temperature_c) * y)


def nickel_reference(temperature_c: float) -> float:
    """Constant in ln a = const + ln(y/(1-y)) for nickel, from its solubility beside graphite."""
    y = carbon_solubility_nickel(temperature_c) / 12.011 / (100.0 / 58.693)
    return -math.log(y / (1.0 - y))
