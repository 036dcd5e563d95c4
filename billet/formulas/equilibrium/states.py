"""Equilibrium of one steel at one temperature."""

from functools import lru_cache
from math import exp

from billet.composition import Composition
from billet.formulas.equilibrium.assessed import ELEMENTS
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    FERRITE,
    TUNGSTEN_CARBIDE,
    VANADIUM_CARBIDE,
)
from billet.formulas.equilibrium.flash import flash
from billet.formulas.equilibrium.mixture import CARBON_WEIGHT, WEIGHTS, Mixture, mixture_of
from billet.formulas.equilibrium.results import EquilibriumState, refuse_high_alloy, refuse_temperature
from billet.formulas.equilibrium.solve_one import Flash
from billet.published import published


@published(
    "mf-steel-2024",
    where="published parameters in the dilute form, corrections fitted to computed equilibria",
    equation="equal potentials of every metal and of carbon in all phases; metals and carbon close",
    unit="mass fraction, wt%",
    note="all elements redistribute; a short soak dissolves less",
    C=(0.15, 1.35),
    Si=(0.0, 2.0),
    Mn=(0.0, 2.1),
    Cr=(0.0, 1.8),
    Ni=(0.0, 3.5),
    Mo=(0.0, 0.5),
    V=(0.0, 0.25),
    W=(0.0, 1.6),
)
def equilibrium_state(composition: Composition, temperature_c: float) -> EquilibriumState:
    """Austenite, ferrite and carbide at equilibrium, what the austenite holds, and its carbon activity.

    Raises OutOfDomain over 5 % Cr, over 2 % W + Mo + V, and outside 450 to 1450 C.
    """
    refuse_high_alloy(composition)
    refuse_temperature(temperature_c)
    return _state(mixture_of(composition), temperature_c)


@lru_cache(maxsize=4096)
def _state(mixture: Mixture, temperature_c: float) -> EquilibriumState:
    return described(mixture, flash(mixture, temperature_c, mixture.phases), temperature_c)


def described(mixture: Mixture, found: Flash, temperature_c: float) -> EquilibriumState:
    """Shares of atoms to fractions of mass."""
    mass = {}
    weights = [WEIGHTS[j] for j in mixture.metals]
    for phase, share in zip(found.active, found.share, strict=True):
        metal = sum(x * w for x, w in zip(found.metals_in[phase], weights, strict=True))
        mass[phase] = share * (metal + found.carbon_in[phase] * CARBON_WEIGHT)
    total = sum(mass.values())
    part = {phase: value / total for phase, value in mass.items()}
    austenite, ferrite = part.get(AUSTENITE, 0.0), part.get(FERRITE, 0.0)
    carbide = sum(v for p, v in part.items() if p not in (AUSTENITE, FERRITE))
    return EquilibriumState(
        temperature_c,
        austenite,
        ferrite,
        carbide,
        part.get(VANADIUM_CARBIDE, 0.0) + part.get(TUNGSTEN_CARBIDE, 0.0),
        _austenite_wt(mixture, found, weights) if austenite > 0.0 else {},
        exp(found.mu),
    )


def _austenite_wt(mixture: Mixture, found: Flash, weights: list[float]) -> dict[str, float]:
    metals = found.metals_in[AUSTENITE]
    carbon = found.carbon_in[AUSTENITE] * CARBON_WEIGHT
    total = carbon + sum(x * w for x, w in zip(metals, weights, strict=True))
    wt = {"C": 100.0 * carbon / total}
    for place, x, weight in zip(mixture.metals, metals, weights, strict=True):
        if place:
            wt[ELEMENTS[place]] = 100.0 * x * weight / total
    return wt
