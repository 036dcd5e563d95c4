"""How many heats a draw or an upset takes where the recipe does not say: what its reduction asks for."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from billet.forging.forge import forge
from billet.forging.model import ForgedRow
from billet.forging.stack import build_stack
from billet.recipe import limits
from billet.recipe.model import Draw, Recipe, Step, Upset
from billet.tables.forging import forging_rule

SLACK = 1e-9


def with_default_heats(recipe: Recipe, told: Mapping[str, Any]) -> Recipe:
    """The recipe with the heats of every draw and upset that `told`, the mapping as given, leaves open.

    `given` and `defaults_used` carry them; the recipe's number is still to be made anew. Raises
    RecipeError where the bar cannot be forged at all.
    """
    steps_told: Sequence[Any] = told.get("steps", ())
    untold = [
        index
        for index, step in enumerate(recipe.steps)
        if isinstance(step, Draw | Upset) and "heats" not in steps_told[index]
    ]
    if not untold:
        return recipe
    rows = forge(recipe, build_stack(recipe)).rows
    heats = {i: heats_for(recipe.steps[i], rows[i], rows[i + 1]) for i in untold}
    given_steps = [
        {**given, "heats": heats[i]} if i in heats else given for i, given in enumerate(recipe.given["steps"])
    ]
    first = limits.DEFAULTS["heats"]
    said = {f"steps[{i}].heats = {first}": f"steps[{i}].heats = {n}" for i, n in heats.items()}
    return replace(
        recipe,
        steps=tuple(
            replace(step, heats=heats[i]) if i in heats and isinstance(step, Draw | Upset) else step
            for i, step in enumerate(recipe.steps)
        ),
        given={**recipe.given, "steps": given_steps},
        defaults_used=tuple(said.get(entry, entry) for entry in recipe.defaults_used),
    )


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
    return min(max(asked, 1), limits.HEATS[1])
