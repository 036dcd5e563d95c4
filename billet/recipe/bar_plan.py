"""A stack and what is done with it: plates, laid bars and every kind of step, as plain frozen values."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

Atmosphere = Literal["air", "reducing", "sealed"]
Order = Literal["same", "turned", "folded"]


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
    """Cold sizes that were measured after a step, in place of the planned ones; two rule, a third checks.

    `cut_away_mm` of the length was cut off before measuring.
    """

    height_mm: float | None = None
    width_mm: float | None = None
    length_mm: float | None = None
    cut_away_mm: float | None = None


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
