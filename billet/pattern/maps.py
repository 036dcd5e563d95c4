"""Steps that stretch, shift, turn or drag: each maps points of the bar after it to those before it.

Every map keeps volume: metal is only moved along, and the ratios of a stretch multiply to 1.
"""

from dataclasses import dataclass

import numpy as np

from billet.pattern.points import Points


@dataclass(frozen=True)
class Stretch:
    """Weld, draw, upset: each axis by its own ratio old / new; y_mm, z_mm went off bottom and near end."""

    x: float
    y: float
    z: float
    y_mm: float = 0.0
    z_mm: float = 0.0

    def __call__(self, new: Points) -> Points:
        return Points(new.x * self.x, new.y * self.y + self.y_mm, new.z * self.z + self.z_mm)


@dataclass(frozen=True)
class Shift:
    """Grind, crop, a piece cut out: so much lies before the new beginning of each axis."""

    x_mm: float = 0.0
    y_mm: float = 0.0
    z_mm: float = 0.0

    def __call__(self, new: Points) -> Points:
        return Points(new.x + self.x_mm, new.y + self.y_mm, new.z + self.z_mm)


@dataclass(frozen=True)
class OnEdge:
    """A quarter turn about the length; height and width are those before it."""

    height_mm: float
    width_mm: float

    def __call__(self, new: Points) -> Points:
        return Points(new.y - 0.5 * self.width_mm, 0.5 * self.height_mm - new.x, new.z)


@dataclass(frozen=True)
class OnEnd:
    """A quarter turn about the width: the length stands up. `length_mm` is that before it."""

    length_mm: float

    def __call__(self, new: Points) -> Points:
        return Points(new.x, new.z, self.length_mm - new.y)


@dataclass(frozen=True)
class UpsideDown:
    """Half a turn about the length."""

    height_mm: float

    def __call__(self, new: Points) -> Points:
        return Points(-new.x, self.height_mm - new.y, new.z)


@dataclass(frozen=True)
class FoldedOver:
    """Half a turn about the width, as every second piece of a zigzag lies."""

    height_mm: float
    length_mm: float

    def __call__(self, new: Points) -> Points:
        return Points(new.x, self.height_mm - new.y, self.length_mm - new.z)


@dataclass(frozen=True)
class Dragged:
    """Split down the middle: beside the wedge metal is dragged along, less with the distance from it.

    z_old = z + drag exp(-|x| / reach): a shear with a vein at x = 0. Own construction.
    """

    drag_mm: float
    reach_mm: float

    def __call__(self, new: Points) -> Points:
        return Points(new.x, new.y, new.z + self.drag_mm * np.exp(-np.abs(new.x) / self.reach_mm))
