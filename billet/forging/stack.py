"""The stack before the first fire: plates from the bottom up, and what counts of each steel."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from billet.composition import Composition
from billet.recipe.faults import Faults, quoted
from billet.recipe.laid_bars import laid_in
from billet.recipe.model import BarPlan, Layer, Recipe, RecipeSteel
from billet.tables.forging import scale_rate

KG_MM3_OF_G_CM3 = 1e-6
COMPUTED = "one bar is computed, forged from plates of steel and from pieces of itself"


@dataclass(frozen=True)
class Palette:
    """What forging needs to know of each steel, by the recipe's own name."""

    density_kg_mm3: Mapping[str, float]
    scale_rate: Mapping[str, float]
    kind: Mapping[str, int]
    """Steels of equal analysis have one kind: side by side they are one layer to the eye."""


@dataclass(frozen=True)
class Stack:
    plates: tuple[Layer, ...]
    width_mm: float
    length_mm: float
    palette: Palette


def build_stack(recipe: Recipe) -> Stack:
    """The plates of the recipe as they lie cold, with the palette of all its steels.

    Raises RecipeError for a recipe that lays bars made first: they are held, and not computed.
    """
    _refuse_laid_bars(recipe)
    plan = recipe.stack
    plates = tuple(plate for plate in plan.plates if isinstance(plate, Layer))
    return Stack(plates, plan.width_mm, plan.length_mm, _palette(recipe.steels.values()))


def _refuse_laid_bars(recipe: Recipe) -> None:
    faults = Faults()
    for place, words, name in laid_in(BarPlan(recipe.stack, recipe.steps)):
        alone = f"plan bar {quoted(name)}, made first and laid here, as a recipe of its own"
        faults.add(place, f"{words}: {COMPUTED}; {alone}")
    faults.raise_if_any()


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
