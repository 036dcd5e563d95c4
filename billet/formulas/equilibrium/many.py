"""States and lines of many compositions at once, and carbon activity against total carbon."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from billet.composition import ATOMIC_WEIGHT, Composition
from billet.errors import OutOfDomain
from billet.formulas.equilibrium.assessed import ALLOYING
from billet.formulas.equilibrium.batch import Array, System, start
from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    CARBIDES,
    CARBON_PER_METAL,
    FERRITE,
    INDEX,
    M6C,
    TUNGSTEN_CARBIDE,
    VANADIUM_CARBIDE,
    rows_at,
)
from billet.formulas.equilibrium.lines import LITTLE_CARBON, critical_lines
from billet.formulas.equilibrium.mixture import CARBON_WEIGHT, LEAST_RATIO, WEIGHTS, possible_phases
from billet.formulas.equilibrium.results import (
    MOST_CHROMIUM_WT,
    MOST_REFRACTORY_WT,
    refuse_temperature,
)
from billet.formulas.equilibrium.solve_many import Answer, solve_many
from billet.formulas.equilibrium.states import equilibrium_state
from billet.units import ZERO_CELSIUS_K

Columns = Mapping[str, Array]
LEAST_SHARE = 1e-6  # what the barrier leaves of an absent phase is less


def _columns(wt: Columns) -> dict[str, Array]:
    """Every element as an array of one length. Raises OutOfDomain for what cannot be or is not computed."""
    arrays = {e: np.atleast_1d(np.asarray(v, dtype=np.float64)) for e, v in wt.items()}
    n = max((len(v) for v in arrays.values()), default=1)
    full = {e: np.broadcast_to(v, (n,)) for e, v in arrays.items()}
    for e, v in full.items():
        if e not in ATOMIC_WEIGHT or e == "Fe":
            raise OutOfDomain("element", e, "a known element other than iron")
        if not (np.isfinite(v).all() and (v >= 0.0).all()):
            raise OutOfDomain(f"{e} in wt%", float(np.min(v)), "numbers of 0 or more")
    zero = np.zeros(n)
    if (full.get("Cr", zero) > MOST_CHROMIUM_WT).any():
        raise OutOfDomain("Cr in wt%", float(full["Cr"].max()), "5 or less for a computed equilibrium")
    refractory = full.get("W", zero) + full.get("Mo", zero) + full.get("V", zero)
    if (refractory > MOST_REFRACTORY_WT).any():
        most = float(refractory.max())
        raise OutOfDomain("W + Mo + V in wt%", most, "2 or less for a computed equilibrium")
    return {e: full.get(e, zero) for e in ("C", *ALLOYING)}


def _atoms(wt: dict[str, Array]) -> tuple[Array, Array, tuple[int, ...], tuple[int, ...]]:
    """Shares of the metals that occur (n, metals), carbon ratios, those metals, the possible phases."""
    present = [e for e in ALLOYING if wt[e].any()]
    iron = 100.0 - sum(wt.values(), np.zeros(len(wt["C"])))
    moles = np.stack([iron / ATOMIC_WEIGHT["Fe"], *(wt[e] / ATOMIC_WEIGHT[e] for e in present)], axis=1)
    total = moles.sum(1)
    # a trace where an element is 0 keeps its logarithm finite
    u = np.maximum(moles / total[:, None], 1e-12)
    y0 = np.maximum(wt["C"] / CARBON_WEIGHT / total, LEAST_RATIO)
    return u, y0, (0, *(INDEX[e] for e in present)), possible_phases(set(present))


def states_many(wt: Columns, temperature_c: Array | float) -> dict[str, Array]:
    """equilibrium_state of many steels: `wt` holds one array of wt% an element, all of one length.

    Returns arrays (n,) `austenite`, `ferrite`, `carbide`, `mc`, `carbon_activity`, and for C and every
    element of the model `<element>_in_austenite` in wt% (nan where there is no austenite). Raises
    OutOfDomain as equilibrium_state does, if any one of the steels is out of domain.
    """
    columns = _columns(wt)
    temperature = np.broadcast_to(np.asarray(temperature_c, dtype=np.float64), columns["C"].shape)
    for extreme in (temperature.min(), temperature.max()):
        refuse_temperature(float(extreme))
    u, y0, metals, phases = _atoms(columns)
    system = System(metals, phases)
    answer = solve_many(start(u, y0, temperature + ZERO_CELSIUS_K, system), system)
    out = _described(answer, system)
    for i in np.flatnonzero(~answer.converged):
        _by_hand(out, int(i), {e: float(v[i]) for e, v in columns.items()}, float(temperature[i]))
    return out


def _described(answer: Answer, system: System) -> dict[str, Array]:
    weights = np.array([WEIGHTS[j] for j in system.metals])
    metal = (answer.metals * weights).sum(2)
    carbon = answer.carbon * CARBON_WEIGHT
    mass = np.where(answer.share > LEAST_SHARE, answer.share, 0.0) * (metal + carbon)
    part = mass / mass.sum(1, keepdims=True)
    zero = np.zeros(len(part))

    def of(*wanted: int) -> Array:
        return sum((part[:, system.phases.index(p)] for p in wanted if p in system.phases), zero)

    a = system.phases.index(AUSTENITE)
    there, weight = part[:, a] > 0.0, metal[:, a] + carbon[:, a]
    out = {
        "austenite": of(AUSTENITE),
        "ferrite": of(FERRITE),
        "carbide": of(*CARBIDES, VANADIUM_CARBIDE, TUNGSTEN_CARBIDE),
        "mc": of(VANADIUM_CARBIDE, TUNGSTEN_CARBIDE),
        "carbon_activity": np.exp(answer.mu),
        "C_in_austenite": np.where(there, 100.0 * carbon[:, a] / weight, np.nan),
    }
    for e in ALLOYING:
        if INDEX[e] in system.metals:
            j = system.metals.index(INDEX[e])
            value = 100.0 * answer.metals[:, a, j] * weights[j] / weight
            out[f"{e}_in_austenite"] = np.where(there, value, np.nan)
        else:
            out[f"{e}_in_austenite"] = np.where(there, 0.0, np.nan)
    return out


def _by_hand(out: dict[str, Array], i: int, wt: dict[str, float], temperature_c: float) -> None:
    """One composition by the other route, where the arrays did not close."""
    one = equilibrium_state(Composition({e: v for e, v in wt.items() if v > 0.0}), temperature_c)
    for name in ("austenite", "ferrite", "carbide", "mc", "carbon_activity"):
        out[name][i] = getattr(one, name)
    for e in ("C", *ALLOYING):
        out[f"{e}_in_austenite"][i] = one.austenite_wt.get(e, 0.0) if one.austenite_wt else np.nan


def _guess_ae3_k(wt: dict[str, Array]) -> Array:
    carbon = np.minimum(wt["C"], 0.8)
    guess = 910.0 - 203.0 * np.sqrt(carbon) + 45.0 * wt["Si"]
    guess = guess - 30.0 * wt["Mn"] - 15.0 * wt["Ni"] - 11.0 * wt["Cr"]
    return np.clip(guess, 680.0, 950.0) + ZERO_CELSIUS_K


def _guess_acm_k(wt: dict[str, Array]) -> Array:
    rich = 387.5 + 493.0 * wt["C"] - 61.45 * wt["C"] ** 2 + 30.0 * wt["Cr"]
    return np.clip(rich, 720.0, 1000.0) + ZERO_CELSIUS_K


def lines_many(wt: Columns) -> dict[str, Array]:
    """critical_lines of many steels: arrays `ae1_c`, `ae3_c`, `acm_c`, nan where there is no such line.

    Raises OutOfDomain as critical_lines does, if any one of the steels is out of domain.
    """
    columns = _columns(wt)
    u, y0, metals, phases = _atoms(columns)
    system = System(metals, phases, FERRITE)
    ae3 = _on_heating_c(solve_many(start(u, y0, _guess_ae3_k(columns), system), system))
    acm = np.full(len(y0), np.nan)
    sure = np.isfinite(ae3) & (y0 > LITTLE_CARBON)
    missed = np.zeros(len(y0), bool)
    for carbide in (p for p in CARBIDES if p in phases):
        kept = tuple(p for p in phases if p == carbide or p not in CARBIDES)
        system = System(metals, kept, carbide)
        answer = solve_many(start(u, y0, _guess_acm_k(columns), system), system)
        found = _on_heating_c(answer)
        if carbide == M6C:  # it may come only after the others have gone: critical_lines sorts that out
            comes = answer.converged & ~answer.on_heating
            sure &= ~(comes | (found > np.nan_to_num(acm)))
        drive = _other_carbides(answer, system, tuple(p for p in CARBIDES if p in phases and p != carbide))
        last = found >= np.nan_to_num(acm)
        missed = np.where(last, drive > 1e-6, missed)
        acm = np.fmax(acm, found)
    sure &= np.isfinite(acm) & ~missed
    out = {"ae1_c": np.minimum(ae3, acm), "ae3_c": ae3, "acm_c": acm}
    for i in np.flatnonzero(~sure):
        one = critical_lines(Composition({e: float(v[i]) for e, v in columns.items() if v[i] > 0.0}))
        for name in out:
            value = getattr(one, name)
            out[name][i] = np.nan if value is None else value
    return out


def _on_heating_c(answer: Answer) -> Array:
    """Temperatures at which the phase vanishes on heating; nan where none was found."""
    found = answer.converged & answer.on_heating
    return np.where(found, answer.temperature_k - ZERO_CELSIUS_K, np.nan)


def _other_carbides(answer: Answer, system: System, others: tuple[int, ...]) -> Array:
    """ln S of the most supersaturated of the carbides that were left out."""
    best = np.full(len(answer.mu), -np.inf)
    rows, m = rows_at(answer.temperature_k, system.metals)[0], len(system.metals)
    for phase in others:
        g = rows[:, phase * m : (phase + 1) * m]
        offered = np.exp(answer.ln_activity + CARBON_PER_METAL[phase] * answer.mu[:, None] - g)
        best = np.maximum(best, np.log(np.maximum(offered.sum(1), 1e-300)))
    return best


def carbon_activity_of_total(
    composition: Composition, carbon_total_wt: NDArray[np.float64], temperature_c: float
) -> Array:
    """Carbon activity (graphite 1) of a steel against its TOTAL carbon, carbides and ferrite allowed.

    The metals keep their proportions. Never falls with carbon: where two routes of solution meet (see
    flash.py) a step back of a thousandth or so is levelled. Same shape as `carbon_total_wt`. Raises
    OutOfDomain as equilibrium_state does.
    """
    carbon = np.asarray(carbon_total_wt, dtype=np.float64)
    flat = carbon.ravel()
    scale = (100.0 - flat) / (100.0 - composition["C"])
    wt = {e: composition[e] * scale for e in ALLOYING if composition[e] > 0.0}
    activity = states_many({"C": flat, **wt}, temperature_c)["carbon_activity"]
    rising = np.argsort(flat)
    activity[rising] = np.maximum.accumulate(activity[rising])
    return np.where(carbon > 0.0, activity.reshape(carbon.shape), 0.0)
