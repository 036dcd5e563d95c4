"""Where the formulas behind a forging go beyond what they were fitted to, and what rests on memory."""

from collections.abc import Callable, Sequence
from typing import Any

from billet.contract.values import Fact, Finding, Reason
from billet.forging.notices import of_bar
from billet.formulas.heating import heating_through_min
from billet.formulas.scaling import LOSS_BAND_FACTOR, metal_loss_mm
from billet.published import Formula, outside_fit
from billet.recipe.model import FireStep, Recipe


def fit_findings(recipe: Recipe) -> list[Finding]:
    """One finding for each formula that is used outside its range in a bar, and one on the scale itself."""
    found: list[Finding] = []
    scaled = False
    for bar, plan in recipe.parts:
        fires = [step for step in plan.steps if isinstance(step, FireStep)]
        own: list[Finding] = []
        if recipe.scale_factor > 0.0 and any(step.atmosphere != "sealed" for step in fires):
            scaled = True
            own += _outside(fires, metal_loss_mm, "temperature_c")
        own += _outside(fires, heating_through_min, "target_c")
        found += own if bar is None else [of_bar(bar, finding) for finding in own]
    if not scaled:
        return found
    scale = Reason("scale-from-memory", {"factor": LOSS_BAND_FACTOR})
    return [Finding(scale, "note", "forge.scale_factor"), *found]


def _outside(fires: Sequence[FireStep], formula: Callable[..., Any], argument: str) -> list[Finding]:
    faults = [(step, outside_fit(formula, {argument: step.temperature_c})) for step in fires]
    outside = [(step, found[0]) for step, found in faults if found]
    if not outside:
        return []
    first, fault = outside[0]
    entry: Formula = formula.formula  # type: ignore[attr-defined]
    values: dict[str, Fact] = {
        "formula": f"{entry.module}.{entry.name}",
        "steps": tuple(step.number for step, _ in outside),
        "low_c": fault.low,
        "high_c": fault.high,
    }
    return [Finding(Reason("outside-fit", values), "note", f"steps[{first.number - 1}].temperature_c")]
