"""Every fire of the plan against burning and against the range in which the pair forges."""

from collections.abc import Sequence
from itertools import pairwise

from billet.contract.report import Range
from billet.contract.study import FireRow, ForgingStudy
from billet.contract.values import Fact, Reason
from billet.diffusion.simulation import Metal, highest_carbon_wt
from billet.forging.burning import FORGED, forging_range
from billet.recipe.model import FireStep, Recipe, Step
from billet.report.words import said


def forging_study(recipe: Recipe, metal: Metal) -> ForgingStudy:
    """One row a fire, and the forging range that the grades share."""
    shared = forging_range(recipe.steels)
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
    """The fires of bars made first in the order in which they are made, then those of the bar itself."""
    parts: list[tuple[str | None, Metal]] = [*metal.bars.items(), (None, metal)]
    plans = dict(recipe.parts)
    return tuple(row for bar, own in parts for row in _fires_of(bar, plans[bar].steps, own, shared))


def _fires_of(
    bar: str | None, steps_of_bar: Sequence[Step], metal: Metal, shared: Range | None
) -> list[FireRow]:
    moved = metal.moved.steps
    steps = {after.step: (before, after) for before, after in pairwise(moved)}
    rows = []
    for step in steps_of_bar:
        limit = metal.burning.get(step.number)
        if not isinstance(step, FireStep) or limit is None or step.number not in steps:
            continue
        before, after = steps[step.number]
        inside = None
        if shared is not None and isinstance(step, FORGED):
            inside = shared[0] <= step.temperature_c <= shared[1]
        highest = highest_carbon_wt((before, after))
        margin_k = limit.limit_c - step.temperature_c
        row = FireRow(
            step.number, step.do, step.temperature_c, highest, limit.steel, limit.solidus_c,
            limit.limit_c, margin_k, inside, bar,
        )  # fmt: skip
        rows.append(row)
    return rows
