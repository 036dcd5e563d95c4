"""Every fire of the plan against burning and against the range in which the pair forges."""

from itertools import pairwise

from billet.contract.report import Range
from billet.contract.study import FireRow, ForgingStudy
from billet.contract.values import Fact, Reason
from billet.diffusion.simulation import Metal, highest_carbon_wt
from billet.forging.burning import forging_range
from billet.recipe.model import Draw, FireStep, Recipe, Upset
from billet.report.words import said


def forging_study(recipe: Recipe, metal: Metal) -> ForgingStudy:
    """One row a fire, and the forging range that the grades share."""
    shared = forging_range(recipe, frozenset(recipe.steels))
    if shared is None:
        why = said(Reason("study-no-forging-range"))
        return ForgingStudy(None, None, None, why, _fires(recipe, metal, None))
    low, high, low_by, high_by = shared
    told: dict[str, Fact] = {"low_c": low, "high_c": high, "low_by": low_by, "high_by": high_by}
    if low >= high:
        why = said(Reason("study-forging-ranges-miss", told))
        return ForgingStudy(None, low_by, high_by, why, _fires(recipe, metal, None))
    why = said(Reason("study-forging-range", told))
    return ForgingStudy((low, high), low_by, high_by, why, _fires(recipe, metal, (low, high)))


def _fires(recipe: Recipe, metal: Metal, shared: Range | None) -> tuple[FireRow, ...]:
    moved = metal.moved.steps
    steps = {after.step: (before, after) for before, after in pairwise(moved)}
    rows = []
    for step in recipe.steps:
        limit = metal.burning.get(step.number)
        if not isinstance(step, FireStep) or limit is None or step.number not in steps:
            continue
        before, after = steps[step.number]
        inside = None
        if shared is not None and isinstance(step, Draw | Upset):
            inside = shared[0] <= step.temperature_c <= shared[1]
        highest = highest_carbon_wt(before.profile, after.profile)
        margin_k = limit.limit_c - step.temperature_c
        row = FireRow(
            step.number, step.do, step.temperature_c, highest, limit.steel, limit.solidus_c,
            limit.limit_c, margin_k, inside,
        )  # fmt: skip
        rows.append(row)
    return tuple(rows)
