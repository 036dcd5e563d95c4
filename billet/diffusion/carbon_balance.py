"""Grams of carbon: what was laid, what is left, and where the rest went. Nothing is a remainder."""

from dataclasses import dataclass

from billet.diffusion.simulation import Metal
from billet.diffusion.transport import StepCarbon
from billet.forging.model import Forged, ForgedRow
from billet.recipe.model import Layer, Recipe, Restack

MM2_IN_M2 = 1.0e6
GRAMS_PER_KG = 1000.0


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
    """Follow the grams through every step.

    Scale and grinding at bottom and top, and diffusion through the faces, are told by the profile. What
    scale and grinding take from sides and ends, and what is cut off, takes all layers in proportion: it
    is told by the volume that geometry says is gone.
    """
    steps = {s.step: s for s in metal.moved.steps}
    laid = grams = _held_g(forged.rows[0], steps[0])
    faces = gone = 0.0
    for before, row in zip(forged.rows, forged.rows[1:], strict=False):
        added = _added_g(row, recipe)
        laid += added
        volume = _volume_mm3(before)
        for loss in (one for one in metal.moved.losses if one.step == row.step):
            faces += loss.faces_share * grams
            gone += loss.metal_share * grams
            grams *= 1.0 - loss.faces_share - loss.metal_share
            volume *= 1.0 - loss.removed_mm / loss.height_mm
        if isinstance(recipe.steps[row.step - 1], Restack):
            after = _held_g(row, steps[row.step])
            gone += grams + added - after
            grams = after
        else:
            off_sides = grams * (1.0 - _volume_mm3(row) / volume)
            gone += off_sides
            grams -= off_sides
    return CarbonBooks(laid, _held_g(forged.rows[-1], metal.moved.steps[-1]), faces, gone)


def _volume_mm3(row: ForgedRow) -> float:
    return row.height_mm * row.width_mm * row.length_mm


def _held_g(row: ForgedRow, step: StepCarbon) -> float:
    return step.profile.carbon_g_m2 * _volume_mm3(row) / step.profile.height_mm / MM2_IN_M2


def _added_g(row: ForgedRow, recipe: Recipe) -> float:
    """Carbon in the fresh plates laid in a step."""
    step = recipe.steps[row.step - 1]
    if not isinstance(step, Restack) or step.lay is None:
        return 0.0
    plates = [item for item in step.lay if isinstance(item, Layer)]
    weights = [plate.thickness_mm * recipe.steels[plate.steel].density_g_cm3 for plate in plates]
    carbon = [recipe.steels[plate.steel].composition["C"] / 100.0 for plate in plates]
    held = sum(w * c for w, c in zip(weights, carbon, strict=True))
    return GRAMS_PER_KG * row.added_kg * held / sum(weights) if plates else 0.0
