"""The stack before the first fire: what lies in it from the bottom up, and what counts of each steel."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from billet.composition import Composition
from billet.recipe.model import Recipe, RecipeSteel, StackItem
from billet.tables.forging import scale_rate

KG_MM3_OF_G_CM3 = 1e-6


@dataclass(frozen=True)
class Palette:
    """What forging needs to know of each steel, by the recipe's own name."""

    density_kg_mm3: Mapping[str, float]
    scale_rate: Mapping[str, float]
    kind: Mapping[str, int]
    """Steels of equal analysis have one kind: side by side they are one layer to the eye."""


@dataclass(frozen=True)
class Stack:
    plates: tuple[StackItem, ...]
    """Plates, and bars made first that lie among them, from the bottom up."""
    width_mm: float
    length_mm: float
    palette: Palette


def build_stack(recipe: Recipe) -> Stack:
    """What the recipe lays as it lies cold, with the palette of all its steels."""
    plan = recipe.stack
    return Stack(plan.plates, plan.width_mm, plan.length_mm, _palette(recipe.steels.values()))


def _palette(steels: Iterable[RecipeSteel]) -> Palette:
    listed = list(steels)
    kinds: dict[frozenset[tuple[str, float]], int] = {}
    kind = {s.name: kinds.setdefault(_analysis(s.composition), len(kinds)) for s in listed}
    return Palette(
        density_kg_mm3={s.name: s.density_g_cm3 * KG_MM3_OF_G_CM3 for s in listed},
        scale_rate={s.name: scale_rate(s.composition) for s in listed},
        kind=kind,
    )


def _analysis(composition: Composition) -> frozenset[tuple[str, float]]:
    return frozenset((element, value) for element, value in composition.wt.items() if value > 0.0)
