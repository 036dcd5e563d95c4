"""What a steel is at a temperature: at equilibrium, after a short soak, and once quenched from there."""

import math
from dataclasses import dataclass

from billet import wording
from billet.composition import Composition
from billet.contract.report import Estimate
from billet.errors import OutOfDomain
from billet.formulas.equilibrium import (
    CriticalLines,
    EquilibriumState,
    critical_lines,
    equilibrium_state,
    outside_range,
)
from billet.formulas.hardness import hardness_with_retained_austenite, martensite_hardness_hrc
from billet.formulas.martensite import (
    ms_van_bohemen_c,
    retained_austenite_koistinen_marburger,
    retained_austenite_van_bohemen,
)
from billet.hardening.layer import forms_alloy_carbide, is_austenitic, is_high_alloy
from billet.recipe.melting import melts_from_c
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start

ROOM_C = 20.0
LEAST_AUSTENITE_FRAC = 0.01


@dataclass(frozen=True)
class EquilibriumAmounts:
    """Mass fractions 0 to 1; carbon of the austenite in wt%, None where there is none."""

    austenite: float
    ferrite: float
    carbide: float
    austenite_carbon_wt: float | None


@dataclass(frozen=True)
class AfterSoak:
    """What a short soak has dissolved. `austenite` is the austenite's analysis at the middle value."""

    austenite_carbon_wt: Estimate
    carbide: Estimate
    austenite: Composition


@dataclass(frozen=True)
class SteelState:
    """A steel at a temperature and quenched from it; None where nothing sound is known (see notices)."""

    temperature_c: float
    start: Start
    ae1_c: Estimate | None
    ae3_c: Estimate | None
    acm_c: Estimate | None
    equilibrium: EquilibriumAmounts | None
    after_soak: AfterSoak | None
    ms_c: Estimate | None
    retained_austenite: Estimate | None
    hrc: Estimate | None
    notices: tuple[str, ...]


def austenitised_state(
    composition: Composition, temperature_c: float, start: Start = "normalised", bath_c: float = 60.0
) -> SteelState:
    """State at `temperature_c` after a soak from this structure, then quenched to 20 C.

    The upper end of retained austenite stands at `bath_c`, for a blade tempered straight from the oil.
    Raises OutOfDomain under 450 C and for what is no temperature. Above
    the solidus and over 5 % chromium nothing is computed.
    """
    if is_austenitic(composition):
        return _not_computed(temperature_c, start, "stays austenite at every temperature: it does not harden")
    if is_high_alloy(composition):
        why = (
            "no computed value: over 5 % chromium or 2 % W + Mo + V the low-alloy formulas do not hold; "
            "use the published range and hardness of the grade"
        )
        return _not_computed(temperature_c, start, why)
    if not math.isfinite(temperature_c):
        raise OutOfDomain("temperature_c", temperature_c, "a finite number")
    melts_c = melts_from_c(composition)
    if temperature_c >= melts_c:
        why = f"no computed value: it begins to melt at about {wording.temperature(melts_c)}"
        return _not_computed(temperature_c, start, why)
    found = equilibrium_state(composition, temperature_c)
    ae1, ae3, acm = line_estimates(critical_lines(composition))
    amounts = EquilibriumAmounts(
        found.austenite,
        found.ferrite,
        found.carbide,
        found.austenite_wt.get("C") if found.austenite_wt else None,
    )
    notices = (*_too_hot(temperature_c, melts_c), *_notices(composition, found))
    if found.austenite < LEAST_AUSTENITE_FRAC:
        cold = "no austenite at this temperature: it does not harden from here"
        return SteelState(
            temperature_c, start, ae1, ae3, acm, amounts, None, None, None, None, (cold, *notices)
        )
    soaked = _soaked(composition, found, start)
    ms, retained = _martensite(soaked, bath_c)
    hrc = _hardness(soaked, retained, found.ferrite)
    return SteelState(temperature_c, start, ae1, ae3, acm, amounts, soaked, ms, retained, hrc, notices)


def _too_hot(temperature_c: float, melts_c: float) -> tuple[str, ...]:
    if temperature_c <= melts_c - decision_numbers("burning")["below_solidus_k"]:
        return ()
    return (f"it may burn here: it begins to melt at about {wording.temperature(melts_c)}",)


def line_estimates(lines: CriticalLines) -> tuple[Estimate | None, Estimate | None, Estimate | None]:
    """Ae1, Ae3 and Acm with their bands. [C]"""
    errors = decision_numbers("state")
    return (
        _around(lines.ae1_c, errors["ae1_error_k"]),
        _around(lines.ae3_c, errors["ae3_error_k"]),
        _around(lines.acm_c, errors["acm_error_k"]),
    )


def _around(value: float | None, error: float) -> Estimate | None:
    return None if value is None else Estimate(value, value - error, value + error)


def _not_computed(temperature_c: float, start: Start, why: str) -> SteelState:
    return SteelState(temperature_c, start, None, None, None, None, None, None, None, None, (why,))


def _notices(composition: Composition, found: EquilibriumState) -> tuple[str, ...]:
    told = [
        f"{o.name} {wording.wt(o.value)} lies outside {wording.wt(o.low)} to {wording.wt(o.high)}, "
        "the range this was tested on"
        for o in outside_range(composition)
    ]
    if found.ferrite > LEAST_AUSTENITE_FRAC and found.austenite > LEAST_AUSTENITE_FRAC:
        told.append(f"{wording.percent(found.ferrite)} ferrite is left: it stays soft")
    return tuple(told)


def _soaked(composition: Composition, found: EquilibriumState, start: Start) -> AfterSoak:
    """Equilibrium is the upper end of what dissolves; how much less, is from memory."""
    shares = decision_numbers("state")
    kind = "alloyed" if forms_alloy_carbide(composition) else "plain"
    share = shares[f"{start}_{kind}"]
    error = shares["dissolved_error_alloyed_wt" if kind == "alloyed" else "dissolved_error_wt"]
    upper = found.austenite_wt["C"]
    total = composition["C"]
    low = share * max(upper - error, 0.0)
    has_carbide = found.carbide > 0.0 or share < 1.0
    high = min(upper + error, max(total, upper)) if has_carbide else upper
    value = 0.5 * (share + 1.0) * upper
    austenite = Composition({**dict(found.austenite_wt), "C": value})
    unit = _carbide_for_carbon(composition, found)
    carbide = Estimate(
        found.carbide + unit * (upper - value), found.carbide, found.carbide + unit * (upper - low)
    )
    return AfterSoak(Estimate(value, min(low, value), max(high, value)), carbide, austenite)


def _carbide_for_carbon(composition: Composition, found: EquilibriumState) -> float:
    """Mass fraction of carbide that holds back 1 wt% of the austenite's carbon (cementite: 6.7 %)."""
    return found.austenite / float(decision_numbers("state")["carbon_in_cementite_wt"])


def _martensite(soaked: AfterSoak, bath_c: float) -> tuple[Estimate, Estimate]:
    carbon = soaked.austenite_carbon_wt
    poor, middle, rich = (soaked.austenite.with_carbon(c) for c in (carbon.low, carbon.value, carbon.high))
    error = decision_numbers("state")["ms_error_k"]
    ms = Estimate(ms_van_bohemen_c(middle), ms_van_bohemen_c(rich) - error, ms_van_bohemen_c(poor) + error)
    least = min(_retained(poor, ROOM_C), retained_austenite_koistinen_marburger(ms.high, ROOM_C))
    most = max(_retained(rich, bath_c), retained_austenite_koistinen_marburger(ms.low, ROOM_C))
    value = _retained(middle, ROOM_C)
    return ms, Estimate(value, min(least, value), max(most, value))


def _retained(austenite: Composition, quench_c: float) -> float:
    if ms_van_bohemen_c(austenite) <= quench_c:
        return 1.0
    return retained_austenite_van_bohemen(austenite, quench_c)


def _hardness(soaked: AfterSoak, retained: Estimate, ferrite: float) -> Estimate:
    """Martensite of the dissolved carbon, less retained austenite and ferrite. +-1.5 HRC is ours."""
    carbon, error = soaked.austenite_carbon_wt, decision_numbers("state")["hrc_error"]
    soft = float(decision_numbers("state")["ferrite_hrc"])

    def mixed(carbon_wt: float, austenite_frac: float) -> float:
        hard = hardness_with_retained_austenite(martensite_hardness_hrc(carbon_wt), austenite_frac)
        return (1.0 - ferrite) * hard + ferrite * soft

    value = mixed(carbon.value, retained.value)
    ends = [mixed(carbon.low, retained.low), mixed(carbon.high, retained.high)]
    return Estimate(value, min(*ends, value) - error, max(*ends, value) + error)
