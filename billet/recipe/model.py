"""What a recipe says once it has been checked: plain frozen values, defaults filled in."""

import json
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Literal

from billet.recipe.bar_plan import (
    Atmosphere,
    BarPiece,
    BarPlan,
    Beside,
    Crop,
    CutFaces,
    Dimple,
    Draw,
    FireStep,
    Grind,
    Groove,
    Layer,
    LayItem,
    Measured,
    Order,
    Other,
    Press,
    Restack,
    Split,
    StackItem,
    StackPlan,
    Stand,
    Step,
    StepBase,
    Turn,
    Twist,
    Upset,
    Weld,
)
from billet.recipe.steel import RecipeSteel, SteelRole
from billet.tables.steels import STARTS, Start

__all__ = [
    "Atmosphere",
    "BarPiece",
    "BarPlan",
    "Beside",
    "Blade",
    "Control",
    "Crop",
    "CutFaces",
    "Dimple",
    "Draw",
    "EdgeAt",
    "FireStep",
    "Grind",
    "Groove",
    "LayItem",
    "Layer",
    "Made",
    "Measured",
    "Order",
    "Other",
    "Press",
    "Recipe",
    "RecipeSteel",
    "Restack",
    "SheetInfo",
    "Shop",
    "ShopOil",
    "Split",
    "StackItem",
    "StackPlan",
    "Stand",
    "Start",
    "SteelRole",
    "Step",
    "StepBase",
    "Turn",
    "Twist",
    "Upset",
    "Weld",
]  # fmt: skip

Made = Literal["ground", "forged"]
EdgeAt = Literal["middle", "face", "left", "right"]
USUAL_START: Start = STARTS[0]


@dataclass(frozen=True)
class Blade:
    thickness_mm: float
    edge_mm: float
    made: Made
    start: Start
    bevel_half_angle_deg: float | None
    edge_at: EdgeAt = "middle"
    """Where in the bar the edge lies: in the middle plane of its height, at one face, or in the middle plane
    of the outermost of the bars that lie side by side."""
    width_mm: float | None = None
    length_mm: float | None = None
    bevel_height_mm: float | None = None
    temper_to_hrc: float | None = None
    cladding: tuple[str, ...] = ()
    """Names of steels that may stay soft."""


@dataclass(frozen=True)
class Control:
    """Exactly one of the two is set."""

    method: str | None
    half_width_k: float | None


@dataclass(frozen=True)
class ShopOil:
    """One bath of the smith's own; at least one of `medium` and `nickel_ball_s` is set."""

    name: str
    medium: str | None = None
    """Class of the oil, as the list of quenching media names it, or "vegetable oil"."""
    nickel_ball_s: float | None = None


@dataclass(frozen=True)
class Shop:
    """What this smith owns; at most one of `fire` and `half_width_k` is set."""

    fire: str | None = None
    """Key of the table of control methods."""
    half_width_k: float | None = None
    press: bool = False
    """A press forges; else a hammer."""
    hot_length_mm: float | None = None
    """Length of bar that the fire heats."""
    tallest_mm: float | None = None
    """Height that fits between the dies."""
    oils: tuple[ShopOil, ...] = ()
    controlled_cooling: bool = False
    """The furnace can follow a falling ramp."""
    lowest_cooling_k_h: float | None = None
    """Slowest fall that the furnace can hold. [K/h]"""


@dataclass(frozen=True)
class SheetInfo:
    number: str | None = None
    maker: str | None = None
    forged_on: str | None = None
    share_recipe: bool = False


@dataclass(frozen=True)
class Recipe:
    """A checked recipe. What it says in its own keys is derived from its fields, never kept beside them."""

    title: str
    steels: Mapping[str, RecipeSteel]
    stack: StackPlan
    scale_factor: float
    steps: tuple[Step, ...]
    blade: Blade | None = None
    control: Control | None = None
    shop: Shop | None = None
    sheet: SheetInfo = SheetInfo()
    bars: Mapping[str, BarPlan] = field(default_factory=dict)
    """Bars that are made first, by name, in the order in which they were named."""
    assumed: tuple[str, ...] = field(default=(), compare=False)
    """Places where nothing was written and the default was filled in."""
    reckoned: tuple[tuple[str, Any], ...] = field(default=(), compare=False)
    """Of these, the places whose default follows from the rest of the recipe, with the value filled in."""
    check: Callable[["Recipe"], "Recipe"] | None = field(default=None, compare=False, repr=False)
    """What reading asked of the recipe as a whole; a changed recipe is asked the same."""

    def __post_init__(self) -> None:
        clad = self.blade.cladding if self.blade is not None else ()
        told = {n: s if s.clad_by_blade == (n in clad) else replace(s, clad_by_blade=n in clad)
                for n, s in self.steels.items()}  # fmt: skip
        object.__setattr__(self, "steels", told)

    @cached_property
    def given(self) -> Mapping[str, Any]:
        """The recipe in its own keys, with every default filled in."""
        from billet.recipe.canonical import canonical

        return canonical(self)

    @cached_property
    def recipe_id(self) -> str:
        """First ten hexadecimal digits of the SHA-256 of the canonical recipe."""
        from billet.recipe.canonical import number_of

        return number_of(self.given)

    @cached_property
    def bar_id(self) -> str:
        """The same of the bar alone: without what is measured, owned, or only printed."""
        from billet.recipe.canonical import number_of, of_the_bar

        return number_of(of_the_bar(self.given))

    def steels_in(self, names: Collection[str]) -> dict[str, RecipeSteel]:
        """The steels of these names, in the order of the recipe."""
        return {name: steel for name, steel in self.steels.items() if name in names}

    @property
    def parts(self) -> tuple[tuple[str | None, BarPlan], ...]:
        """Every bar that is made, each with its name: those of [bars], then the recipe's own, None."""
        return (*self.bars.items(), (None, BarPlan(self.stack, self.steps)))

    @property
    def defaults_used(self) -> tuple[str, ...]:
        """Every default that was filled in and still holds, as `steps[0].heats = 1`."""
        from billet.recipe.places import defaults_of

        return tuple(f"{place} = {json.dumps(value)}" for place, value in defaults_of(self))

    @property
    def temperature_control(self) -> Control | None:
        """How the hardening heat is held: what the recipe tells, else the fire of the shop."""
        if self.control is not None or self.shop is None:
            return self.control
        if self.shop.fire is None and self.shop.half_width_k is None:
            return None
        return Control(self.shop.fire, self.shop.half_width_k)

    @property
    def start(self) -> Start:
        """Structure before hardening; the usual one where no blade is told."""
        return self.blade.start if self.blade is not None else USUAL_START

    def with_(self, place: str | None = None, value: Any = None, /, **values: Any) -> "Recipe":
        """The recipe with something changed: `with_("steps[1].minutes", 12.0)`, `with_(title="Two")`.

        Several places at once as keywords, `with_(**{"stack.count": 9, "title": "Nine"})`; the value
        None takes a key away. Everything is checked as when a recipe is read, and defaults that were
        filled in are filled in anew.

        Raises RecipeError with the place and a sentence; for an unknown place it names the nearest.
        """
        from billet.recipe.places import changed

        return changed(self, {**({} if place is None else {place: value}), **values})
