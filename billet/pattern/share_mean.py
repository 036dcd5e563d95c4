"""The mean of a grey that varies along y, over the footprint of a pixel: by share, not by points.

Points make false stars where layers are finer than pixels. A pixel is a parallelogram; along y it is the
sum of two even spreads, as wide as y changes along its two sides. The mean over both is the second
difference of the twice integrated grey, exact for a grey constant within each of its cells.
"""

from dataclasses import dataclass

import numpy as np

from billet.pattern.points import Floats

LEAST_FOOTPRINT_CELLS = 0.5


@dataclass(frozen=True)
class RunningGrey:
    """Grey from the bottom of the layers to their top in equal cells, once and twice integrated.

    cells: (n,) of 0 to 1; once, twice: (n,) integrals of (grey - mean) up to the beginning of each cell.
    Beyond bottom and top the outermost cell goes on.
    """

    height_mm: float
    mean: float
    cells: Floats
    once: Floats
    twice: Floats

    def mean_over(self, y_mm: Floats, side_mm: Floats, other_mm: Floats) -> Floats:
        """Grey of pixels centred at y, with the change of y along their two sides; all of one shape."""
        step = self.height_mm / len(self.cells)
        least = LEAST_FOOTPRINT_CELLS * step
        a = np.maximum(np.abs(side_mm), least)
        b = np.maximum(np.abs(other_mm), least)
        wide, narrow = 0.5 * (a + b), 0.5 * (a - b)
        outer = self._twice(y_mm + wide) + self._twice(y_mm - wide)
        inner = self._twice(y_mm + narrow) + self._twice(y_mm - narrow)
        found: Floats = np.clip(self.mean + (outer - inner) / (a * b), 0.0, 1.0)
        return found

    def _twice(self, y_mm: Floats) -> Floats:
        """The second integral, a parabola within each cell."""
        count = len(self.cells)
        place = y_mm * (count / self.height_mm)
        index = np.clip(place, 0, count - 1).astype(np.intp)
        beyond = (place - index) * (self.height_mm / count)
        found: Floats = self.twice[index] + beyond * (self.once[index] + (0.5 * beyond) * self.cells[index])
        return found


def running_grey(grey: Floats, height_mm: float) -> RunningGrey:
    """The integrals of a grey of equal cells, (n,), bottom up."""
    step = height_mm / len(grey)
    mean = float(np.mean(grey))
    over = grey - mean
    once = np.concatenate([[0.0], np.cumsum(over[:-1]) * step])
    twice = np.concatenate([[0.0], np.cumsum(once[:-1] * step + 0.5 * step**2 * over[:-1])])
    return RunningGrey(height_mm, mean, over, once, twice)
