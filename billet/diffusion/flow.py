"""Fluxes of carbon between the cells of a piece and through its faces, and their derivatives by y.

Between neighbouring cells the flux is the difference of activity over the resistances of the two half
cells, so activity is continuous over a seam and content is not.
"""

from dataclasses import dataclass, field
from typing import NamedTuple, TypeVar

import numpy as np

from billet.diffusion.activity_law import SteelLaw
from billet.diffusion.cutting import cut_ends
from billet.diffusion.profile import Floats, Ints, Profile

# A face held by more than _JUMP under its cell is steep.
_JUMP = 0.05
# A shut face opens once its metal holds so much more than what it is held at.
_OVER = 0.01
_SLIVER = 1e-5
_MM2_TO_M2 = 1e-6
Values = TypeVar("Values", Floats, Ints)


@dataclass
class Faces:
    """How bottom and top are held, and the carbon that left there, mol/m2.

    held: a fixed activity, or None where the face is closed. share: instead, the face is held at this
    share of the content of the row that loses nothing, and only ever lets carbon out; that row is row 1,
    or `unharmed`, its y at bottom and top, where it stands still. `opened` is settled for each step.
    """

    held: tuple[float | None, float | None] = (None, None)
    share: float | None = None
    unharmed: tuple[float, float] = (0.0, 0.0)
    opened: list[bool] = field(default_factory=lambda: [False, False])
    gone: list[float] = field(default_factory=lambda: [0.0, 0.0])

    def turn(self, sides: list[int]) -> None:
        """Shut these faces where they are open, open them where they are shut."""
        for side in sides:
            self.opened[side] = not self.opened[side]

    @property
    def one_way(self) -> bool:
        """Whether carbon only ever goes out."""
        return self.share is not None


class Linear(NamedTuple):
    """Gains of the cells in mol/(m2 s), outflow at both faces, and what takes from them as y grows.

    gain, drain: (cells,) of all rows, drain the loss of a cell by its own y; below, above: one less, that of
    the cell above by the y of the one below it, and the other way round; both below 0.
    """

    gain: Floats
    out: list[float]
    below: Floats
    drain: Floats
    above: Floats
    by_face: list[float]


class Remaining:
    """Cells of a profile that are still there while metal goes from both ends: [first, last) of it."""

    def __init__(self, profile: Profile) -> None:
        self.first, self.last = 0, len(profile.steel)
        self.thickness_mm, self.steel = profile.thickness_mm, profile.steel
        self.sliver_mm = _SLIVER * profile.height_mm
        self.per_mm = profile.metals.moles_per_mm.take(profile.steel)
        self.moles = self.thickness_mm * self.per_mm

    def cut(self, ratio: Floats, bottom_mm: float, top_mm: float) -> tuple[Floats, float]:
        """Take metal off both ends: y of the cells that stay, and the carbon gone from row 0, mol/m2.

        ratio: (rows, cells), of all rows of the profile.
        """
        if bottom_mm <= 0.0 and top_mm <= 0.0:
            return ratio, 0.0
        before = float(self.moles.dot(ratio[0]))
        kept = cut_ends(self.thickness_mm, self.per_mm, ratio, bottom_mm, top_mm)
        first, last, self.thickness_mm = kept.first, kept.last, kept.thickness_mm
        self.first, self.last = self.first + first, self.first + last
        self.per_mm, self.steel = self.per_mm[first:last], self.steel[first:last]
        self.moles = self.thickness_mm * self.per_mm
        return kept.ratio, before - float(self.moles.dot(kept.ratio[0]))


class Flow:
    """Fluxes and their derivatives for cells as they are at one time, `rows` rows of them end to end.

    Every y here is (rows * cells,); no carbon goes from row to row. `ends` are the outermost cells of row 0.
    """

    def __init__(self, cells: Remaining, law: SteelLaw, rows: int = 1) -> None:
        self.rows, count = rows, len(cells.thickness_mm)
        self.ends = (0, count - 1)
        self._seams_of_rows = slice(count - 1, None, count)
        # A sliver conducts like a cell of some size, or its flux would drown all others in rounding.
        half = np.maximum(cells.thickness_mm, cells.sliver_mm)
        half /= cells.per_mm
        half *= 0.5 * _MM2_TO_M2
        self.moles = _in_rows(cells.moles, rows)
        self.law = law.of_cells(_in_rows(cells.steel, rows), _in_rows(half, rows))

    def floors(self, ratio: Floats, faces: Faces) -> tuple[float, float] | None:
        """y at which faces that only let carbon out are held; None for any others."""
        if faces.share is None:
            return None
        bottom, top = faces.unharmed
        if self.rows > 1:
            cells = self.ends[1] + 1
            bottom, top = ratio.item(cells), ratio.item(2 * cells - 1)
        return faces.share * bottom, faces.share * top

    def held(self, ratio: Floats, faces: Faces) -> tuple[float | None, float | None]:
        """Activity at which each face is held now; None where it is closed."""
        floors = self.floors(ratio, faces)
        if floors is None:
            return faces.held
        return self.law.at(self.ends[0], floors[0]), self.law.at(self.ends[1], floors[1])

    def settle(self, ratio: Floats, faces: Faces) -> None:
        """Open the faces that let carbon through at this moment."""
        floors = self.floors(ratio, faces)
        for side, cell in enumerate(self.ends):
            faces.opened[side] = (
                faces.held[side] is not None if floors is None else ratio.item(cell) > floors[side]
            )

    def wrong_way(self, ratio: Floats, gone: list[float], faces: Faces) -> list[int]:
        """Faces that only let carbon out and stood the wrong way in the step that ended with `ratio`:
        open, and carbon came in; or shut, and the metal is now above what the face is held at."""
        floors, found = self.floors(ratio, faces), []
        if floors is not None:
            for side, cell in enumerate(self.ends):
                above = ratio.item(cell) > (1.0 + _OVER) * floors[side]
                if gone[side] < 0.0 if faces.opened[side] else above:
                    found.append(side)
        return found

    def jumps(self, ratio: Floats, faces: Faces) -> bool:
        """Whether a face is held so far below its cell that the first moments are steep."""
        floors = self.floors(ratio, faces)
        for side, cell in enumerate(self.ends):
            here = ratio.item(cell)
            there = faces.held[side] if floors is None else floors[side]
            if there is not None and floors is None:
                here = self.law.at(cell, here)
            if there is not None and there < (1.0 - _JUMP) * here:
                return True
        return False

    def conduct(self, resistance: Floats) -> Floats:
        """How well carbon goes between each cell and the next, from the resistance of half of each."""
        conduct: Floats = 1.0 / (resistance[:-1] + resistance[1:])
        if self.rows > 1:
            conduct[self._seams_of_rows] = 0.0
        return conduct

    def gains(self, ratio: Floats, faces: Faces) -> tuple[Floats, list[float]]:
        """Carbon each cell gains, mol/(m2 s), and what leaves row 0 through bottom and top."""
        activity, resistance = self.law.read(ratio)
        flux = self.conduct(resistance)
        flux *= activity[:-1] - activity[1:]
        out = self._outflow(ratio, activity, resistance, faces)
        return self.balance(flux, out), out

    def linearised(self, ratio: Floats, faces: Faces) -> Linear:
        """Gains at `ratio` with their derivatives.

        How a held content follows row 1 is left out of them: the method keeps its order without.
        """
        activity, resistance, rise, climb = self.law.read_slopes(ratio)
        conduct = self.conduct(resistance)
        flux = activity[:-1] - activity[1:]
        flux *= conduct
        out = self._outflow(ratio, activity, resistance, faces)
        below = flux * climb[:-1]
        below -= rise[:-1]
        below *= conduct
        above = flux * climb[1:]
        above += rise[1:]
        above *= np.negative(conduct, out=conduct)
        drain = np.zeros(len(ratio))
        lower, upper = drain[:-1], drain[1:]
        lower -= below
        upper -= above
        by_face = [0.0, 0.0]
        for side, cell in enumerate(self.ends):
            if faces.opened[side]:
                by_face[side] = (rise.item(cell) - out[side] * climb.item(cell)) / resistance.item(cell)
                drain[cell] += by_face[side]
        return Linear(self.balance(flux, out), out, below, drain, above, by_face)

    def balance(self, flux: Floats, out: list[float]) -> Floats:
        """Gains of all cells from the fluxes between them and what leaves row 0."""
        gain = np.empty(len(flux) + 1)
        gain[0] = 0.0
        gain[1:] = flux
        lower = gain[:-1]
        lower -= flux
        for side, cell in enumerate(self.ends):
            gain[cell] -= out[side]
        return gain

    def _outflow(self, ratio: Floats, activity: Floats, resistance: Floats, faces: Faces) -> list[float]:
        """What leaves row 0 through bottom and top, mol/(m2 s)."""
        out = [0.0, 0.0]
        if any(faces.opened):
            for side, (cell, held) in enumerate(zip(self.ends, self.held(ratio, faces), strict=True)):
                if faces.opened[side] and held is not None:
                    out[side] = (activity.item(cell) - held) / resistance.item(cell)
        return out


def _in_rows(values: Values, rows: int) -> Values:
    return values if rows == 1 else np.concatenate([values] * rows)
