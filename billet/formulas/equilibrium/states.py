"""Equilibrium of steels at given temperatures."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from billet.composition import Composition
from billet.formulas.equilibrium.assessed import ALLOYING
from billet.formulas.equilibrium.beginning import begin_bound, begin_plain, begin_state
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    FERRITE,
    INDEX,
    TUNGSTEN_CARBIDE,
    VANADIUM_CARBIDE,
    Array,
)
from billet.formulas.equilibrium.results import EquilibriumState, refuse_temperature
from billet.formulas.equilibrium.samples import CARBON_WEIGHT, Columns, Mask, Samples, samples_of
from billet.formulas.equilibrium.solver import Answer, NotConverged, replace_rows, solve
from billet.published import published

PATIENT_TURNS = 200


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
    return _state(composition, float(temperature_c))


@lru_cache(maxsize=4096)
def _state(composition: Composition, temperature_c: float) -> EquilibriumState:
    found = states_many({e: np.array([v]) for e, v in composition.wt.items()}, temperature_c)
    one = {name: float(values[0]) for name, values in found.items()}
    held = {e: one[f"{e}_in_austenite"] for e in ("C", *ALLOYING) if e == "C" or composition[e] > 0.0}
    return EquilibriumState(
        temperature_c,
        one["austenite"],
        one["ferrite"],
        one["carbide"],
        one["mc"],
        held if one["austenite"] > 0.0 else {},
        one["carbon_activity"],
    )


def states_many(wt: Columns, temperature_c: Array | float) -> dict[str, Array]:
    """equilibrium_state of many steels: `wt` holds one array of wt% an element, all of one length.

    Returns arrays (n,) `austenite`, `ferrite`, `carbide`, `mc`, `carbon_activity`, and for C and every
    element of the model `<element>_in_austenite` in wt% (nan where there is no austenite). Raises
    OutOfDomain as equilibrium_state does, if any one of the steels is out of domain, and NotConverged
    where nothing closes.
    """
    samples = samples_of(wt)
    temperature = np.broadcast_to(np.asarray(temperature_c, dtype=np.float64), samples.y0.shape)
    for extreme in (temperature.min(), temperature.max()):
        refuse_temperature(float(extreme))
    found = states_of(samples, temperature, samples.possible)
    if not found.converged.all():
        raise NotConverged
    return _described(found, samples)


def states_of(samples: Samples, temperature_c: Array, allowed: Mask) -> Answer:
    """Equilibrium of samples (n,) at temperatures (n,) among the phases `allowed` (n, phases)."""
    found = solve(begin_state(samples, temperature_c, allowed), samples.system, False)
    for cold, frozen in ((True, False), (True, True), (False, True), (False, False)):
        left = np.flatnonzero(~found.converged)
        if not len(left):
            break
        again = begin_plain(samples.part(left), temperature_c[left], allowed[left], cold, frozen)
        replace_rows(found, left, solve(again, samples.system, False))
    left = np.flatnonzero(~found.converged)
    if len(left):  # where two carbides are nearly as stable, one gives way to the other slowly
        again = begin_state(samples.part(left), temperature_c[left], allowed[left])
        replace_rows(found, left, solve(again, samples.system, False, PATIENT_TURNS))
    for cold in (True, False):
        left = np.flatnonzero(~found.converged)
        if len(left):
            again = begin_bound(samples.part(left), temperature_c[left], allowed[left], cold)
            replace_rows(found, left, solve(again, samples.system, False))
    return found


def _described(answer: Answer, samples: Samples) -> dict[str, Array]:
    """Shares of atoms to fractions of mass."""
    system = samples.system
    weights = system.weights
    metal, carbon = (answer.metals * weights).sum(2), answer.carbon * CARBON_WEIGHT
    mass = answer.share * (metal + carbon)
    part = mass / mass.sum(1, keepdims=True)
    mc = (part * system.mark(VANADIUM_CARBIDE, TUNGSTEN_CARBIDE)).sum(1)
    there = part[:, AUSTENITE] > 0.0
    weight = np.where(there, metal[:, AUSTENITE] + carbon[:, AUSTENITE], np.nan)
    out = {
        "austenite": part[:, AUSTENITE],
        "ferrite": part[:, FERRITE],
        "carbide": part[:, 2:].sum(1),
        "mc": mc,
        "carbon_activity": np.exp(answer.mu),
        "C_in_austenite": 100.0 * carbon[:, AUSTENITE] / weight,
    }
    held = 100.0 * answer.metals[:, AUSTENITE] * weights / weight[:, None]
    for e in ALLOYING:
        place = INDEX[e]
        if place in system.metals:
            out[f"{e}_in_austenite"] = held[:, system.metals.index(place)]
        else:
            out[f"{e}_in_austenite"] = np.where(there, 0.0, np.nan)
    return out


def carbon_activity_of_total(
    composition: Composition, carbon_total_wt: NDArray[np.float64], temperature_c: float
) -> Array:
    """Carbon activity (graphite 1) of a steel against its TOTAL carbon, carbides and ferrite allowed.

    The metals keep their proportions. Never falls with carbon: what rounding leaves on a level stretch
    (a part in 1e8) is evened out. Same shape as `carbon_total_wt`. Raises OutOfDomain as
    equilibrium_state does.
    """
    carbon = np.asarray(carbon_total_wt, dtype=np.float64)
    flat = carbon.ravel()
    scale = (100.0 - flat) / (100.0 - composition["C"])
    wt = {e: composition[e] * scale for e in ALLOYING if composition[e] > 0.0}
    activity = states_many({"C": flat, **wt}, temperature_c)["carbon_activity"]
    rising = np.argsort(flat)
    activity[rising] = np.maximum.accumulate(activity[rising])
    return np.where(carbon > 0.0, activity.reshape(carbon.shape), 0.0)
