"""The sentence: a recipe in, a report out."""

from billet.contract.report import Report
from billet.diffusion.simulation import simulate_diffusion
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.hardening.heat_treatment import HeatTreatment, answer
from billet.recipe.model import Recipe
from billet.report.compile import compile_report

__all__ = ["HeatTreatment", "plan"]


def plan(recipe: Recipe, refine: int = 1) -> Report:
    """Everything this tool knows of a recipe.

    `refine` divides the cells and time steps of the diffusion, for a check of the grid.
    """
    stack = build_stack(recipe)
    forged = forge(recipe, stack)
    metal = simulate_diffusion(recipe, forged, refine)
    answered = answer(recipe, forged, metal)
    return compile_report(recipe, forged, metal, answered)
