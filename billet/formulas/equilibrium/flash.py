"""One equilibrium by the quick route, and by the slow and sure one where that does not close."""

import math

import numpy as np

from billet.formulas.equilibrium.batch import System, start
from billet.formulas.equilibrium.coefficients import AUSTENITE, FERRITE
from billet.formulas.equilibrium.mixture import Mixture, Terms, terms_at
from billet.formulas.equilibrium.offers import NotConverged, carbide, settle
from billet.formulas.equilibrium.solve_many import Answer, solve_many
from billet.formulas.equilibrium.solve_one import Flash, solve
from billet.units import c_to_k

LEAST_SHARE = 1e-8


def flash(
    mixture: Mixture,
    temperature_c: float,
    phases: tuple[int, ...],
    near: Flash | None = None,
    exact: int | None = None,
) -> Flash:
    """Equilibrium among `phases`, as solve_one.solve gives it. `near` is used up.

    Raises NotConverged if neither route closes.
    """
    terms = terms_at(mixture.metals, temperature_c)
    for first in (near, None) if near is not None else (None,):
        try:
            return solve(mixture, terms, phases, first, exact)
        except (NotConverged, OverflowError, ValueError, ZeroDivisionError):
            continue
    return _slowly(mixture, temperature_c, terms, phases, exact)


def _slowly(
    mixture: Mixture, temperature_c: float, terms: Terms, phases: tuple[int, ...], exact: int | None
) -> Flash:
    """By the arrays; with frozen interactions where the full form has no answer.

    That happens with over 2 % nickel under about 720 C, where austenite would be so rich in nickel that
    the dilute form does not reach there.
    """
    for frozen in (False, True):
        system = System(mixture.metals, phases, None, frozen)
        u, y0 = np.array([mixture.shares]), np.array([mixture.carbon_ratio])
        answer = solve_many(start(u, y0, np.array([c_to_k(temperature_c)]), system), system)
        if answer.converged[0]:
            return _as_flash(mixture, terms, answer, phases, exact)
    raise NotConverged


def _as_flash(
    mixture: Mixture, terms: Terms, answer: Answer, phases: tuple[int, ...], exact: int | None
) -> Flash:
    there = [i for i in range(len(phases)) if answer.share[0, i] > LEAST_SHARE]
    metals_in = {p: list(mixture.shares) for p in (AUSTENITE, FERRITE)}
    metals_in.update({phases[i]: answer.metals[0, i].tolist() for i in there})
    carbon_in = {phases[i]: float(answer.carbon[0, i]) for i in there}
    share = [float(answer.share[0, i]) for i in there]
    y = carbon_in.get(AUSTENITE, min(mixture.carbon_ratio, 0.2))
    logit = math.log(y / (1.0 - y))
    found = Flash([phases[i] for i in there], share, float(answer.mu[0]), logit, metals_in, carbon_in)
    activity = np.exp(answer.ln_activity[0]).tolist()
    for p in mixture.phases:
        if p in found.active:
            continue
        if p in (AUSTENITE, FERRITE):
            found.saturation[p], found.metals_in[p], _ = settle(
                terms, p, found.mu, activity, metals_in[p], found.logit, p != exact
            )
        else:
            offered = carbide(terms, p, found.mu).e
            found.saturation[p] = math.log(sum([a * e for a, e in zip(activity, offered, strict=True)]))
    return found
