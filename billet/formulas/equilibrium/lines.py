"""Ae1, Ae3 and Acm of one steel: the temperatures at which a phase is just about to vanish."""

from collections.abc import Callable
from functools import lru_cache

from billet.composition import Composition
from billet.formulas.equilibrium.coefficients import AUSTENITE, CARBIDES, FERRITE
from billet.formulas.equilibrium.mixture import LEAST_RATIO, Mixture, mixture_of, terms_at
from billet.formulas.equilibrium.results import (
    HIGHEST_C,
    LOWEST_C,
    CriticalLines,
    refuse_high_alloy,
)
from billet.formulas.equilibrium.solve_one import solve
from billet.published import published

STRIDE_K, CLOSE_K = 40.0, 0.02
LITTLE_CARBON = 0.003  # carbon atoms for one metal atom (about 0.06 wt%)


@published(
    "own-construction",
    where="published parameters in the dilute form, corrections fitted to computed equilibria",
    equation="temperature at which the driving force of the vanishing phase is 0",
    unit="C",
    note="equilibrium temperatures: on heating the changes come later (Ac1, Ac3)",
    C=(0.15, 1.35),
    Si=(0.0, 2.0),
    Mn=(0.0, 2.1),
    Cr=(0.0, 1.8),
    Ni=(0.0, 3.5),
    Mo=(0.0, 0.5),
    V=(0.0, 0.25),
    W=(0.0, 1.6),
)
def critical_lines(composition: Composition) -> CriticalLines:
    """Ae1, Ae3 and Acm of a steel.

    Raises OutOfDomain over 5 % Cr and over 2 % W + Mo + V.
    """
    refuse_high_alloy(composition)
    return _lines(mixture_of(composition))


@lru_cache(maxsize=2048)
def _lines(mixture: Mixture) -> CriticalLines:
    ae3 = _falling_root(lambda t: _ferrite_drive(mixture, t), 750.0)
    acm = None
    if mixture.carbon_ratio > LEAST_RATIO:
        acm = _falling_root(lambda t: _carbide_drive(mixture, t), 750.0)
    return CriticalLines(_ae1(mixture, ae3, acm), ae3, acm)


def _ae1(mixture: Mixture, ae3: float | None, acm: float | None) -> float | None:
    met = [line for line in (ae3, acm) if line is not None]
    if len(met) == 2 and mixture.carbon_ratio > LITTLE_CARBON:
        return min(met)
    first = _falling_root(lambda t: -_austenite_drive(mixture, t), 750.0)
    if len(met) == 2 and first is not None:
        return max(min(met), first)
    return first


def _ferrite_drive(mixture: Mixture, temperature_c: float) -> float:
    phases = tuple(p for p in mixture.phases if p != FERRITE)
    return solve(mixture, terms_at(mixture.metals, temperature_c), phases).saturation[FERRITE]


def _carbide_drive(mixture: Mixture, temperature_c: float) -> float:
    phases = tuple(p for p in mixture.phases if p not in CARBIDES)
    flash = solve(mixture, terms_at(mixture.metals, temperature_c), phases)
    return max(flash.saturation[p] for p in CARBIDES if p in flash.saturation)


def _austenite_drive(mixture: Mixture, temperature_c: float) -> float:
    phases = tuple(p for p in mixture.phases if p != AUSTENITE)
    return solve(mixture, terms_at(mixture.metals, temperature_c), phases).saturation[AUSTENITE]


def _falling_root(drive: Callable[[float], float], guess_c: float) -> float | None:
    """Temperature where a falling drive crosses 0; None if it does not between 450 and 1450 C."""
    here, value = guess_c, drive(guess_c)
    rising = value > 0.0
    while True:
        there = min(max(here + (STRIDE_K if rising else -STRIDE_K), LOWEST_C), HIGHEST_C)
        if there == here:
            return None
        following = drive(there)
        if (following > 0.0) != rising:
            break
        here, value = there, following
    low, high = ((here, value), (there, following)) if rising else ((there, following), (here, value))
    return _illinois(drive, low, high)


def _illinois(
    drive: Callable[[float], float], low: tuple[float, float], high: tuple[float, float]
) -> float:  # fmt: skip
    """False position with the Illinois weight; bracket kept throughout."""
    (a, fa), (b, fb) = low, high
    for _ in range(60):
        middle = (a * fb - b * fa) / (fb - fa)
        f = drive(middle)
        if f == 0.0 or abs(b - a) < CLOSE_K:
            return middle
        if f > 0.0:
            near, a, fa, fb = middle - a, middle, f, fb / 2.0
        else:
            near, b, fb, fa = b - middle, middle, f, fa / 2.0
        if near < CLOSE_K / 2.0:
            return middle
    return (a + b) / 2.0
