"""Grams of carbon: what was laid, what is left, and where the rest went. Nothing is a remainder."""

from dataclasses import dataclass
from itertools import pairwise

from billet.diffusion.simulation import ColumnMetal, Metal
from billet.diffusion.transport import StepCarbon
from billet.forging.events import Lay, Made
from billet.forging.model import Column, Forged, ForgedRow
from billet.recipe.model import Layer, Recipe, Restack

MM2_IN_M2 = 1.0e6
GRAMS_MM_M2 = 1000.0
"""Grams of one millimetre over one square metre, for a density of 1 g/cm3."""


@dataclass(frozen=True)
class CarbonBooks:
    """All in grams. `laid` with every plate laid later; closed when laid = left + faces + metal."""

    laid: float
    left: float
    faces: float
    metal: float

    @property
    def open_share(self) -> float:
        """By how much the books fail to close, as a share of what was laid."""
        return abs(self.laid - self.left - self.faces - self.metal) / self.laid if self.laid > 0.0 else 0.0


def carbon_books(recipe: Recipe, forged: Forged, metal: Metal) -> CarbonBooks:
    """Follow the grams through every step, of every column by its share of the width.

    Scale and grinding at bottom and top, and diffusion through the faces, are told by the profile. What
    scale and grinding take from sides and ends, and what is cut off, takes all layers in proportion: it
    is told by the volume that geometry says is gone. Bars made first come in as they ended.
    """
    columns = [
        (column.share, _column_books(recipe, column, own, metal))
        for column, own in zip(forged.columns, metal.columns, strict=True)
    ]
    return CarbonBooks(
        laid=sum(share * books.laid for share, books in columns),
        left=sum(share * books.left for share, books in columns),
        faces=sum(share * books.faces for share, books in columns),
        metal=sum(share * books.metal for share, books in columns),
    )


def _column_books(recipe: Recipe, column: Column, own: ColumnMetal, metal: Metal) -> CarbonBooks:
    steps = {s.step: s for s in own.moved.steps}
    kinds = {step.number: step for step in recipe.steps}
    laid = grams = _held_g(column.rows[0], steps[0])
    faces = gone = 0.0
    for before, row in pairwise(column.rows):
        added = _added_g(recipe, column, row, metal)
        laid += added
        volume = _volume_mm3(before)
        for loss in (one for one in own.moved.losses if one.step == row.step):
            faces += loss.faces_share * grams
            gone += loss.metal_share * grams
            grams *= 1.0 - loss.faces_share - loss.metal_share
            volume *= 1.0 - loss.removed_mm / loss.height_mm
        if isinstance(kinds[row.step], Restack):
            after = _held_g(row, steps[row.step])
            gone += grams + added - after
            grams = after
        else:
            off_sides = grams * (1.0 - _volume_mm3(row) / volume)
            gone += off_sides
            grams -= off_sides
    return CarbonBooks(laid, _held_g(column.rows[-1], own.moved.steps[-1]), faces, gone)


def _volume_mm3(row: ForgedRow) -> float:
    return row.solid_height_mm * row.width_mm * row.length_mm


def _held_g(row: ForgedRow, step: StepCarbon) -> float:
    return step.profile.carbon_g_m2 * _volume_mm3(row) / step.profile.height_mm / MM2_IN_M2


def _added_g(recipe: Recipe, column: Column, row: ForgedRow, metal: Metal) -> float:
    """Carbon in what was laid in a step beside pieces of the bar, as far as it lies in the pile."""
    lay = next((e for e in column.events if isinstance(e, Lay) and e.step == row.step), None)
    if lay is None or row.step == 0:
        return 0.0
    face_m2 = row.width_mm * row.length_mm / MM2_IN_M2
    held = 0.0
    for item in lay.items:
        if isinstance(item, Layer):
            steel = recipe.steels[item.steel]
            grams_m2 = item.thickness_mm * steel.density_g_cm3 * GRAMS_MM_M2
            held += grams_m2 * steel.composition["C"] / 100.0
        elif isinstance(item, Made):
            held += item.ratio * metal.made[item.bar, item.column].carbon_g_m2
    return held * face_m2
