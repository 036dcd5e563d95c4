"""Ae1, Ae3 and Acm: the temperatures at which a phase is just about to vanish.

Every line of every steel is one sample of one batch, solved with the temperature unknown.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.composition import Composition
from billet.formulas.equilibrium.beginning import begin_vanishing, guess
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    CARBIDES,
    CEMENTITE,
    FERRITE,
    M6C,
    M7C3,
    Array,
)
from billet.formulas.equilibrium.results import HIGHEST_C, LOWEST_C, CriticalLines
from billet.formulas.equilibrium.samples import LEAST_RATIO, Columns, Mask, Samples, System, samples_of
from billet.formulas.equilibrium.scan import scanned_c
from billet.formulas.equilibrium.solver import Places, solve
from billet.published import published
from billet.units import ZERO_CELSIUS_K

BEGIN_M6C_C = 800.0
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
    return _lines(composition)


@lru_cache(maxsize=2048)
def _lines(composition: Composition) -> CriticalLines:
    found = lines_many({e: np.array([v]) for e, v in composition.wt.items()})
    ae1, ae3, acm = (float(found[name][0]) for name in ("ae1_c", "ae3_c", "acm_c"))
    return CriticalLines(_or_none(ae1), _or_none(ae3), _or_none(acm))


def _or_none(value: float) -> float | None:
    return None if np.isnan(value) else value


@dataclass(frozen=True)
class _Vanished:
    """Where watched phases vanish (n,) in C, nan where they do not; S of M6C there, 0 without it."""

    temperature_c: Array
    m6c: Array


def lines_many(wt: Columns) -> dict[str, Array]:
    """critical_lines of many steels: arrays `ae1_c`, `ae3_c`, `acm_c`, nan where there is no such line.

    Raises OutOfDomain as critical_lines does, if any one of the steels is out of domain.
    """
    samples = samples_of(wt)
    y0 = samples.y0
    poor = np.flatnonzero(y0 <= LITTLE_CARBON)
    carbon = np.flatnonzero(y0 > LEAST_RATIO)
    asked = [(np.arange(len(y0)), (FERRITE,)), (carbon, (CEMENTITE, M7C3)), (poor, (AUSTENITE,))]
    ferrite, carbide, first = _vanish(samples, asked, None)
    ae3, acm = ferrite.temperature_c, np.full(len(y0), np.nan)
    acm[carbon] = carbide.temperature_c
    # M6C that is there when the others go is the last; the one that comes later, out of WC, counts with WC
    longer = carbon[(carbide.m6c > 1.0) | np.isnan(carbide.temperature_c)]
    m6c = longer[_can_form(samples, M6C)[longer]]
    if len(m6c):
        begin_c = np.where(np.isnan(acm[m6c]), BEGIN_M6C_C, acm[m6c])
        acm[m6c] = np.fmax(acm[m6c], _vanish(samples, [(m6c, (M6C,))], begin_c)[0].temperature_c)
    ae1 = np.fmin(ae3, acm)
    austenite = first.temperature_c
    met = np.isfinite(ae3[poor]) & np.isfinite(acm[poor])
    ae1[poor] = np.where(met, np.fmax(ae1[poor], austenite), austenite)
    return {"ae1_c": ae1, "ae3_c": ae3, "acm_c": acm}


def _can_form(samples: Samples, phase: int) -> Mask:
    place = samples.system.place(phase)
    none: Mask = np.zeros(len(samples.y0), dtype=bool)
    return none if place is None else samples.possible[:, place]


def _phases(system: System, possible: Mask, asked: tuple[int, ...]) -> tuple[Mask, Mask]:
    """Allowed and watched phases (n, phases) of steels that could form these, where `asked` are to vanish."""
    watched = possible & system.mark(*asked)
    allowed = possible
    if asked != (FERRITE,) and asked != (AUSTENITE,):
        allowed = allowed & ~system.mark(*CARBIDES)
    return (allowed | watched), watched


def _vanish(
    samples: Samples, asked: list[tuple[Places, tuple[int, ...]]], begin_c: Array | None
) -> list[_Vanished]:
    """Where phases vanish on heating (austenite: on cooling), all lines in one batch."""
    system, places = samples.system, np.concatenate([rows for rows, _ in asked])
    of = samples.part(places)
    pairs = [_phases(system, samples.possible[rows], phases) for rows, phases in asked]
    allowed, watched = (np.concatenate(masks) for masks in zip(*pairs, strict=True))
    batch = begin_vanishing(of, allowed, watched, guess(of))
    if begin_c is not None:
        batch.temperature_k = begin_c + ZERO_CELSIUS_K
    answer = solve(batch, system, True)
    backwards = watched[:, AUSTENITE]
    right = answer.converged & ((answer.slope > 0.0) == backwards)
    found = answer.temperature_k - ZERO_CELSIUS_K
    right &= (found > LOWEST_C) & (found < HIGHEST_C)
    place = system.place(M6C)
    m6c = np.zeros(len(places)) if place is None else answer.saturation[:, place]
    wrong = np.flatnonzero(~right)
    if len(wrong):
        found[wrong], all_s = scanned_c(of.part(wrong), allowed[wrong], watched[wrong])
        m6c[wrong] = 0.0 if place is None else all_s[:, place]
    out, begin = [], 0
    for rows, _ in asked:
        end = begin + len(rows)
        out.append(_Vanished(found[begin:end], m6c[begin:end]))
        begin = end
    return out
