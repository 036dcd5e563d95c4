"""Where the formulas behind a forging go beyond what they were fitted to, and what rests on memory."""

from collections.abc import Callable, Sequence
from typing import Any

from billet import wording
from billet.contract.report import Notice
from billet.formulas.heating import heating_through_min
from billet.formulas.scaling import LOSS_BAND_FACTOR, metal_loss_mm
from billet.published import outside_fit
from billet.recipe.model import FireStep, Recipe


def fit_notices(recipe: Recipe) -> list[Notice]:
    """One notice for each formula that is used outside its range, and one on the scale itself."""
    fires = [step for step in recipe.steps if isinstance(step, FireStep)]
    if not fires:
        return []
    found: list[Notice] = []
    if recipe.scale_factor > 0.0 and any(step.atmosphere != "sealed" for step in fires):
        found.append(_scale_from_memory())
        found += _outside(fires, metal_loss_mm, "temperature_c", "the loss to scale")
    found += _outside(fires, heating_through_min, "target_c", "the time of heating through")
    return found


def _scale_from_memory() -> Notice:
    text = (
        "Forge: the loss to scale rests on remembered constants, good to a factor of "
        f"{LOSS_BAND_FACTOR:g} either way; weigh a bar before and after a fire and set scale_factor"
    )
    return Notice("scale-from-memory", "note", "forge.scale_factor", text)


def _outside(
    fires: Sequence[FireStep], formula: Callable[..., Any], argument: str, what: str
) -> list[Notice]:
    faults = [(step, outside_fit(formula, {argument: step.temperature_c})) for step in fires]
    outside = [(step, found[0]) for step, found in faults if found]
    if not outside:
        return []
    first, fault = outside[0]
    numbers = ", ".join(str(step.number) for step, _ in outside)
    steps = f"Step {numbers}" if len(outside) == 1 else f"Steps {numbers}"
    known = wording.temperature_range(fault.low, fault.high)
    text = f"{steps}: {what} is known for {known} and is only carried on beyond it"
    return [Notice("outside-fit", "note", f"steps[{first.number - 1}].temperature_c", text)]
