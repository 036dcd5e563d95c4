"""A bar as it can be cut: layers that lie flat, worked through maps, laid in piles; and its grey at points.

Points come as a lattice of the corners of pixels, (rows + 1, columns + 1); the grey is that of the pixels.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from billet.pattern.points import Floats, Map, Points
from billet.pattern.share_mean import RunningGrey


@dataclass(frozen=True)
class Flat:
    """Layers that lie flat, with the grey through them, and the hand that lifts them."""

    grey: RunningGrey
    hand: Map


@dataclass(frozen=True)
class Plain:
    """One steel, all of one grey."""

    grey: float


@dataclass(frozen=True)
class Worked:
    """A solid taken through steps; `maps` from the last step back to the first."""

    maps: tuple[Map, ...]
    inner: "Solid"


@dataclass(frozen=True)
class Box:
    """Where one thing lies in a pile: to the right of `left_mm`, above `bottom_mm`; the map leads into it."""

    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float
    into: tuple[Map, ...]
    inner: "Solid"


@dataclass(frozen=True)
class Pile:
    """Things that lie on and beside one another. What is outside all of them counts to the nearest."""

    boxes: tuple[Box, ...]


Solid = Flat | Plain | Worked | Pile


def grey_at(solid: Solid, corners: Points, hand: bool) -> Floats:
    """Grey of the pixels between the corners, (rows, columns) of 0 to 1; with the hand or without."""
    rows, columns = np.broadcast_shapes(*(each.shape for each in corners))
    match solid:
        case Plain(grey):
            return np.full((rows - 1, columns - 1), grey)
        case Flat(grey, lift):
            y = lift(corners).y if hand else corners.y
            return _flat(grey, np.broadcast_to(y, (rows, columns)))
        case Worked(maps, inner):
            return grey_at(inner, traced(maps, corners), hand)
        case Pile(boxes):
            return _piled(boxes, corners, (rows, columns), hand)


def traced(maps: Sequence[Map], points: Points) -> Points:
    """Points led back through the maps, one after the other."""
    for each in maps:
        points = each(points)
    return points


def _flat(grey: RunningGrey, y: Floats) -> Floats:
    low, high = y[:-1], y[1:]
    along = 0.5 * ((low[:, 1:] - low[:, :-1]) + (high[:, 1:] - high[:, :-1]))
    across = 0.5 * ((high[:, 1:] - low[:, 1:]) + (high[:, :-1] - low[:, :-1]))
    middle = 0.25 * (low[:, 1:] + low[:, :-1] + high[:, 1:] + high[:, :-1])
    return grey.mean_over(middle, along, across)


def _piled(boxes: tuple[Box, ...], corners: Points, shape: tuple[int, int], hand: bool) -> Floats:
    x, y, z = (np.broadcast_to(each, shape) for each in corners)
    middle_x, middle_y = _middles(x), _middles(y)
    nearest = np.full(middle_x.shape, np.inf)
    which = np.zeros(middle_x.shape, dtype=np.intp)
    for index, box in enumerate(boxes):
        off = np.maximum(np.maximum(box.left_mm - middle_x, middle_x - box.right_mm), 0.0)
        off = off + np.maximum(np.maximum(box.bottom_mm - middle_y, middle_y - box.top_mm), 0.0)
        closer = off < nearest
        nearest, which = np.where(closer, off, nearest), np.where(closer, index, which)
    found = np.empty(middle_x.shape)
    for index, box in enumerate(boxes):
        here = which == index
        if not np.any(here):
            continue
        rows, columns = np.flatnonzero(here.any(axis=1)), np.flatnonzero(here.any(axis=0))
        part = np.s_[rows[0] : rows[-1] + 2, columns[0] : columns[-1] + 2]
        inside = grey_at(box.inner, traced(box.into, Points(x[part], y[part], z[part])), hand)
        window = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
        found[window] = np.where(here[window], inside, found[window])
    return found


def _middles(lattice: Floats) -> Floats:
    found: Floats = 0.25 * (lattice[1:, 1:] + lattice[1:, :-1] + lattice[:-1, 1:] + lattice[:-1, :-1])
    return found
