"""What happened to the bar as a solid, in order: from this a point of the finished bar is followed back.

Axes: x across from the left side, y up from the bottom, z along from the handle end; all sizes cold, in mm.
Every change tells the outer size of the bar before and after it. The list of a bar begins with a `Laid`.
Turned over is always end for end: y and z are counted from the other end, left stays left.
"""

from dataclasses import dataclass
from typing import Literal

from billet.forging.cut_shapes import Cut, MarkRow


@dataclass(frozen=True)
class Size:
    """Outer size of a bar or a pile."""

    width_mm: float
    height_mm: float
    length_mm: float


@dataclass(frozen=True)
class Placed:
    """One thing in a pile, and the box that it fills there: all of its width or part of it, all its length.

    piece: cut from the bar as it was, from `start_mm` on towards its far end. plate: fresh, of the steel
    `name`. bar: the bar made first of that `name` as it ended (`Forged.bars`), from `start_mm` on; its
    width and height are fitted to the box.
    """

    kind: Literal["piece", "plate", "bar"]
    name: str | None
    start_mm: float
    turned: bool
    left_share: float
    right_share: float
    """Sides of the box, as shares of the width of the pile (0 left, 1 right)."""
    bottom_mm: float
    top_mm: float


@dataclass(frozen=True)
class Laid:
    """What lies in the pile from here on; `before` is the bar that was cut up, None for the first stack."""

    step: int
    before: Size | None
    after: Size
    items: tuple[Placed, ...]


@dataclass(frozen=True)
class Taken:
    """Metal off the outside: scale in one fire, grinding, cropping. `low_mm` is what goes off the left side,
    the bottom and the handle end; the rest of the difference goes off the other side."""

    step: int
    before: Size
    after: Size
    low_mm: tuple[float, float, float]


@dataclass(frozen=True)
class Stretched:
    """Forged in one fire: every point moves by the ratios of the sizes. Open grooves or dimples are
    flattened by it: `after` has the height to which they close."""

    step: int
    before: Size
    after: Size


@dataclass(frozen=True)
class Turned:
    """On edge: x and y are exchanged."""

    step: int
    before: Size
    after: Size


@dataclass(frozen=True)
class Stood:
    """On end: y and z are exchanged."""

    step: int
    before: Size
    after: Size


@dataclass(frozen=True)
class Twisted:
    """Turned about the axis of the bar, evenly along it; `turns` over the whole length, right positive."""

    step: int
    before: Size
    after: Size
    turns: float


@dataclass(frozen=True)
class Carved:
    """Grooves or dimples cut into the faces; nothing else moves. A `Cut` is None for a face left alone."""

    step: int
    before: Size
    after: Size
    marks: tuple[MarkRow, ...]
    bottom: Cut | None
    top: Cut | None


@dataclass(frozen=True)
class Pressed:
    """Marks of a die pushed into the faces, the bar grown longer by what they displaced, then ground flat.

    `pressed` is the size between the two: the outer height as before, the marks cut into it.
    """

    step: int
    before: Size
    pressed: Size
    after: Size
    marks: tuple[MarkRow, ...]
    bottom: Cut | None
    top: Cut | None


@dataclass(frozen=True)
class Dragged:
    """Split: z before = z after + drag exp(-|x - middle| / fade), with z after from 0 to the new length."""

    step: int
    before: Size
    after: Size
    drag_mm: float
    fade_mm: float


@dataclass(frozen=True)
class Disturbed:
    """Worked in a way that cannot be followed back."""

    step: int
    before: Size
    after: Size


Change = Laid | Taken | Stretched | Turned | Stood | Twisted | Carved | Pressed | Dragged | Disturbed
