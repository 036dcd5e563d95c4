"""A stack and what is done with it: plates, laid bars and every kind of step, as plain frozen values."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

Atmosphere = Literal["air", "reducing", "sealed"]
Order = Literal["same", "turned", "folded"]
CutFaces = Literal["both", "top", "bottom"]


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


@dataclass(frozen=True)
class Beside:
    """One course of bars made first, by their names in [bars], side by side from left to right."""

    bars: tuple[str, ...]


StackItem = Layer | BarPiece | Beside
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
class StepInNumbers(StepBase):
    proposed: tuple[str, ...] = ()
    """Keys whose numbers a program proposed and nobody changed or accepted; printed, never reckoned with."""


@dataclass(frozen=True, kw_only=True)
class FireStep(StepInNumbers):
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
class Grind(StepInNumbers):
    per_face_mm: float
    side_mm: float


@dataclass(frozen=True, kw_only=True)
class Crop(StepInNumbers):
    """Either what goes off [handle end, far end], or the length that stays."""

    end_mm: tuple[float, float] | None
    length_mm: float | None


@dataclass(frozen=True, kw_only=True)
class Restack(StepInNumbers):
    """Exactly one of `order` and `lay` is set."""

    pieces: int
    trim_mm: tuple[float, float]
    kerf_mm: float
    order: Order | None
    lay: tuple[LayItem, ...] | None


@dataclass(frozen=True, kw_only=True)
class Turn(StepBase):
    """The bar is turned on edge: what was its width becomes its height."""


@dataclass(frozen=True, kw_only=True)
class Twist(FireStep):
    """The square bar is twisted about its length: `turns` to the right, to the left where negative.

    `rounded` tells that the corners were forged in before.
    """

    turns: float
    rounded: bool


@dataclass(frozen=True, kw_only=True)
class Groove(StepInNumbers):
    """Grooves cut cold, straight across the bar; the next step draws the bar flat again.

    `offset` sets those of the bottom half a pitch along, between those of the top.
    """

    pitch_mm: float
    depth_mm: float
    width_mm: float
    faces: CutFaces
    offset: bool


@dataclass(frozen=True, kw_only=True)
class Dimple(StepInNumbers):
    """Round hollows cut cold in rows along the bar; the next step draws the bar flat again.

    The rows lie a pitch apart, or `staggered` with every second one half a pitch along, so that each
    hollow is a pitch away from all its neighbours.
    """

    pitch_mm: float
    diameter_mm: float
    depth_mm: float
    staggered: bool
    faces: CutFaces


@dataclass(frozen=True, kw_only=True)
class Press(FireStep):
    """A die with ridges across the bar is pushed in hot, so that the bar grows longer; then the faces that
    it marked are ground flat, down to the bottom of the marks."""

    pitch_mm: float
    depth_mm: float
    width_mm: float
    faces: CutFaces


@dataclass(frozen=True, kw_only=True)
class Stand(StepBase):
    """The bar is stood on end: what was its length becomes its height, and its height its length."""


@dataclass(frozen=True, kw_only=True)
class Split(FireStep):
    """A wedge is driven along the middle of a bar whose layers lie across it, the halves are welded again.

    Metal at the middle is dragged along by `drag_mm`, and less with the distance from it: by 1/e at
    `width_mm`. As much as was dragged is cropped off both ends.
    """

    drag_mm: float
    width_mm: float


Step = (
    Weld | Draw | Upset | Other | Grind | Crop | Restack | Turn
    | Twist | Groove | Dimple | Press | Stand | Split
)  # fmt: skip


@dataclass(frozen=True)
class BarPlan:
    """A stack and what is done with it: the bar of the recipe, or one of [bars] that is made first."""

    stack: StackPlan
    steps: tuple[Step, ...] = ()
