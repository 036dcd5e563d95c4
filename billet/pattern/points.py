"""Points of a bar: x across from its middle, y up from its bottom, z along from the handle end. [mm]"""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


class Points(NamedTuple):
    """Three arrays that broadcast with one another."""

    x: Floats
    y: Floats
    z: Floats


Map = Callable[[Points], Points]
"""One step of the forging backwards: where the metal was before the step."""


def at(x: npt.ArrayLike, y: npt.ArrayLike, z: npt.ArrayLike) -> Points:
    """Points from anything that is an array of numbers."""
    return Points(*(np.asarray(each, dtype=np.float64) for each in (x, y, z)))
