"""Which of the formulas that decide were used outside the range that they were fitted for.

Asked once, when the report is put together, from the values that stand in its rows: no formula keeps
count of its calls, and a plan takes no longer for it.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from billet.contract.forging_rows import ScheduleRow, SteelRow
from billet.contract.hardening_rows import HardeningRow, HardeningSteel
from billet.contract.values import Fact, Finding, Reason
from billet.formulas.activity import interaction_uhrenius
from billet.formulas.diffusion import substitutional_diffusivity_m2_s
from billet.formulas.equilibrium import critical_lines
from billet.formulas.grain import austenite_grain_um
from billet.formulas.hardenability import ideal_diameter_in
from billet.formulas.hardness import hardness_with_retained_austenite, martensite_hardness_hrc
from billet.formulas.martensite import ms_van_bohemen_c
from billet.formulas.solidus import solidus_c
from billet.formulas.steel_heat import elongation_ec3
from billet.formulas.tempering import tempered_martensite_hv
from billet.published import Formula, OutsideFit, outside_fit
from billet.report.hot_size import measured_at_c

AnyFormula = Callable[..., Any]
OF_EVERY_METAL: tuple[AnyFormula, ...] = (solidus_c,)
"""Take the analysis that a steel has in the bar."""
OF_A_HARDENABLE_METAL: tuple[AnyFormula, ...] = (critical_lines,)
"""The same, for a steel whose critical temperatures the plan gives."""
OF_WHAT_IS_DISSOLVED: tuple[AnyFormula, ...] = (
    ms_van_bohemen_c,
    martensite_hardness_hrc,
    hardness_with_retained_austenite,
    ideal_diameter_in,
)
"""Take what austenite holds at the hardening heat."""
OF_CARBON_ALONE: tuple[AnyFormula, ...] = (tempered_martensite_hv, austenite_grain_um)
"""Take the carbon of a hardenable metal; that their temperatures lie outside is told where they are used:
tempers under the model's range rest on printed rows, and grain is told as an order of magnitude."""
OF_A_FIRE: tuple[AnyFormula, ...] = (interaction_uhrenius, substitutional_diffusivity_m2_s)
OF_A_HOT_BAR: tuple[AnyFormula, ...] = (elongation_ec3,)
"""Take the temperature of a fire, or of the normalising and the soak that the plan advises."""
LEAST_TOLD = 0.02
"""In widths of the range; what lies out by less is lost in rounding."""


@dataclass(frozen=True)
class _Used:
    """One value that a formula was given: by what, where in the report."""

    who: str
    where: str
    fault: OutsideFit

    @property
    def beyond(self) -> float:
        """How far outside, in widths of the range."""
        fault = self.fault
        width = fault.high - fault.low or 1.0
        return max(fault.low - fault.value, fault.value - fault.high) / width


def fitted_range_findings(
    schedule: Sequence[ScheduleRow], steels: Sequence[SteelRow], hardening: HardeningRow
) -> list[Finding]:
    """One finding for each formula and input that lies outside, told at the value farthest out."""
    hardened = {row.steel: row for row in hardening.per_steel}
    found: dict[tuple[str, str], list[_Used]] = {}
    for formula, used in _all_used(schedule, steels, hardened, hardening):
        entry: Formula = formula.formula  # type: ignore[attr-defined]
        found.setdefault((f"{entry.module}.{entry.name}", used.fault.name), []).append(used)
    return [_finding(key, uses) for (key, _), uses in found.items()]


def _all_used(
    schedule: Sequence[ScheduleRow],
    steels: Sequence[SteelRow],
    hardened: Mapping[str, HardeningSteel],
    hardening: HardeningRow,
) -> Iterator[tuple[AnyFormula, _Used]]:
    for steel in steels:
        row = hardened.get(steel.steel)
        where = f"steels.{steel.steel}"
        yield from _outside(OF_EVERY_METAL, steel.wt, steel.steel, where)
        if row is None or row.ae1_c is None:
            continue
        yield from _outside(OF_A_HARDENABLE_METAL, steel.wt, steel.steel, where)
        yield from _outside(OF_CARBON_ALONE, {"C": steel.wt.get("C", 0.0)}, steel.steel, where)
        yield from _outside(OF_WHAT_IS_DISSOLVED, _dissolved(steel, row), steel.steel, where)
    for step in schedule:
        if step.temperature_c is not None:
            where = f"steps[{step.step - 1}].temperature_c"
            yield from _outside(OF_A_FIRE, {"temperature_c": step.temperature_c}, f"step {step.step}", where)
            hot_c = measured_at_c(step.temperature_c, step.stop_c)
            yield from _outside(OF_A_HOT_BAR, {"temperature_c": hot_c}, f"step {step.step}", where)
    for what, heats in (("normalising", hardening.normalise_c), ("the soak", (hardening.set_point_c,))):
        for heat_c in heats:
            if heat_c is not None:
                yield from _outside((interaction_uhrenius,), {"temperature_c": heat_c}, what, "hardening")


def _dissolved(steel: SteelRow, row: HardeningSteel) -> dict[str, float]:
    """Every input of the formulas by name; what is not known stays out and is not asked for."""
    if row.austenite_carbon_wt is None:
        return {}
    carbon = row.austenite_carbon_wt.value
    values = {**steel.wt, "C": carbon, "carbon_wt": carbon}
    if row.retained_austenite is not None:
        values["retained_austenite_frac"] = row.retained_austenite.value
    return values


def _outside(
    formulas: tuple[AnyFormula, ...], values: Mapping[str, float], who: str, where: str
) -> Iterator[tuple[AnyFormula, _Used]]:
    for formula in formulas:
        for fault in outside_fit(formula, values):
            used = _Used(who, where, fault)
            if used.beyond >= LEAST_TOLD:
                yield formula, used


def _finding(key: str, uses: list[_Used]) -> Finding:
    farthest = max(uses, key=lambda used: used.beyond)
    fault = farthest.fault
    values: dict[str, Fact] = {
        "formula": key,
        "input": fault.name,
        "value": fault.value,
        "low": fault.low,
        "high": fault.high,
        "who": tuple(dict.fromkeys(used.who for used in uses)),
        "farthest": farthest.who,
    }
    return Finding(Reason("outside-fitted-range", values), "note", farthest.where)
