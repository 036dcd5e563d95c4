"""The sentence: a recipe in, one frozen plan out, from which everything else is read."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cached_property
from pathlib import Path
from typing import Any

from billet.contract.report import Report
from billet.diffusion.simulation import Metal, simulate_diffusion
from billet.forging.model import Forged
from billet.hardening.heat_treatment import HeatTreatment, answer
from billet.parse import forged_recipe
from billet.pattern.bar import SolidBar, solid_of
from billet.recipe.model import Recipe
from billet.report.compile import compile_report

__all__ = ["HeatTreatment", "Planned", "Source", "plan"]


@dataclass(frozen=True)
class Planned:
    """A recipe with all that was computed of it; page, JSON, sheets, study and count of bars read it.

    `recipe` is what was checked, `forged` its rows and events, `metal` the carbon and alloy after each
    step, `treatment` the decisions on the blade. It may be handed to many threads and it pickles; the
    report is worded when it is first asked for, and is not part of the pickle.
    """

    recipe: Recipe
    forged: Forged
    metal: Metal
    treatment: HeatTreatment

    @cached_property
    def report(self) -> Report:
        """The report of the contract. Compiling decides nothing, so twice gives the same."""
        return compile_report(self.recipe, self.forged, self.metal, self.treatment)

    @cached_property
    def solid(self) -> SolidBar:
        """The finished bar as a solid. Raises NotFollowed where it cannot be followed back."""
        return solid_of(self.recipe, self.forged, self.metal)

    def to_dict(self) -> dict[str, Any]:
        """The report as plain dicts and lists, ready for JSON."""
        return self.report.to_dict()

    def __getstate__(self) -> dict[str, Any]:
        """The four parts alone: what was derived from them is derived again."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


Source = Planned | Recipe | str | Path | Mapping[str, Any]
"""What a plan is asked of: a plan, a checked recipe, the path of a recipe file, or a mapping."""


def plan(source: Source, refine: int = 1) -> Planned:
    """Everything this tool knows of a recipe, computed once; of a plan, that plan itself.

    `refine` divides the cells and time steps of the diffusion, for a check of the grid.

    Raises RecipeError for a recipe that is refused, BilletError for what is no recipe at all.
    """
    if isinstance(source, Planned):
        return source
    recipe, forged = forged_recipe(source)
    metal = simulate_diffusion(recipe, forged, refine)
    return Planned(recipe, forged, metal, answer(recipe, forged, metal))
