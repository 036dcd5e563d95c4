"""How y rises through the cells of a piece: slopes that overshoot no neighbour and never look over a seam."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]


def per_mm_between(thickness_mm: Floats, bounds: Ints) -> Floats:
    """One over the distance between the middles of each cell and the next, 0 over a seam: (cells - 1,).

    thickness_mm: (cells,); bounds: (layers + 1,), as `Profile.layer_bounds`.
    """
    per_mm: Floats = 2.0 / (thickness_mm[:-1] + thickness_mm[1:])
    per_mm[bounds[1:-1] - 1] = 0.0
    return per_mm


def flat_at_walls(ratio: Floats, per_mm: Floats) -> Floats:
    """Slope of y in each cell per mm; cells beside a seam or a face lie flat. (cells,), as `ratio`.

    per_mm: (cells - 1,), as `per_mm_between` gives it.
    """
    low, high = _rises(ratio, per_mm)
    slope = np.minimum(low, high)
    np.maximum(slope, 0.0, out=slope)
    falling = np.maximum(low, high)
    np.minimum(falling, 0.0, out=falling)
    slope += falling
    return slope


def up_to_walls(ratio: Floats, thickness_mm: Floats, bounds: Ints) -> Floats:
    """The same, but that a cell beside one seam or face takes the slope to its one neighbour, as far as that
    leaves it carbon: (cells,)."""
    per_mm = per_mm_between(thickness_mm, bounds)
    low, high = _rises(ratio, per_mm)
    walls = np.zeros(len(ratio) + 1, dtype=bool)
    walls[bounds] = True
    slope = np.where(walls[:-1] != walls[1:], low + high, flat_at_walls(ratio, per_mm))
    most = 2.0 * ratio / thickness_mm
    kept: Floats = np.minimum(np.maximum(slope, -most), most)
    return kept


def _rises(ratio: Floats, per_mm: Floats) -> tuple[Floats, Floats]:
    """Rise of y per mm below and above each cell, 0 at faces and seams: (cells,) both."""
    rise = np.zeros(len(ratio) + 1)
    inner = rise[1:-1]
    np.subtract(ratio[1:], ratio[:-1], out=inner)
    inner *= per_mm
    return rise[:-1], rise[1:]
