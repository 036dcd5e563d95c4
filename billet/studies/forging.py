"""Every fire of the plan against burning and against the range in which the pair forges."""

from collections.abc import Sequence
from itertools import pairwise

from billet import wording
from billet.contract.report import Range
from billet.contract.study import FireRow, ForgingStudy
from billet.diffusion.simulation import Metal, highest_carbon_wt
from billet.forging.burning import FORGED, forging_range
from billet.recipe.model import FireStep, Recipe, Step


def forging_study(recipe: Recipe, metal: Metal) -> ForgingStudy:
    """One row a fire, and the forging range that the grades share."""
    shared = forging_range(recipe, frozenset(recipe.steels))
    if shared is None:
        why = "no grade of this bar has a published forging range"
        return ForgingStudy(None, None, None, why, _fires(recipe, metal, None))
    low, high, low_by, high_by = shared
    if low >= high:
        why = (
            f"the published forging ranges do not meet: {low_by} from {wording.temperature(low)} up, "
            f"{high_by} to {wording.temperature(high)}"
        )
        return ForgingStudy(None, low_by, high_by, why, _fires(recipe, metal, None))
    told = (
        f"draw and upset between {wording.temperature_range(low, high)}: {low_by} sets the low end, "
        f"{high_by} the high end"
    )
    if low_by == high_by:
        told = f"draw and upset between {wording.temperature_range(low, high)}: {low_by} sets both ends"
    return ForgingStudy((low, high), low_by, high_by, told, _fires(recipe, metal, (low, high)))


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
        highest = highest_carbon_wt(before.profile, after.profile)
        margin_k = limit.limit_c - step.temperature_c
        row = FireRow(
            step.number, step.do, step.temperature_c, highest, limit.steel, limit.solidus_c,
            limit.limit_c, margin_k, inside, bar,
        )  # fmt: skip
        rows.append(row)
    return rows
