"""Bars of a sweep: forged for every value, carbon followed where it is asked for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from billet.diffusion.simulation import Metal, simulate_diffusion
from billet.errors import Fault, RecipeError
from billet.forging.events import Event, Heat, HeatAlike
from billet.forging.forge import forge
from billet.forging.model import Forged
from billet.forging.stack import build_stack
from billet.hardening.heat_treatment import BladeReady, blade_ready, layer_samples
from billet.hardening.samples import Array, CellCarbon, LayerSamples
from billet.recipe.model import Recipe, RecipeSteel
from billet.tables.wish import wish_numbers


@dataclass(frozen=True)
class Tried:
    """The recipe at one value with its forging."""

    value: float
    recipe: Recipe
    forged: Forged


@dataclass(frozen=True)
class Followed:
    """A bar whose carbon was followed through every fire: the steels of its blade, not yet decided."""

    tried: Tried
    ready: BladeReady
    layers: dict[str, LayerSamples]


Story = tuple[tuple[Event, ...], ...]


def _story(forged: Forged) -> Story:
    """What happened to the metal: in bars made first, then in every column of the bar."""
    return tuple(column.events for bar in (*forged.bars.values(), forged) for column in bar.columns)


def tried(recipe: Recipe, place: str, value: float) -> Tried | str:
    """The recipe with this value, checked and forged, or the sentence that refuses it."""
    try:
        changed = recipe.with_(place, value)
        return Tried(value, changed, forge(changed, build_stack(changed)))
    except RecipeError as error:
        return error.faults[0].message


def work_of(forged: Forged) -> float:
    """How much following the carbon of a bar costs: fires times layers and a constant."""
    fires = sum(isinstance(event, Heat | HeatAlike) for events in _story(forged) for event in events)
    return fires * (forged.final.layers_visible + float(wish_numbers("sweep")["cells_beside_layers"]))


def plans_allowed(bars: Sequence[Tried]) -> int:
    """How many bars may be followed in full. Raises RecipeError where even the least is too much."""
    numbers = wish_numbers("sweep")
    work = max(max(work_of(one.forged) for one in bars), 1.0)
    least = int(numbers["least_nodes"])
    if least * work > numbers["most_work"]:
        raise RecipeError(
            [Fault("vary", "so many fires of so many layers are too much for a sweep; plan one bar")]
        )
    return min(max(int(numbers["work_of_nodes"] / work), least), int(numbers["most_nodes"]))


class Follower:
    """Follows carbon; where only the blade or the fire of hardening differs, the metal is kept."""

    def __init__(self) -> None:
        self._events: Story | None = None
        self._steels: dict[str, RecipeSteel] = {}
        self._metal: Metal | None = None

    def follow(self, one: Tried) -> Followed:
        """The bar with its carbon followed and its blade ready to be decided on."""
        recipe, forged = one.recipe, one.forged
        metal = self._metal_of(recipe, forged)
        ready = blade_ready(recipe, forged, metal)
        layers = layer_samples(recipe, metal, ready.held, ready.blur)
        return Followed(one, ready, {layer.name: layer for layer in layers})

    def _metal_of(self, recipe: Recipe, forged: Forged) -> Metal:
        steels = dict(recipe.steels)
        same = (
            self._metal is not None
            and self._events == _story(forged)
            and _melts(self._steels) == _melts(steels)
        )
        if self._metal is None or not same:
            self._metal = simulate_diffusion(recipe, forged, 1)
            self._events, self._steels = _story(forged), steels
        return self._metal


def _melts(steels: dict[str, RecipeSteel]) -> dict[str, tuple[object, float]]:
    return {name: (steel.composition, steel.density_g_cm3) for name, steel in steels.items()}


def between(low: Followed, high: Followed, share: float) -> dict[str, LayerSamples] | None:
    """The steels of a blade between two that were followed, `share` of the way to the second.

    Its cells are those of both, each counted by its share; None where a steel is in one of them only.
    """
    if low.layers.keys() != high.layers.keys():
        return None
    found = {}
    for name, first in low.layers.items():
        second = high.layers[name]
        found[name] = replace(
            first,
            wt=_mixed(first.wt, second.wt, share),
            edge=_both(first.edge, second.edge, share),
            blade=_both(first.blade, second.blade, share),
        )
    return found


def _mixed(low: Mapping[str, Array], high: Mapping[str, Array], share: float) -> dict[str, Array]:
    none = np.zeros(1)
    return {e: (1.0 - share) * low.get(e, none) + share * high.get(e, none) for e in {**low, **high}}


def _both(low: CellCarbon, high: CellCarbon, share: float) -> CellCarbon:
    carbon = np.concatenate([low.carbon_wt, high.carbon_wt], axis=1)
    return CellCarbon(carbon, np.concatenate([(1.0 - share) * low.share, share * high.share]))


def miss(found: dict[str, LayerSamples] | None, there: Followed) -> tuple[float, float]:
    """How far the steels read between two bars are off those followed: carbon in wt%, share of a zone."""
    if found is None or found.keys() != there.layers.keys():
        return float("inf"), float("inf")
    carbon = share = 0.0
    for name, layer in there.layers.items():
        carbon = max(carbon, abs(float(layer.wt["C"][0] - found[name].wt["C"][0])))
        for zone in ("edge", "blade"):
            mine, read = getattr(layer, zone), getattr(found[name], zone)
            share = max(share, abs(float(mine.share.sum() - read.share.sum())))
            carbon = max(carbon, abs(_held(mine) - _held(read)))
    return carbon, share


def _held(zone: CellCarbon) -> float:
    """Carbon of a steel in a zone as wt% of the whole zone."""
    return float(zone.carbon_wt[0] @ zone.share)
