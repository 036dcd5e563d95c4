"""What a sheet draws, as facts alone: sizes in mm, marks, layers, temperatures in C.

The pages of the service make pictures of them, `text_drawings` makes plain lines.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from billet.contract.values import Range

Layers = tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Course:
    """One thing in a pile: a plate of one steel, or a piece of a bar with its layers, bottom up."""

    thickness_mm: float
    layers: Layers
    """Empty for a piece with too many layers to list."""
    piece: bool
    turned: bool = False


@dataclass(frozen=True)
class StackFigure:
    """The pile as it is laid, bottom up, seen at its end; `step` is the row of the schedule."""

    step: int
    height_mm: float
    width_mm: float
    length_mm: float
    courses: tuple[Course, ...]


@dataclass(frozen=True)
class BarFigure:
    """The bar after a step; `layers` is empty where they are too many to list."""

    step: int
    height_mm: float
    width_mm: float
    length_mm: float
    layers: Layers


@dataclass(frozen=True)
class CutFigure:
    """The bar before a cut, along its length from the handle end.

    `kerfs_mm` is where the saw goes beside each mark, from and to; a fold takes nothing.
    """

    step: int
    length_mm: float
    width_mm: float
    marks_mm: tuple[float, ...]
    kerfs_mm: tuple[Range, ...]
    folded: bool


@dataclass(frozen=True)
class SteelRange:
    """Where one steel hardens well, and where it hardens at all."""

    name: str
    good_c: Range | None
    possible_c: Range | None


@dataclass(frozen=True)
class WindowFigure:
    """The ranges of the steels, what they share, the set point and how far this fire swings about it."""

    steels: tuple[SteelRange, ...]
    window_c: Range | None
    set_point_c: float | None
    half_width_k: float | None
    least_bad_c: float | None


@dataclass(frozen=True)
class FaceFigure:
    """The face of the finished bar, etched: its size alone; the picture is computed where it is shown."""

    width_mm: float
    length_mm: float


Figure = StackFigure | BarFigure | CutFigure | WindowFigure | FaceFigure


@dataclass(frozen=True)
class Stop:
    """A size to stop at in one heat, in words: cold, the decimal beside a fraction, and the hot setting."""

    cold: str
    decimal: str
    hot: str


@dataclass(frozen=True)
class Operation:
    """One step at the anvil, worded: what the hand does, where to stop, what comes of it.

    `heat` is the temperature both ways, the way of the shop's units first; None for a cold step.
    """

    number: int
    do: str
    hand: str
    """The step in a word of the hand: weld, draw, cut, fold."""
    heat: tuple[str, str] | None
    order: str
    to: str
    """What the stops measure: height, width, length; empty where nothing is measured."""
    stops: tuple[Stop, ...]
    then: tuple[str, ...]
    check: str
    note: str
    bar: str
    long: str
    """The length of the bar after the step alone."""
    layers: str
    seen: str
    """The layers that are to be seen alone."""
    figure: BarFigure | StackFigure | None
    marks: int = 0
    """How many marks a cut or a fold has on its ruler."""
    assumed: bool = False
    """Whether nobody told a value of this step that has no place of its own to bear the mark."""
    heat_proposed: bool = False
    """Whether the temperature was proposed and neither changed nor accepted."""
    came_to: str = ""
    """The real size, where it was measured; `bar` is then what was planned."""


def figure_ends(figures: Sequence[Figure | None]) -> tuple[float, float]:
    """The largest height and width of the ends of bars and piles, mm."""
    ends = [(f.height_mm, f.width_mm) for f in figures if isinstance(f, BarFigure | StackFigure)]
    return max((h for h, _ in ends), default=1.0), max((w for _, w in ends), default=1.0)
