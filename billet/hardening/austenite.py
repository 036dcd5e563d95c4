"""What a steel is at a heat after a short soak, and once quenched from it, in every sample."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from billet.formulas.equilibrium import states_many
from billet.formulas.hardness import quenched_hardness_of
from billet.formulas.martensite import ms_van_bohemen_of, retained_austenite_of
from billet.hardening.critical_lines import held_inside, ramp
from billet.hardening.samples import Array, FormulaErrors
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start

ROOM_C = 20.0


@dataclass(frozen=True)
class AusteniteSamples:
    """(samples,) each. Amounts are mass fractions at equilibrium but for `carbide`, which is what the soak
    leaves; `dissolved_wt` is the analysis of the austenite after the soak, wt% by element.

    Where no austenite is there, carbon dissolved, hardness and retained austenite are 0.
    """

    austenite: Array
    ferrite: Array
    carbide_at_equilibrium: Array
    equilibrium_carbon_wt: Array
    dissolved_wt: Mapping[str, Array]
    carbide: Array
    ms_c: Array
    retained_austenite: Array
    hrc: Array


def austenitised(
    wt: Mapping[str, Array], heat_c: Array, start: Start, errors: FormulaErrors, bath_c: float = ROOM_C
) -> AusteniteSamples:
    """State at `heat_c` after a soak from this structure, then quenched to `bath_c`.

    Analyses over 5 % chromium or 2 % W + Mo + V are held there. Raises OutOfDomain under 450 C.
    """
    inside = held_inside(wt)
    found = states_many({e: v for e, v in inside.items() if e == "C" or v.any()}, heat_c)
    there = found["austenite"] > 0.0
    upper = np.where(there, found["C_in_austenite"], 0.0)
    carbon, carbide = _dissolved(wt, found, upper, start, errors)
    dissolved = {
        element.removesuffix("_in_austenite"): np.where(there, values, 0.0)
        for element, values in found.items()
        if element.endswith("_in_austenite")
    }
    dissolved["C"] = carbon
    ms = ms_van_bohemen_of(dissolved) + errors.ms_k
    retained = np.where(there, retained_austenite_of(dissolved, ms, bath_c), 0.0)
    soft = float(decision_numbers("state")["ferrite_hrc"])
    hard = quenched_hardness_of(carbon, retained) + errors.hrc
    hrc = np.where(there, (1.0 - found["ferrite"]) * hard + found["ferrite"] * soft, soft)
    return AusteniteSamples(
        found["austenite"], found["ferrite"], found["carbide"], upper, dissolved, carbide, ms, retained, hrc
    )


def _dissolved(
    wt: Mapping[str, Array],
    found: Mapping[str, Array],
    upper: Array,
    start: Start,
    errors: FormulaErrors,
) -> tuple[Array, Array]:
    """Carbon dissolved after the soak, and the carbide that it leaves. Equilibrium is the upper end.

    The error of the carbide line counts only as far as there is carbide to be in error about.
    """
    shares = decision_numbers("state")
    alloyed = carbide_former(wt)
    least = (1.0 - alloyed) * shares[f"{start}_plain"] + alloyed * shares[f"{start}_alloyed"]
    share = least + (1.0 - least) * errors.soak
    some = ramp(found["carbide"], 0.0, shares["carbide_certain_frac"])
    carbon = np.clip(share * (upper + some * errors.dissolved_wt), 0.0, np.maximum(wt["C"], upper))
    held = found["austenite"] / shares["carbon_in_cementite_wt"]
    return carbon, np.maximum(found["carbide"] + held * (upper - carbon), 0.0)


def carbide_former(wt: Mapping[str, Array]) -> Array:
    """How far a steel's carbide is alloyed and slow to dissolve, 0 to 1: (samples,). Own construction."""
    numbers = decision_numbers("carbide_former")
    zero = np.zeros(len(wt["C"]))
    amount = sum((wt.get(e, zero) / scale for e, scale in numbers["scale_wt"].items()), zero)
    return ramp(amount, *numbers["ramp"])


def dissolved_error_wt(wt: Mapping[str, Array]) -> Array:
    """Nine-in-ten error of the carbon dissolved beside carbide: (samples,). [wt%]"""
    numbers = decision_numbers("state")
    alloyed = carbide_former(wt)
    found: Array = (1.0 - alloyed) * numbers["dissolved_error_wt"] + alloyed * numbers[
        "dissolved_error_alloyed_wt"
    ]
    return found
