"""Turns the pile after a step into a row of the schedule."""

import math
from dataclasses import dataclass, field
from itertools import chain

from billet.contract.forging_rows import HeatSize, LayerSize, LayerSum, MarksRow
from billet.contract.forging_rows import Lost as LostRow
from billet.forging.cut_shapes import MarkRow
from billet.forging.model import ForgedRow
from billet.forging.pile import Lost, Pile
from billet.recipe.model import Atmosphere, FireStep, Step

UM_PER_MM = 1000.0
MOST_LISTED = 400


@dataclass
class StepDetails:
    """What a step adds to its row beside the state of the pile."""

    layer_sum: LayerSum
    each_heat: tuple[HeatSize, ...] = ()
    fire_min: float | None = None
    piece_mm: float | None = None
    cut_marks_mm: tuple[float, ...] = ()
    marks: tuple[MarkRow, ...] = ()
    reduction: float | None = None
    planned_mm: tuple[float, float, float] | None = None
    lost: Lost = field(default_factory=Lost)


def row_of(pile: Pile, step: Step | None, told: StepDetails, all_laid_kg: float) -> ForgedRow:
    """The row; `all_laid_kg` is the mass of every plate laid so far, of which the yield is told."""
    mass_kg = pile.mass_kg
    visible_um = [mm * UM_PER_MM for mm in pile.visible_mm()]
    lost = told.lost
    temperature_c, minutes, heats, atmosphere = _fire_of(step)
    return ForgedRow(
        step=step.number if step else 0,
        do=step.do if step else "stack",
        note=step.note if step else None,
        temperature_c=temperature_c,
        minutes=minutes,
        heats=heats,
        fire_min=told.fire_min,
        atmosphere=atmosphere,
        height_mm=pile.height_mm,
        width_mm=pile.width_mm,
        length_mm=pile.length_mm,
        solid_height_mm=pile.solid_height_mm,
        each_heat=told.each_heat,
        loose=pile.loose,
        pieces=len(pile.pieces),
        piece_mm=told.piece_mm,
        cut_marks_mm=told.cut_marks_mm,
        marks=tuple(MarksRow(row.face, row.across_mm, row.along_mm) for row in told.marks),
        mass_kg=mass_kg,
        lost_kg=LostRow(lost.scale, lost.grind, lost.trim, lost.kerf, lost.left_over, lost.cut),
        added_kg=lost.added,
        yield_=mass_kg / all_laid_kg,
        layers_laid=pile.laid,
        layers_visible=len(visible_um),
        layer_um=layer_size(visible_um),
        skin_um=(visible_um[0], visible_um[-1]),
        mass_share=_shares(pile),
        reduction=told.reduction,
        layer_sum=told.layer_sum,
        alike=pile.alike,
        layers=() if pile.alike else _listed(pile),
        planned_mm=told.planned_mm,
    )


def layer_size(visible_um: list[float]) -> LayerSize:
    """Mean, thinnest and thickest without the outermost on each side (of three layers or more)."""
    inner = visible_um[1:-1] or visible_um
    return LayerSize(math.fsum(inner) / len(inner), min(inner), max(inner))


def _fire_of(step: Step | None) -> tuple[float | None, float | None, int | None, Atmosphere | None]:
    if isinstance(step, FireStep):
        return step.temperature_c, step.minutes, step.heats, step.atmosphere
    return None, None, None, None


def _shares(pile: Pile) -> dict[str, float]:
    kg = pile.steel_kg()
    total = math.fsum(kg.values())
    return {name: value / total for name, value in kg.items()}


def _listed(pile: Pile) -> tuple[tuple[str, float], ...]:
    if sum(len(piece.names) for piece in pile.pieces) > MOST_LISTED:
        return ()
    return tuple(chain.from_iterable(zip(piece.names, piece.mm, strict=True) for piece in pile.pieces))
