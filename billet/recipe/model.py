"""What a recipe says once it has been checked: plain frozen values, defaults filled in."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from billet.composition import Composition

if TYPE_CHECKING:
    from billet.tables.steels import Steel

Atmosphere = Literal["air", "reducing", "sealed"]
Order = Literal["same", "turned", "folded"]
Made = Literal["ground", "forged"]
Start = Literal["normalised", "spheroidised"]


@dataclass(frozen=True)
class Layer:
    """One plate or layer: the recipe's own name of the steel, and its thickness in mm."""

    steel: str
    thickness_mm: float


LayItem = Literal["piece", "turned"] | Layer


@dataclass(frozen=True)
class RecipeSteel:
    """One name of [steels]: the analysis that counts, and what the recipe says of its origin."""

    name: str
    grade: "Steel | None"
    """The grade of the library it is, or is like; None for a steel told by its analysis alone."""
    like: str | None
    designation: str
    composition: Composition
    analysis: Literal["nominal", "given"]
    melt: str | None
    harden_c: tuple[float, float] | None
    density_g_cm3: float


@dataclass(frozen=True)
class StackPlan:
    """Plates from the bottom up, all of one width and length."""

    width_mm: float
    length_mm: float
    plates: tuple[Layer, ...]


@dataclass(frozen=True)
class Measured:
    """Sizes that were measured after a step; kept, and not used by the computation."""

    height_mm: float | None
    width_mm: float | None
    length_mm: float | None


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
class Blade:
    thickness_mm: float
    edge_mm: float
    made: Made
    start: Start
    bevel_half_angle_deg: float | None


@dataclass(frozen=True)
class Control:
    """Exactly one of the two is set."""

    method: str | None
    half_width_k: float | None


@dataclass(frozen=True)
class SheetInfo:
    number: str | None = None
    maker: str | None = None
    forged_on: str | None = None
    share_recipe: bool = False


@dataclass(frozen=True)
class Recipe:
    title: str
    steels: Mapping[str, RecipeSteel]
    stack: StackPlan
    scale_factor: float
    steps: tuple[Step, ...]
    blade: Blade | None
    control: Control | None
    sheet: SheetInfo
    given: Mapping[str, Any] = field(hash=False)
    """The recipe in its own keys, with every default filled in."""
    defaults_used: tuple[str, ...]
    recipe_id: str
    """First ten hexadecimal digits of the SHA-256 of `given` as canonical JSON."""
