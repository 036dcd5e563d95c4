"""How many heats a draw or an upset takes where the recipe does not say: what its reduction asks for."""

import math
from dataclasses import replace

from billet.forging.forge import forge
from billet.forging.measured import without_measured
from billet.forging.model import ForgedRow
from billet.forging.stack import build_stack
from billet.recipe.model import Draw, Recipe, Step, Upset
from billet.tables.forging import forging_rule

SLACK = 1e-9
MOST_HEATS = 50
"""What a recipe may say at most."""


def with_default_heats(recipe: Recipe) -> Recipe:
    """The recipe with the heats of every draw and upset that it leaves open.

    Raises RecipeError where the bar cannot be forged at all.
    """
    untold = [
        index
        for index, step in enumerate(recipe.steps)
        if isinstance(step, Draw | Upset) and f"steps[{index}].heats" in recipe.assumed
    ]
    if not untold:
        return recipe
    planned = without_measured(recipe)
    rows = forge(planned, build_stack(planned)).rows
    heats = {i: heats_for(recipe.steps[i], rows[i], rows[i + 1]) for i in untold}
    steps = tuple(
        replace(step, heats=heats[i]) if i in heats and isinstance(step, Draw | Upset) else step
        for i, step in enumerate(recipe.steps)
    )
    reckoned = tuple((f"steps[{i}].heats", count) for i, count in heats.items())
    return replace(recipe, steps=steps, reckoned=reckoned)


def heats_for(step: Step, before: ForgedRow, after: ForgedRow) -> int:
    """Least number of equal heats none of which takes more of the section, or of the height or length
    that is forged, than common practice takes in one."""
    most = float(forging_rule("heats")["taken_each_most_frac"])
    if isinstance(step, Upset):
        ratio = before.length_mm / after.length_mm
    else:
        height = before.height_mm / after.height_mm
        ratio = max(height, height * before.width_mm / after.width_mm)
    asked = math.ceil(math.log(max(ratio, 1.0)) / -math.log(1.0 - most) - SLACK)
    return min(max(asked, 1), MOST_HEATS)
