"""Cells of metal cut at both ends. A cut that falls on a seam leaves no film of the neighbour."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from billet.forging.hot_bar import FILM_SHARE

Floats = npt.NDArray[np.float64]


class Kept(NamedTuple):
    """Cells [first, last) of a piece that stay, with the thickness and y they now have."""

    first: int
    last: int
    thickness_mm: Floats
    ratio: Floats


def cut_ends(
    thickness_mm: Floats, moles_per_mm: Floats, ratio: Floats, bottom_mm: float, top_mm: float
) -> Kept:
    """What stays when both ends are cut: the outer cells are thinner.

    thickness_mm, moles_per_mm: (cells,); ratio: (rows, cells). What a cut leaves of a cell that is thinner
    than `FILM_SHARE` of the height is no layer: its height and its carbon go to the neighbour.
    """
    height_mm = float(np.add.reduce(thickness_mm)) - bottom_mm - top_mm
    film_mm = FILM_SHARE * height_mm
    first, first_mm = _eaten(thickness_mm, bottom_mm)
    above, last_mm = _eaten(thickness_mm[::-1], top_mm)
    last = max(len(thickness_mm) - above, first + 1)
    thickness = thickness_mm[first:last].copy()
    if last == first + 1:
        thickness[0] = height_mm
    else:
        thickness[0] = thickness.item(0) - first_mm
        thickness[-1] = thickness.item(-1) - last_mm
    per_mm, kept = moles_per_mm[first:last], ratio[:, first:last]
    low, high = 0, last - first
    if not min(thickness.item(0), thickness.item(-1)) < film_mm:
        return Kept(first, last, thickness, kept)
    kept = kept.copy()
    while high - low > 1 and thickness[low] < film_mm:
        _film_to(kept, thickness, per_mm, low, low + 1)
        low += 1
    while high - low > 1 and thickness[high - 1] < film_mm:
        _film_to(kept, thickness, per_mm, high - 1, high - 2)
        high -= 1
    return Kept(first + low, first + high, thickness[low:high], kept[:, low:high])


def _eaten(thickness_mm: Floats, cut_mm: float) -> tuple[int, float]:
    """How many cells from the first on a cut takes whole, and what it takes of the next. [mm]"""
    for number, cell_mm in enumerate(map(float, thickness_mm)):
        if cell_mm > cut_mm:
            return number, cut_mm
        cut_mm -= cell_mm
    return len(thickness_mm) - 1, float(thickness_mm[-1])


def _film_to(ratio: Floats, thickness_mm: Floats, per_mm: Floats, film: int, neighbour: int) -> None:
    """Give height and carbon of one cell to its neighbour, in place."""
    moved = ratio[:, film] * (thickness_mm[film] * per_mm[film])
    held = ratio[:, neighbour] * (thickness_mm[neighbour] * per_mm[neighbour])
    thickness_mm[neighbour] += thickness_mm[film]
    ratio[:, neighbour] = (held + moved) / (thickness_mm[neighbour] * per_mm[neighbour])
