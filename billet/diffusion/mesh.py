"""Cells fit for the next fire: fine where carbon will move steeply, coarse where it lies level.

The unit of length is the reach of the fire, sqrt(D t). Cells begin small at faces that are open and at
seams with a jump of activity, and grow with the distance from them.
"""

import math
from collections.abc import Callable
from functools import cache

import numpy as np

from billet.diffusion.profile import Floats, Ints, Profile
from billet.diffusion.slopes import flat_at_walls, per_mm_between
from billet.forging.hot_bar import FILM_SHARE

# First cell and growth, in reaches; half of all of them at refine = 2.
SEAM_CELL, OLD_SEAM_CELL, FACE_CELL, GROWTH = 0.12, 0.35, 0.05, 0.25
FRESH_JUMP = 0.02
# A fire too short to matter gets the cells of a reach of this share of the height; scale so many at most.
_LEAST_REACH = 1e-3
_MOST_IN_SCALE = 40
_NO_DEPTHS = np.zeros(0)


def remeshed(
    profile: Profile,
    activity: Callable[[Floats, Ints], Floats],
    reach_mm: float,
    open_faces: tuple[bool, bool],
    scale_mm: tuple[float, float],
    refine: int,
) -> Profile:
    """The same carbon on cells for a fire of this reach.

    activity: that of y in cells of these steels, (cells,) all. Open faces keep small cells as deep as the
    scale will eat. Carbon of each layer is kept to rounding; a new cell takes the mean of what it covers.
    """
    bounds, edges = profile.layer_bounds, _edges(profile.thickness_mm)
    walls = edges.take(bounds)
    height = walls.item(-1)
    reach_mm = max(reach_mm, _LEAST_REACH * height)
    cells = _layer_edges(walls, _first_cells(profile, activity, reach_mm / refine), GROWTH / refine)
    depths = {mm: _face_depths(mm, reach_mm, refine, 0.5 * height) for mm in set(scale_mm)}
    bottom, top = (depths[mm] if here else _NO_DEPTHS for mm, here in zip(scale_mm, open_faces, strict=True))
    if len(bottom) or len(top):
        cells = _with_faces(cells, walls, bottom, top)
    at_walls = cells.searchsorted(walls)
    steel = profile.steel.take(bounds[:-1]).repeat(at_walls[1:] - at_walls[:-1])
    ratio = _means(profile, edges, cells)
    return Profile(profile.metals, cells[1:] - cells[:-1], steel, ratio, profile.spread_mm2)


def _edges(thickness_mm: Floats) -> Floats:
    """Heights of the edges of cells, from 0: (cells + 1,)."""
    edges = np.zeros(len(thickness_mm) + 1)
    thickness_mm.cumsum(out=edges[1:])
    return edges


def _with_faces(cells: Floats, walls: Floats, bottom: Floats, top: Floats) -> Floats:
    """Edges with those near open faces replaced by finer ones; walls between layers stay.

    bottom, top: depths of the finer edges under each face, none where it is closed.
    """
    height = walls.item(-1)
    film = FILM_SHARE * height
    low = bottom.item(-1) + film if len(bottom) else -film
    high = height - top.item(-1) - film if len(top) else height + film
    # Where both reach the middle, of two edges on one place the lower stays.
    upper = height - top
    place = np.concatenate([bottom, upper[upper > low]])
    # Of two edges on one place the wall stays, so that no cell holds two steels.
    above = walls.searchsorted(place, side="right")
    apart = np.minimum(place - walls.take(above - 1), walls.take(above, mode="clip") - place) > film
    up_to, after = walls.searchsorted(low), walls.searchsorted(high, side="right")
    inside = cells[cells.searchsorted(low, side="right") : cells.searchsorted(high)]
    merged = np.concatenate([walls[:up_to], place[apart], inside, walls[max(up_to, after) :]])
    merged.sort()
    return merged


def _means(profile: Profile, edges: Floats, cells: Floats) -> Floats:
    """Means of y between the new edges `cells`, each old cell being a slope kept monotone: (rows, new cells).

    edges: (old cells + 1,).
    """
    wide = profile.thickness_mm
    old = edges.searchsorted(cells, side="right")
    old -= 1
    np.minimum(old, len(wide) - 1, out=old)
    inside = cells - edges.take(old)
    bend = inside - wide.take(old)
    bend *= inside
    bend *= 0.5
    thickness, per_mm = cells[1:] - cells[:-1], per_mm_between(wide, profile.layer_bounds)
    ratio = np.empty((len(profile.ratio), len(thickness)))
    for row, mean in zip(profile.ratio, ratio, strict=True):
        amount = _edges(row * wide)
        below = row.take(old)
        below *= inside
        below += amount.take(old)
        below += flat_at_walls(row, per_mm).take(old) * bend
        below[-1] = amount[-1]
        np.subtract(below[1:], below[:-1], out=mean)
        mean /= thickness
    return ratio


def _first_cells(profile: Profile, activity: Callable[[Floats, Ints], Floats], reach_mm: float) -> Floats:
    """Smallest cell of each layer, mm: small beside a seam with a jump of activity."""
    seams = profile.layer_bounds[1:-1]
    if not len(seams):
        return np.array([OLD_SEAM_CELL * reach_mm])
    held = activity(profile.ratio[0], profile.steel)
    steep = np.zeros(len(seams) + 2, dtype=bool)
    top = max(held.item(held.argmax()), 1e-12)
    steep[1:-1] = np.abs(held.take(seams) - held.take(seams - 1)) > FRESH_JUMP * top
    return np.where(steep[:-1] | steep[1:], SEAM_CELL * reach_mm, OLD_SEAM_CELL * reach_mm)


def _layer_edges(walls: Floats, first: Floats, growth: float) -> Floats:
    """Edges of all cells: in each layer they grow from both walls to the middle."""
    lower, upper = walls[:-1], walls[1:]
    length = np.log1p((0.5 * growth) * (upper - lower) / first) / growth
    count = np.maximum(np.ceil(2.0 * length), 1.0)
    cells = count.astype(np.intp)
    ends = cells.cumsum()
    layers = np.concatenate([lower, upper, 2.0 * length, 2.0 * length / count, first / growth, ends - cells])
    low, high, whole, step, scale, begin = layers.reshape(6, -1).repeat(cells, axis=1)
    place = np.arange(ends.item(-1), dtype=float)
    place -= begin
    place *= step
    depth = np.minimum(place, whole - place)
    from_high = depth < place
    depth *= growth
    np.expm1(depth, out=depth)
    depth *= scale
    return np.concatenate([np.where(from_high, high - depth, low + depth), walls[-1:]])


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
