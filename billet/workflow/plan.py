"""The sentence: a recipe in, a report out."""

from billet.workflow.answer import Answered, answer
from billet.workflow.compile_report import compile_report
from billet.workflow.forge import forge
from billet.workflow.metal import carry
from billet.workflow.recipe_model import Recipe
from billet.workflow.report import Report
from billet.workflow.stack import build_stack

__all__ = ["Answered", "plan"]


def plan(recipe: Recipe, refine: int = 1) -> Report:
    """Everything this tool knows of a recipe.

    `refine` divides the cells and time steps of the diffusion, for a check of the grid.
    """
    stack = build_stack(recipe)
    forged = forge(recipe, stack)
    metal = carry(recipe, forged, refine)
    answered = answer(recipe, forged, metal)
    return compile_report(recipe, forged, metal, answered)
