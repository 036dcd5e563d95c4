"""What was measured after a step takes the place of what was planned, and the rest goes on from there."""

from dataclasses import replace
from typing import NoReturn

from billet.contract.values import Fact, Finding, Reason
from billet.errors import Fault, RecipeError
from billet.forging.events import Event, Forge
from billet.forging.model import Bar
from billet.forging.notices import of_step, place
from billet.forging.pile import Piece, Pile
from billet.recipe.bar_plan import Measured
from billet.recipe.model import Draw, Recipe, Step
from billet.tables.forging import forging_rule

SAME_FRAC = 1e-3
"""A bar that comes out as long as planned to this is not told (own construction)."""


def without_measured(recipe: Recipe) -> Recipe:
    """The recipe as it was planned."""
    return replace(recipe, steps=tuple(replace(step, measured=None) for step in recipe.steps))


def as_measured(pile: Pile, step: Step, told: Measured) -> tuple[list[Event], list[Finding]]:
    """Change the pile to what was measured. The metal stays: two sizes rule, the third follows from it.

    Layers stretch alike, as in forging. Raises RecipeError for a bar that cannot be.
    """
    if pile.loose:
        return [], [Finding(Reason("measured-loose", of_step(step)), "caution", place(step))]
    planned = (pile.height_mm, pile.width_mm, pile.length_mm)
    cut_mm = told.cut_away_mm or 0.0
    if cut_mm >= pile.length_mm:
        _refuse(
            step, "cut_away_mm", f"the bar is {pile.length_mm:.5g} mm long, {cut_mm:g} mm cannot be cut away"
        )
    pile.lost.trim += pile.kg_mm2 * pile.side_mm * cut_mm
    pile.length_mm -= cut_mm
    volume = pile.height_mm * pile.width_mm * pile.length_mm
    height, width, length = _sizes(told, pile.height_mm, pile.width_mm, volume)
    ratio = _reshape(pile, height, width, length)
    values = of_step(
        step, height_mm=height, width_mm=width, length_mm=length, cut_away_mm=cut_mm,
        planned_height_mm=planned[0], planned_width_mm=planned[1], planned_length_mm=planned[2],
    )  # fmt: skip
    found = [Finding(Reason("measured", values), "note", place(step)), *_checked(step, told, length)]
    return ([Forge(step.number, ratio)] if ratio != 1.0 else []), found


def _sizes(told: Measured, height: float, width: float, volume: float) -> tuple[float, float, float]:
    """Height, width and length; what was not measured follows from the volume, the width staying first."""
    if told.height_mm is not None:
        height = told.height_mm
        if told.width_mm is None and told.length_mm is not None:
            return height, volume / (height * told.length_mm), told.length_mm
        width = told.width_mm if told.width_mm is not None else width
        return height, width, volume / (height * width)
    width = told.width_mm if told.width_mm is not None else width
    if told.length_mm is not None:
        return volume / (width * told.length_mm), width, told.length_mm
    return height, width, volume / (height * width)


def _reshape(pile: Pile, height: float, width: float, length: float) -> float:
    """Give the pile its sizes; returns by how much the layers became thicker."""
    across, side = (width, height) if pile.on_edge else (height, width)
    ratio = across / pile.layers_mm
    pile.pieces = [Piece(piece.names, [mm * ratio for mm in piece.mm]) for piece in pile.pieces]
    pile.side_mm, pile.length_mm = side, length
    return ratio


def _checked(step: Step, told: Measured, follows_mm: float) -> list[Finding]:
    """Where all three were measured, what the third says."""
    if told.height_mm is None or told.width_mm is None or told.length_mm is None:
        return []
    off = told.length_mm / follows_mm - 1.0
    if abs(off) <= forging_rule("measured")["volume_frac"]:
        return []
    values = of_step(step, length_mm=told.length_mm, follows_mm=follows_mm, off_frac=off)
    return [Finding(Reason("measured-check", values), "caution", place(step))]


def outcome_findings(recipe: Recipe, planned: Bar, now: Bar) -> list[Finding]:
    """What the bar comes to after what was measured, and how the last draw would still reach its length."""
    last_measured = max(i for i, step in enumerate(recipe.steps) if step.measured is not None)
    draws = [s for s in recipe.steps[last_measured + 1 :] if isinstance(s, Draw) and s.height_mm is not None]
    off = now.length_mm / planned.length_mm - 1.0
    if not draws or abs(off) <= SAME_FRAC:
        return []
    last = draws[-1]
    values: dict[str, Fact] = {
        "step": last.number,
        "do": last.do,
        "length_mm": now.length_mm,
        "planned_mm": planned.length_mm,
        "draw_to_mm": float(last.height_mm or 0.0) * (1.0 + off),
    }
    code = "measured-longer" if off > 0.0 else "measured-shorter"
    return [Finding(Reason(code, values), "note", place(last))]


def _refuse(step: Step, key: str, message: str) -> NoReturn:
    where = f"steps[{step.number - 1}].measured.{key}"
    raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
