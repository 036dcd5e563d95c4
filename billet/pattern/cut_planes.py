"""Where the pixels of a view lie in the bar: the face, the long edge, the end, the flank of a ground blade.

Corners of pixels are handed out in strips of rows, so that a large picture takes little memory. Looked at
from outside, with the length to the right; the end is looked at from the far end.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import get_args

import numpy as np

from billet.contract.face import View
from billet.pattern.points import Floats, Points

VIEWS: tuple[View, ...] = get_args(View)


@dataclass(frozen=True)
class Bevel:
    """A blade ground from the bar: thickness at the flat, half the angle of its bevel, width of the blank.

    `edge_mm` is the height in the bar at which the edge lies.
    """

    thickness_mm: float
    half_angle_deg: float
    width_mm: float
    edge_mm: float
    one_sided: bool


@dataclass(frozen=True)
class Plane:
    """One view: its size in mm, and the point of the bar under each place (right, down) of it."""

    wide_mm: float
    high_mm: float
    points: Callable[[Floats, Floats], Points]


def plane_of(
    view: View,
    size: tuple[float, float, float],
    ground_mm: float,
    from_mm: float,
    shown_mm: float,
    bevel: Bevel,
) -> Plane:
    """The plane of a view. size: width, height, length of the bar; `from_mm` and `shown_mm` along it."""
    width, height, length = size
    if view == "face":
        return Plane(
            shown_mm,
            width,
            lambda right, down: Points(
                0.5 * width - down, np.full((1, 1), height - ground_mm), from_mm + right
            ),
        )
    if view == "edge":
        return Plane(
            shown_mm,
            height,
            lambda right, down: Points(
                np.full((1, 1), ground_mm - 0.5 * width), height - down, from_mm + right
            ),
        )
    if view == "end":
        return Plane(
            width,
            height,
            lambda right, down: Points(
                right - 0.5 * width, height - down, np.full((1, 1), length - ground_mm)
            ),
        )
    return Plane(shown_mm, _flank_mm(bevel), lambda right, down: _flank(bevel, from_mm + right, down))


def bevel_height_mm(bevel: Bevel) -> float:
    """How far the bevel reaches from the edge, measured across the blade."""
    rise = bevel.thickness_mm if bevel.one_sided else 0.5 * bevel.thickness_mm
    return min(rise / math.tan(math.radians(bevel.half_angle_deg)), bevel.width_mm)


def _flank_mm(bevel: Bevel) -> float:
    """Height of the flank with the bevel laid out flat."""
    across = bevel_height_mm(bevel)
    return bevel.width_mm - across + across / math.cos(math.radians(bevel.half_angle_deg))


def _flank(bevel: Bevel, z: Floats, down: Floats) -> Points:
    """From the back of the blade over the flat and down the bevel to the edge, as the surface runs."""
    angle = math.radians(bevel.half_angle_deg)
    flat_mm = bevel.width_mm - bevel_height_mm(bevel)
    along_bevel = np.maximum(down - flat_mm, 0.0)
    across = np.minimum(down, flat_mm) + along_bevel * math.cos(angle)
    above_edge = (_flank_mm(bevel) - np.maximum(down, flat_mm)) * math.sin(angle)
    return Points(0.5 * bevel.width_mm - across, bevel.edge_mm + above_edge, z)
