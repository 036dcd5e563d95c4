"""Cells fit for the next fire: fine where carbon will move steeply, coarse where it lies level.

The unit of length is the reach of the fire, sqrt(D t). Cells begin small at faces that are open and at
seams with a jump of activity, and grow with the distance from them.
"""

import math
from dataclasses import replace
from functools import cache

import numpy as np

from billet.diffusion.profile import Floats, Ints, Profile, slopes
from billet.forging.hot_bar import FILM_SHARE

# First cell and growth, in reaches; half of all of them at refine = 2.
SEAM_CELL, OLD_SEAM_CELL, FACE_CELL, GROWTH = 0.12, 0.35, 0.05, 0.25
FRESH_JUMP = 0.02
# A fire too short to matter gets the cells of a reach of this share of the height; scale so many at most.
_LEAST_REACH = 1e-3
_MOST_IN_SCALE = 40


def remeshed(
    profile: Profile,
    activity: Floats,
    reach_mm: float,
    open_faces: tuple[bool, bool],
    scale_mm: tuple[float, float],
    refine: int,
) -> Profile:
    """The same carbon on cells for a fire of this reach.

    activity: (cells,) of row 0. Open faces keep small cells as deep as the scale will eat.
    Carbon of each layer is kept to rounding; a new cell takes the mean of what it covers.
    """
    cells_before = len(profile.steel)
    edges = np.zeros(cells_before + 1)
    np.cumsum(profile.thickness_mm, out=edges[1:])
    seams = profile.layer_starts[1:]
    ends = np.concatenate([[0], seams, [cells_before]])
    walls, height = edges[ends], float(edges[-1])
    reach_mm = max(reach_mm, _LEAST_REACH * height)
    cells = _layer_edges(walls, _first_cells(activity, seams, reach_mm, refine), GROWTH / refine)
    for side in (0, 1):
        if open_faces[side]:
            depth = _face_depths(scale_mm[side], reach_mm, refine, 0.5 * height)
            if len(depth) > 1:
                cells = _with_face(cells, walls, depth, height, side)
    near = walls.searchsorted(0.5 * (cells[:-1] + cells[1:])) - 1
    thickness = cells[1:] - cells[:-1]
    below = _amounts_below(profile, edges, cells)
    ratio = (below[:, 1:] - below[:, :-1]) / thickness
    return replace(profile, thickness_mm=thickness, steel=profile.steel[ends[:-1]][near], ratio=ratio)


def _with_face(cells: Floats, walls: Floats, depth: Floats, height: float, side: int) -> Floats:
    """Edges with those near an open face replaced by finer ones; walls between layers stay."""
    film = FILM_SHARE * height
    if side == 0:
        place, end = depth, depth[-1]
        reached, rest = walls[walls < end + film], cells[cells > end + film]
    else:
        place, end = height - depth[::-1], height - depth[-1]
        reached, rest = walls[walls > end - film], cells[cells < end - film]
    # Of two edges on one place the wall stays, so that no cell holds two steels.
    gap = np.abs(place[:, None] - reached).min(axis=1)
    near = np.concatenate([place[gap > film], reached])
    near.sort()
    merged: Floats = np.concatenate([near, rest] if side == 0 else [rest, near])
    return merged


def _amounts_below(profile: Profile, edges: Floats, cells: Floats) -> Floats:
    """y times height below each new edge: (rows, edges); each old cell is a slope kept monotone."""
    wide, ratio = profile.thickness_mm, profile.ratio
    amount = np.zeros((len(ratio), len(edges)))
    np.cumsum(ratio * wide, axis=1, out=amount[:, 1:])
    old = np.minimum(edges.searchsorted(cells, side="right") - 1, len(wide) - 1)
    inside = cells - edges[old]
    bend = 0.5 * inside * (inside - wide[old])
    slope = slopes(profile, ratio, to_walls=False)
    below: Floats = amount.take(old, axis=1) + ratio.take(old, axis=1) * inside
    below += slope.take(old, axis=1) * bend
    below[:, -1] = amount[:, -1]
    return below


def _first_cells(activity: Floats, seams: Ints, reach_mm: float, refine: int) -> Floats:
    """Smallest cell of each layer, mm: small beside a seam with a jump of activity."""
    steep = np.zeros(len(seams) + 2, dtype=bool)
    top = max(float(activity.max()), 1e-12)
    steep[1:-1] = np.abs(activity[seams] - activity[seams - 1]) > FRESH_JUMP * top
    cell: Floats = np.where(steep[:-1] | steep[1:], SEAM_CELL, OLD_SEAM_CELL) * (reach_mm / refine)
    return cell


def _layer_edges(walls: Floats, first: Floats, growth: float) -> Floats:
    """Edges of all cells: in each layer they grow from both walls to the middle."""
    lower, upper = walls[:-1], walls[1:]
    length = np.log1p((0.5 * growth) * (upper - lower) / first) / growth
    count = np.maximum(np.ceil(2.0 * length), 1.0)
    layers = np.stack([lower, upper, length, 2.0 * length / count, first * (1.0 / growth)])
    cells = count.astype(np.intp)
    ends = cells.cumsum()
    low, high, middle, step, scale = layers.repeat(cells, axis=1)
    place = step * (np.arange(ends[-1]) - (ends - cells).repeat(cells))
    depth = scale * np.expm1(growth * np.minimum(place, 2.0 * middle - place))
    return np.concatenate([np.where(place > middle, high - depth, low + depth), walls[-1:]])


def _face_depths(scale_mm: float, reach_mm: float, refine: int, most_mm: float) -> Floats:
    """Depths of cell edges under an open face, until they have grown to the cells inside."""
    first = FACE_CELL * reach_mm / refine
    count = min(math.ceil(scale_mm / first), _MOST_IN_SCALE * refine)
    even = np.arange(count) * (scale_mm / max(count, 1))
    depth = np.concatenate([even, scale_mm + first * _growing(GROWTH / refine)])
    return depth[depth < most_mm]


@cache
def _growing(growth: float) -> Floats:
    """Depths of edges in first cells, from 0 to where one has grown to that beside an old seam."""
    steps = np.arange(int(math.log(OLD_SEAM_CELL / FACE_CELL) / math.log1p(growth)) + 2)
    depth: Floats = np.expm1(math.log1p(growth) * steps) / growth
    depth.flags.writeable = False
    return depth
