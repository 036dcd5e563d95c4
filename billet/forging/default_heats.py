"""How many heats a draw or an upset takes where the recipe does not say: what its reduction asks for."""

import math
from collections.abc import Mapping
from dataclasses import replace

from billet.forging.forge import forge
from billet.forging.measured import without_measured
from billet.forging.model import ForgedRow
from billet.forging.stack import build_stack
from billet.recipe.laid_bars import place_in
from billet.recipe.model import Draw, Recipe, Step, Upset
from billet.tables.forging import forging_rule

SLACK = 1e-9
MOST_HEATS = 50
"""What a recipe may say at most."""


def with_default_heats(recipe: Recipe) -> Recipe:
    """The recipe with the heats of every draw and upset that it leaves open, in all its bars.

    Raises RecipeError where the bar cannot be forged at all.
    """
    untold = {
        place_in(bar, f"steps[{index}].heats"): (bar, index)
        for bar, plan in recipe.parts
        for index, step in enumerate(plan.steps)
        if isinstance(step, Draw | Upset) and place_in(bar, f"steps[{index}].heats") in recipe.assumed
    }
    if not untold:
        return recipe
    planned = without_measured(recipe)
    forged = forge(planned, build_stack(planned))
    heats: dict[str | None, dict[int, int]] = {bar: {} for bar, _ in recipe.parts}
    for bar, index in untold.values():
        rows = (forged if bar is None else forged.bars[bar]).rows
        step = dict(recipe.parts)[bar].steps[index]
        heats[bar][index] = heats_for(step, rows[index], rows[index + 1])
    bars = {name: replace(plan, steps=_with(plan.steps, heats[name])) for name, plan in recipe.bars.items()}
    reckoned = tuple((place, heats[bar][index]) for place, (bar, index) in untold.items())
    return replace(recipe, bars=bars, steps=_with(recipe.steps, heats[None]), reckoned=reckoned)


def _with(steps: tuple[Step, ...], heats: Mapping[int, int]) -> tuple[Step, ...]:
    return tuple(
        replace(step, heats=heats[i]) if i in heats and isinstance(step, Draw | Upset) else step
        for i, step in enumerate(steps)
    )


def heats_for(step: Step, before: ForgedRow, after: ForgedRow) -> int:
    """Least number of equal heats none of which takes more of the section, or of the height or length
    that is forged, than common practice takes in one."""
    if isinstance(step, Upset):
        ratio = before.length_mm / after.length_mm
    else:
        height = before.height_mm / after.height_mm
        ratio = max(height, height * before.width_mm / after.width_mm)
    return heats_for_ratio(ratio)


def heats_for_ratio(ratio: float) -> int:
    """The same from how many times more there is before the step than after it."""
    most = float(forging_rule("heats")["taken_each_most_frac"])
    asked = math.ceil(math.log(max(ratio, 1.0)) / -math.log(1.0 - most) - SLACK)
    return min(max(asked, 1), MOST_HEATS)
