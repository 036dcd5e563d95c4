"""Columns side by side as one piece: every height times the column's share of the width.

The one piece serves what is summed over metal: shares, means, how carbon is spread. Where layers lie, and
what moves between them, is asked of each column: carbon across a side seam is not followed.
"""

from collections.abc import Sequence
from dataclasses import replace

from billet.diffusion.profile import Profile, carbon_by_steel, joined, mean_carbon_wt
from billet.diffusion.transport import StepCarbon, Transported


def side_by_side(profiles: Sequence[Profile], shares: Sequence[float]) -> Profile:
    """One piece of all; itself where there is but one."""
    if len(profiles) == 1:
        return profiles[0]
    rows = min(len(profile.ratio) for profile in profiles)
    narrowed = [
        replace(profile, thickness_mm=profile.thickness_mm * share, ratio=profile.ratio[:rows])
        for profile, share in zip(profiles, shares, strict=True)
    ]
    return joined(narrowed)


def one_of(moved: Sequence[Transported], shares: Sequence[float]) -> Transported:
    """What moved in all columns as if in one bar; losses stay with the columns."""
    first = moved[0]
    if len(moved) == 1:
        return first
    steps = tuple(_step(step, shares) for step in zip(*(one.steps for one in moved), strict=True))
    outside = tuple(dict.fromkeys(fault for one in moved for fault in one.outside))
    return Transported(first.metals, steps, (), steps[-1].profile, outside)


def _step(steps: Sequence[StepCarbon], shares: Sequence[float]) -> StepCarbon:
    whole = side_by_side([step.profile for step in steps], shares)
    return StepCarbon(steps[0].step, mean_carbon_wt(whole), carbon_by_steel(whole), whole)
