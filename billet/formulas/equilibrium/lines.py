"""Ae1, Ae3 and Acm of one steel: the temperatures at which a phase is just about to vanish."""

import math
from collections.abc import Callable
from functools import lru_cache

from billet.composition import Composition
from billet.formulas.equilibrium.assessed import ELEMENTS
from billet.formulas.equilibrium.coefficients import AUSTENITE, CARBIDES, CEMENTITE, FERRITE, M6C
from billet.formulas.equilibrium.flash import flash
from billet.formulas.equilibrium.mixture import LEAST_RATIO, WEIGHTS, Mixture, mixture_of
from billet.formulas.equilibrium.results import (
    HIGHEST_C,
    LOWEST_C,
    CriticalLines,
    refuse_high_alloy,
)
from billet.formulas.equilibrium.solve_one import Flash
from billet.published import published

STRIDE_K, CLOSE_K, SECANTS = 40.0, 0.05, 12
EUTECTOID_RATIO = 0.033
REENTRY_C = 900.0
LITTLE_CARBON = 0.003  # carbon atoms for one metal atom (about 0.06 wt%)


@published(
    "mf-steel-2024",
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
    carbon, guess = mixture.carbon_ratio, _guess(mixture)
    ae3 = _Vanishing(mixture, FERRITE).temperature_c(guess[0])
    if carbon <= LEAST_RATIO:
        return CriticalLines(_ae1(mixture, ae3, None), ae3, None)
    carbides = _Vanishing(mixture, CEMENTITE)
    first = carbides.temperature_c(guess[1])
    return CriticalLines(_ae1(mixture, ae3, first), ae3, _last_carbide(carbides, first))


def _last_carbide(carbides: "_Vanishing", first: float | None) -> float | None:
    """M6C may come, out of WC, when other carbides have gone: then the last line is its own."""
    if first is None or M6C not in carbides.watched or first > REENTRY_C:
        return first
    carbides.flash = None  # far from there: a new start is nearer
    if carbides.drive(REENTRY_C) <= 0.0:
        return first
    return carbides.bracketed(REENTRY_C)


def _guess(mixture: Mixture) -> tuple[float, float]:
    """Where to begin looking for Ae3 and Acm. Rough sums; the answer does not depend on them."""
    wt = {ELEMENTS[j]: 1.8 * WEIGHTS[j] * u for j, u in zip(mixture.metals, mixture.shares, strict=True)}
    carbon = 21.5 * mixture.carbon_ratio

    def shifted(base: float, **by: float) -> float:
        return base + sum(slope * wt.get(element, 0.0) for element, slope in by.items())

    ae1 = shifted(726.5, Si=22.0, Mn=-10.0, Ni=-9.0, Cr=6.5)
    ae3 = shifted(915.0 - 203.0 * carbon**0.5, Si=42.0, Mn=-22.0, Ni=-18.0, Cr=-8.0)
    acm = shifted(387.5 + 493.0 * carbon - 61.45 * carbon**2, Si=25.0, Ni=4.0, Cr=27.0)
    return min(max(ae1, ae3), 950.0), min(max(ae1, acm), 1050.0)


def _ae1(mixture: Mixture, ae3: float | None, acm: float | None) -> float | None:
    met = [line for line in (ae3, acm) if line is not None]
    if len(met) == 2 and mixture.carbon_ratio > LITTLE_CARBON:
        return min(met)
    first = _Vanishing(mixture, AUSTENITE).temperature_c(730.0)
    if len(met) == 2 and first is not None:
        return max(min(met), first)
    return first


class _Vanishing:
    """Drive of a suspended phase against temperature, each answer the start of the next.

    CEMENTITE stands for the last of all carbides but MC and WC. The drive falls with temperature (that
    of austenite is taken negative).
    """

    def __init__(self, mixture: Mixture, phase: int) -> None:
        self.mixture, self.phase = mixture, phase
        gone = CARBIDES if phase == CEMENTITE else (phase,)
        self.kept = tuple(p for p in mixture.phases if p not in gone)
        self.watched = tuple(p for p in mixture.phases if p in gone)
        self.flash: Flash | None = None

    def drive(self, temperature_c: float) -> float:
        """ln S of the phase at a temperature."""
        exact = None if self.phase == CEMENTITE else self.phase
        self.flash = flash(self.mixture, temperature_c, self.kept, self.flash, exact)
        value = max(self.flash.saturation[p] for p in self.watched)
        return -value if self.phase == AUSTENITE else value

    def temperature_c(self, guess_c: float) -> float | None:
        """Where the drive is 0; None if it is not between 450 and 1450 C."""
        here, value = guess_c, self.drive(guess_c)
        there = here + max(-STRIDE_K, min(STRIDE_K, value / self._usual_slope(guess_c)))
        for _ in range(SECANTS):
            if not LOWEST_C < there < HIGHEST_C:
                break
            following = self.drive(there)
            if abs(there - here) < CLOSE_K or following == value:
                return there
            slope = (following - value) / (there - here)
            if slope >= 0.0:
                break
            here, value = there, following
            there = here + max(-2.0 * STRIDE_K, min(2.0 * STRIDE_K, -value / slope))
            if abs(there - here) < CLOSE_K:
                return there
        return self.bracketed(guess_c)

    def _usual_slope(self, temperature_c: float) -> float:
        """By what the drive falls with one kelvin, about; sets the length of the first step only."""
        if self.phase == CEMENTITE:
            return 1.15e-3 if self.mixture.carbon_ratio > EUTECTOID_RATIO else 5e-3
        return 5.8e-4 * math.exp(-max(temperature_c - 725.0, 0.0) / 80.0)

    def bracketed(self, guess_c: float) -> float | None:
        """The slow and sure way: walk until the sign changes, then false position."""
        self.flash = None
        here, value = guess_c, self.drive(guess_c)
        rising = value > 0.0
        while True:
            there = min(max(here + (STRIDE_K if rising else -STRIDE_K), LOWEST_C), HIGHEST_C)
            if there == here:
                return None
            following = self.drive(there)
            if (following > 0.0) != rising:
                break
            here, value = there, following
        low, high = ((here, value), (there, following)) if rising else ((there, following), (here, value))
        return _illinois(self.drive, low, high)


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
