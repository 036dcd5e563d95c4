"""Cells fit for the next fire: fine where carbon will move steeply, coarse where it lies level.

The unit of length is the reach of the fire, sqrt(D t). Cells begin small at faces that are open and at
seams with a jump of activity, and grow with the distance from them.
"""

from dataclasses import replace

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
    edges = np.concatenate([[0.0], np.cumsum(profile.thickness_mm)])
    starts = profile.layer_starts
    ends = np.append(starts, len(profile.steel))
    walls = edges[ends]
    height = float(edges[-1])
    reach_mm = max(reach_mm, _LEAST_REACH * height)
    cells = _layer_edges(walls, _first_cells(activity, starts, reach_mm, refine), GROWTH / refine)
    for side in (0, 1):
        if open_faces[side]:
            depth = _face_depths(scale_mm[side], reach_mm, refine, 0.5 * height)
            if len(depth) > 1:
                cells = _with_face(cells, walls, depth, height, side)
    near = np.searchsorted(walls, 0.5 * (cells[:-1] + cells[1:])) - 1
    thickness = np.diff(cells)
    ratio = np.diff(_amounts_below(profile, edges, cells), axis=1) / thickness
    return replace(profile, thickness_mm=thickness, steel=profile.steel[starts][near], ratio=ratio)


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
    gap = np.min(np.abs(place[:, None] - reached[None, :]), axis=1)
    near = np.concatenate([place[gap > film], reached])
    near.sort()
    merged: Floats = np.concatenate([near, rest] if side == 0 else [rest, near])
    return merged


def _amounts_below(profile: Profile, edges: Floats, cells: Floats) -> Floats:
    """y times height below each new edge: (rows, edges); each old cell is a slope kept monotone."""
    wide, ratio = profile.thickness_mm, profile.ratio
    amount = np.zeros((len(ratio), len(edges)))
    np.cumsum(ratio * wide, axis=1, out=amount[:, 1:])
    old = np.minimum(np.searchsorted(edges, cells, side="right") - 1, len(wide) - 1)
    inside = cells - edges[old]
    bow = 0.5 * slopes(profile, ratio, to_walls=False)[:, old] * inside * (inside - wide[old])
    below: Floats = amount[:, old] + ratio[:, old] * inside + bow
    below[:, -1] = amount[:, -1]
    return below


def _first_cells(activity: Floats, starts: Ints, reach_mm: float, refine: int) -> Floats:
    """Smallest cell of each layer, mm: small beside a seam with a jump of activity."""
    jumps = np.zeros(len(starts) + 1)
    top = max(float(np.max(activity)), 1e-12)
    jumps[1:-1] = np.abs(activity[starts[1:]] - activity[starts[1:] - 1]) / top
    jump = np.maximum(jumps[:-1], jumps[1:])
    cell: Floats = np.where(jump > FRESH_JUMP, SEAM_CELL, OLD_SEAM_CELL) * reach_mm / refine
    return cell


def _layer_edges(walls: Floats, first: Floats, growth: float) -> Floats:
    """Edges of all cells: in each layer they grow from both walls to the middle."""
    half = 0.5 * np.diff(walls)
    length = np.log1p(growth * half / first) / growth
    count = np.maximum(1, np.ceil(2.0 * length)).astype(np.intp)
    layer = np.repeat(np.arange(len(half)), count)
    number = np.arange(len(layer)) - np.repeat(np.cumsum(count) - count, count)
    place = 2.0 * length[layer] * number / count[layer]
    upper = place > length[layer]
    mirrored = np.where(upper, 2.0 * length[layer] - place, place)
    depth = first[layer] * np.expm1(growth * mirrored) / growth
    start = np.where(upper, walls[layer + 1] - depth, walls[layer] + depth)
    start[number == 0] = walls[:-1]
    return np.concatenate([start, walls[-1:]])


def _face_depths(scale_mm: float, reach_mm: float, refine: int, most_mm: float) -> Floats:
    """Depths of cell edges under an open face, until they have grown to the cells inside."""
    first, growth = FACE_CELL * reach_mm / refine, GROWTH / refine
    count = min(int(np.ceil(scale_mm / first)), _MOST_IN_SCALE * refine)
    even = np.arange(count) * (scale_mm / max(count, 1))
    wide = OLD_SEAM_CELL * reach_mm / refine
    steps = np.arange(int(np.log(wide / first) / np.log1p(growth)) + 2)
    depth = np.concatenate([even, scale_mm + first * ((1.0 + growth) ** steps - 1.0) / growth])
    return depth[depth < most_mm]
