"""A die pushed into the faces; the bar grows longer by what it displaced.

y_old = H (y - b) / (t - b), z_old = int (t - b) / mean dz, over the length: the rule of plain columns, which
goes right through the bar.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from billet.pattern.flattening import Relief, folded, mean_of_cell
from billet.pattern.points import Floats, Points


@dataclass(frozen=True)
class Imprint:
    """Back from the bar with the marks of the die in it to the flat bar before, `before_mm` high."""

    relief: Relief
    before_mm: float

    def __call__(self, new: Points) -> Points:
        beside, side = folded(new.z - self.relief.first_mm, self.relief.half_mm[1])
        column = beside * ((self.relief.top_mm.shape[1] - 1) / self.relief.half_mm[1])
        index = np.arange(self.relief.top_mm.shape[1])
        bottom = np.interp(column, index, self.relief.bottom_mm[0])
        thickness = np.interp(column, index, self.relief.thickness_mm[0])
        ripple = np.interp(column, index, self._ripple_mm)
        mean_mm = self.relief.mean_mm
        y = self.before_mm * (new.y - bottom) / thickness
        return Points(new.x, y, (new.z + side * ripple) * (mean_mm / self.before_mm))

    @cached_property
    def _ripple_mm(self) -> Floats:
        """How far the metal between the middle of a mark and each place is more or less than usual."""
        over = self.relief.thickness_mm[0] / mean_of_cell(self.relief.thickness_mm) - 1.0
        step = self.relief.half_mm[1] / (len(over) - 1)
        return np.concatenate([[0.0], np.cumsum(0.5 * (over[1:] + over[:-1]) * step)])
