"""What a recipe says once it has been checked: plain frozen values, defaults filled in."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Literal

from billet.composition import Composition

if TYPE_CHECKING:
    from billet.tables.steels import Steel

Atmosphere = Literal["air", "reducing", "sealed"]
Order = Literal["same", "turned", "folded"]
Made = Literal["ground", "forged"]
Start = Literal["normalised", "spheroidised"]
EdgeAt = Literal["middle", "face"]
SteelRole = Literal["cladding"]


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
    role: SteelRole | None = None
    """What the steel's own entry says of its part in the bar."""
    clad_by_blade: bool = field(default=False, compare=False)
    """Whether the blade names it as cladding; the recipe keeps this in step with its blade."""

    @property
    def cladding(self) -> bool:
        """Whether the steel may stay soft, told by its own entry or by the blade."""
        return self.role == "cladding" or self.clad_by_blade


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
    bar_id: str = ""
    """The same of what is forged and hardened alone: without measured, shop, control and sheet."""
    shop: Shop | None = None

    def __post_init__(self) -> None:
        clad = frozenset(self.blade.cladding) if self.blade is not None else frozenset[str]()
        steels = {n: replace(s, clad_by_blade=n in clad) for n, s in self.steels.items()}
        object.__setattr__(self, "steels", steels)

    @property
    def temperature_control(self) -> Control | None:
        """How the hardening heat is held: what the recipe tells, else the fire of the shop."""
        if self.control is not None or self.shop is None:
            return self.control
        if self.shop.fire is None and self.shop.half_width_k is None:
            return None
        return Control(self.shop.fire, self.shop.half_width_k)
