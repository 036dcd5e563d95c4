"""Twisted about its length: the square section goes to a disk, turns, and goes back.

Not by concentric squares, which tear the axis, but by rings that go from circle to square and keep the
area between them; `tests/write_ring_tables.py` tells how and makes the tables. Assumes a bar that was
rounded before it was twisted, and a twist that is even along it.
"""

import math
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from billet.pattern.lattice import read_plane
from billet.pattern.points import Floats, Points

DISK_RADIUS = 2.0 / math.sqrt(math.pi)
"""Of a disk with the area of the square of half side 1."""
EIGHTH = 0.25 * math.pi


@dataclass(frozen=True)
class Twist:
    """So many turns over the length; positive turns carry x towards y as z grows."""

    height_mm: float
    width_mm: float
    length_mm: float
    turns: float

    def __call__(self, new: Points) -> Points:
        half_x, half_y = 0.5 * self.width_mm, 0.5 * self.height_mm
        radius, angle = disk_of(new.x / half_x, new.y / half_y - 1.0)
        x, y = square_of(radius, angle - (2.0 * math.pi * self.turns / self.length_mm) * new.z)
        return Points(x * half_x, (y + 1.0) * half_y, new.z)


def disk_of(x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Radius and angle in the disk of points of the square of half side 1. Beyond it the rim goes on."""
    over_x, over_y = np.abs(x), np.abs(y)
    u, small = np.maximum(over_x, over_y), np.minimum(over_x, over_y)
    v = small / np.maximum(u, 1e-30)
    last = _tables()[0].shape[0] - 1
    ratio, share = read_plane(_tables()[:2], np.minimum(u, 1.0) * last, v * last)
    angle = EIGHTH * share
    angle = np.where(over_y > over_x, 0.5 * math.pi - angle, angle)
    angle = np.where(x < 0.0, math.pi - angle, angle)
    return u * ratio, np.where(y < 0.0, -angle, angle)


def square_of(radius: Floats, angle: Floats) -> tuple[Floats, Floats]:
    """Points of the square of half side 1 from radius and angle in the disk."""
    quarter = 0.5 * math.pi
    turned = np.round(angle / quarter)
    within = angle - turned * quarter
    last = _tables()[2].shape[0] - 1
    share = np.abs(within) / EIGHTH
    half, ratio = read_plane(_tables()[2:], np.minimum(radius / DISK_RADIUS, 1.0) * last, share * last)
    u = radius * half
    v = np.copysign(u * ratio, within)
    side = turned.astype(np.intp) & 3
    x = np.where(side == 0, u, np.where(side == 1, -v, np.where(side == 2, -u, v)))
    y = np.where(side == 0, v, np.where(side == 1, u, np.where(side == 2, -v, -u)))
    return x, y


@cache
def _tables() -> tuple[Floats, Floats, Floats, Floats]:
    """Radius over u and angle over an eighth at (u, v); u over radius and v at (radius, angle)."""
    path = files("billet") / "data" / "ring_square.npz"
    with path.open("rb") as stream, np.load(stream) as held:
        radius, angle, half, ratio = (
            held[n].astype(np.float64) for n in ("radius", "angle", "half", "ratio")
        )
    return radius, angle, half, ratio
