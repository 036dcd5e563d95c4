"""What a recipe says once it has been checked: plain frozen values, defaults filled in."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Literal

from billet.recipe.steel import RecipeSteel, SteelRole
from billet.tables.steels import STARTS, Start

__all__ = [
    "Atmosphere",
    "BarPiece",
    "BarPlan",
    "Blade",
    "Control",
    "Crop",
    "Draw",
    "EdgeAt",
    "FireStep",
    "Grind",
    "LayItem",
    "Layer",
    "Made",
    "Measured",
    "Order",
    "Other",
    "Recipe",
    "RecipeSteel",
    "Restack",
    "SheetInfo",
    "Shop",
    "ShopOil",
    "StackItem",
    "StackPlan",
    "Start",
    "SteelRole",
    "Step",
    "StepBase",
    "Turn",
    "Upset",
    "Weld",
]  # fmt: skip

Atmosphere = Literal["air", "reducing", "sealed"]
Order = Literal["same", "turned", "folded"]
Made = Literal["ground", "forged"]
EdgeAt = Literal["middle", "face"]
USUAL_START: Start = STARTS[0]


@dataclass(frozen=True)
class Layer:
    """One plate or layer: the recipe's own name of the steel, and its thickness in mm."""

    steel: str
    thickness_mm: float


@dataclass(frozen=True)
class BarPiece:
    """A bar made first, by its name in [bars], laid as it lies or upside down."""

    bar: str
    turned: bool = False


StackItem = Layer | BarPiece
LayItem = Literal["piece", "turned"] | StackItem


@dataclass(frozen=True)
class StackPlan:
    """Plates of one width and length: listed one by one, or a pattern that repeats up to a count."""

    width_mm: float
    length_mm: float
    pattern: tuple[str, ...] | None = None
    count: int | None = None
    thickness_mm: Mapping[str, float] | None = None
    """A thickness for each steel of the pattern."""
    listed: tuple[StackItem, ...] | None = None

    @cached_property
    def plates(self) -> tuple[StackItem, ...]:
        """Every plate, and every bar made first that lies among them, from the bottom up."""
        if self.listed is not None:
            return self.listed
        order, thickness = self.pattern or (), self.thickness_mm or {}
        names = (order[index % len(order)] for index in range(self.count or 0))
        return tuple(Layer(name, thickness[name]) for name in names)


@dataclass(frozen=True)
class Measured:
    """Sizes that were measured after a step; kept, and not used by the computation."""

    height_mm: float | None = None
    width_mm: float | None = None
    length_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class StepBase:
    number: int
    """Number on the sheet, from 1."""
    do: str
    note: str | None = None
    measured: Measured | None = None


@dataclass(frozen=True, kw_only=True)
class FireStep(StepBase):
    """A step with heats in the fire; `minutes` at heat are for all heats together."""

    temperature_c: float
    minutes: float
    heats: int
    atmosphere: Atmosphere


@dataclass(frozen=True, kw_only=True)
class Weld(FireStep):
    flux: bool
    height_mm: float | None
    width_mm: float | None


@dataclass(frozen=True, kw_only=True)
class Draw(FireStep):
    height_mm: float
    width_mm: float | None


@dataclass(frozen=True, kw_only=True)
class Upset(FireStep):
    length_mm: float


@dataclass(frozen=True, kw_only=True)
class Other(FireStep):
    what: str


@dataclass(frozen=True, kw_only=True)
class Grind(StepBase):
    per_face_mm: float
    side_mm: float


@dataclass(frozen=True, kw_only=True)
class Crop(StepBase):
    """Either what goes off [handle end, far end], or the length that stays."""

    end_mm: tuple[float, float] | None
    length_mm: float | None


@dataclass(frozen=True, kw_only=True)
class Restack(StepBase):
    """Exactly one of `order` and `lay` is set."""

    pieces: int
    trim_mm: tuple[float, float]
    kerf_mm: float
    order: Order | None
    lay: tuple[LayItem, ...] | None


@dataclass(frozen=True, kw_only=True)
class Turn(StepBase):
    """The bar is turned on edge: what was its width becomes its height."""


Step = Weld | Draw | Upset | Other | Grind | Crop | Restack | Turn


@dataclass(frozen=True)
class BarPlan:
    """A stack and what is done with it: the bar of the recipe, or one of [bars] that is made first."""

    stack: StackPlan
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True)
class Blade:
    thickness_mm: float
    edge_mm: float
    made: Made
    start: Start
    bevel_half_angle_deg: float | None
    edge_at: EdgeAt = "middle"
    """Where in the bar's height the edge lies: in the middle plane, or at one face."""
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
