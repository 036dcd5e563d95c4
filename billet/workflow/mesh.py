"""Cells fit for the next fire: fine where carbon will move steeply, coarse where it lies level.

The unit of length is the reach of the fire, sqrt(D t). Cells begin small at faces that are open and at
seams with a jump of activity, and grow with the distance from them.
"""

from dataclasses import replace

import numpy as np

from billet.workflow.profile import Floats, Profile

# First cell and growth, in reaches; half of all of them at refine = 2.
SEAM_CELL, OLD_SEAM_CELL, FACE_CELL, GROWTH = 0.12, 0.35, 0.05, 0.25
FRESH_JUMP = 0.02


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
    walls = np.concatenate([edges[starts], edges[-1:]])
    cells = _layer_edges(walls, _first_cells(activity, starts, reach_mm, refine), GROWTH / refine)
    height = float(edges[-1])
    for side in (0, 1):
        if open_faces[side]:
            depth = _face_depths(scale_mm[side], reach_mm, refine, 0.5 * height)
            inner = (cells >= depth[-1]) if side == 0 else (cells <= height - depth[-1])
            inner |= np.isin(cells, walls)
            cells = np.concatenate([cells[inner], depth if side == 0 else height - depth])
    cells = np.unique(cells)
    kept = np.concatenate([np.diff(cells) > 1e-9 * height, [True]]) | np.isin(cells, walls)
    cells = cells[kept]
    thickness = np.diff(cells)
    amount = np.zeros((profile.ratio.shape[0], len(edges)))
    np.cumsum(profile.ratio * profile.thickness_mm, axis=1, out=amount[:, 1:])
    ratio = np.stack([np.diff(np.interp(cells, edges, row)) for row in amount]) / thickness
    layer = np.searchsorted(walls, 0.5 * (cells[:-1] + cells[1:])) - 1
    return replace(profile, thickness_mm=thickness, steel=profile.steel[starts][layer], ratio=ratio)


def _first_cells(activity: Floats, starts: np.ndarray, reach_mm: float, refine: int) -> Floats:
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
    even = np.arange(0.0, scale_mm, first) if scale_mm > 0.0 else np.zeros(1)
    wide = OLD_SEAM_CELL * reach_mm / refine
    steps = np.arange(int(np.log(wide / first) / np.log1p(growth)) + 2)
    depth = np.concatenate([even, scale_mm + first * ((1.0 + growth) ** steps - 1.0) / growth])
    return np.unique(depth[depth < most_mm])
