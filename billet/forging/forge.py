"""Forges the stack through all steps: sizes, masses and layers, and the events for carbon."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from billet.errors import Fault, RecipeError
from billet.forging import notices
from billet.forging.bar_forging import BarForging
from billet.forging.fit_check import fit_findings
from billet.forging.laying import MOST_COLUMNS, Bench, sides_of
from billet.forging.measured import outcome_findings, without_measured
from billet.forging.merging import merged_bar, merged_rows
from billet.forging.model import Bar, Column, Forged
from billet.forging.stack import Stack, build_stack
from billet.recipe.laid_bars import in_bar, making_order
from billet.recipe.model import (
    BarPlan,
    Blade,
    Layer,
    Recipe,
    Restack,
    SheetInfo,
)
from billet.recipe.sequence import MOST_TOGETHER, laid_after, layers_of

FORGED_WITHIN_MM = 0.05
"""A blade called forged must be reached by the last step to this (own construction)."""


def forge(recipe: Recipe, stack: Stack) -> Forged:
    """All rows from the cold stack to the last step, what happened in order, and the bar at the end.

    The bars of [bars] are forged first, each as a bar of its own.

    Raises RecipeError for a step that the bar before it does not allow.
    """
    made: dict[str, Forged] = {}
    for name in making_order(recipe.bars):
        part = recipe_of_bar(recipe, name)
        try:
            made[name] = _forged(part, build_stack(part), made)
        except RecipeError as error:
            raise RecipeError([in_bar(name, fault) for fault in error.faults]) from error
    forged = _forged(recipe, stack, made)
    _check_blade(recipe.blade, forged.final)
    laid = _steels_laid(recipe)
    found = [*notices.recipe_findings(recipe, laid, forged.final.steel_kg), *fit_findings(recipe)]
    of_bars = [notices.of_bar(name, f) for name, bar in made.items() for f in bar.findings]
    if any(step.measured is not None for _, plan in recipe.parts for step in plan.steps):
        found += outcome_findings(recipe, forge(without_measured(recipe), stack).final, forged.final)
    return replace(forged, findings=(*of_bars, *forged.findings, *found))


def recipe_of_bar(recipe: Recipe, name: str) -> Recipe:
    """A bar made first as a recipe of its own; what it lays itself stays in `bars`."""
    plan = recipe.bars[name]
    return replace(recipe, stack=plan.stack, steps=plan.steps, blade=None, sheet=SheetInfo())


def _forged(recipe: Recipe, stack: Stack, made: Mapping[str, Forged]) -> Forged:
    sides = sides_of(BarPlan(recipe.stack, recipe.steps), made)
    if len(sides) > MOST_COLUMNS + 1:
        text = f"Stack: more than {MOST_COLUMNS} bars side by side are not computed, got {len(sides) - 1}"
        raise RecipeError([Fault("stack.plates", text)])
    _check_work(recipe, made, len(sides) - 1)
    work = [
        BarForging(recipe, stack, Bench(stack.palette, made, 0.5 * (left + right), len(sides) - 1))
        for left, right in pairwise(sides)
    ]
    for one in work:
        for step in recipe.steps:
            one.do(step)
    columns = tuple(
        Column(left, right, tuple(one.rows), tuple(one.events), tuple(one.changes), one.final())
        for (left, right), one in zip(pairwise(sides), work, strict=True)
    )
    findings = notices.each_once([finding for one in work for finding in one.findings])
    return Forged(merged_rows(columns), columns, merged_bar(columns), findings, dict(made))


def _check_work(recipe: Recipe, made: Mapping[str, Forged], columns: int) -> None:
    """Raises RecipeError where bars side by side would ask for too much: every column has all its layers."""
    layers = {name: bar.final.layers_laid for name, bar in made.items()}
    laid = most = sum(layers_of(item, 0, layers) for item in recipe.stack.plates)
    for step in recipe.steps:
        laid = laid_after(step, laid, layers) if isinstance(step, Restack) else laid
        most = max(most, laid)
    if columns > 1 and columns * most > MOST_TOGETHER:
        rule = f"{columns} bars side by side of {most} layers are too much to follow"
        text = f"Stack: {rule}; their number times the layers must not be over {MOST_TOGETHER}"
        raise RecipeError([Fault("stack.plates", text)])


def _steels_laid(recipe: Recipe) -> set[str]:
    """Every steel of which a plate is laid anywhere."""
    lays = [item for _, plan in recipe.parts for item in plan.stack.plates]
    steps = [step for _, plan in recipe.parts for step in plan.steps if isinstance(step, Restack)]
    return {
        item.steel for item in (*lays, *(i for s in steps for i in s.lay or ())) if isinstance(item, Layer)
    }


def _check_blade(blade: Blade | None, bar: Bar) -> None:
    if blade is None:
        return
    thickness_mm, height_mm = blade.thickness_mm, bar.height_mm
    if blade.made == "forged" and abs(height_mm - thickness_mm) > FORGED_WITHIN_MM:
        rule = f"Blade: forged to thickness (made) is told, but the last step leaves {height_mm:.4g} mm"
        text = f"{rule}, not {thickness_mm:g}; a step must reach it"
        raise RecipeError([Fault("blade.thickness_mm", text)])
    if thickness_mm > height_mm + (FORGED_WITHIN_MM if blade.made == "forged" else 0.0):
        text = f"Blade: {thickness_mm:g} mm cannot be ground from a bar of {height_mm:.4g} mm"
        raise RecipeError([Fault("blade.thickness_mm", text)])
