"""Fluxes of carbon between the cells of a piece and through its faces, and their derivatives by y.

Between neighbouring cells the flux is the difference of activity over the resistances of the two half
cells, so activity is continuous over a seam and content is not.
"""

from dataclasses import dataclass, field

import numpy as np

from billet.diffusion.activity_law import SteelLaw
from billet.diffusion.cutting import cut_ends
from billet.diffusion.profile import Floats, Profile

# A face held by more than _JUMP under its cell is steep.
_JUMP = 0.05
# A shut face opens once its metal holds so much more than what it is held at.
_OVER = 0.01
_SLIVER = 1e-5
_MM2_TO_M2 = 1e-6


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

    def floor(self, side: int, ratio: Floats) -> float | None:
        """y at which a face that only lets carbon out is held; None for any other."""
        if self.share is None:
            return None
        return self.share * (ratio.item(1, -side) if len(ratio) > 1 else self.unharmed[side])

    def settle(self, ratio: Floats) -> None:
        """Open the faces that let carbon through at this moment."""
        floors = [self.floor(side, ratio) for side in (0, 1)]
        self.opened = [
            self.held[side] is not None if floor is None else ratio.item(0, -side) > floor
            for side, floor in enumerate(floors)
        ]

    def wrong_way(self, ratio: Floats, gone: list[float]) -> list[int]:
        """Faces that only let carbon out and stood the wrong way in the step that ended with `ratio`:
        open, and carbon came in; or shut, and the metal is now above what the face is held at."""
        found = []
        for side in (0, 1):
            floor = self.floor(side, ratio)
            if floor is not None and (
                gone[side] < 0.0 if self.opened[side] else ratio.item(0, -side) > (1.0 + _OVER) * floor
            ):
                found.append(side)
        return found

    def turn(self, sides: list[int]) -> None:
        """Shut these faces where they are open, open them where they are shut."""
        for side in sides:
            self.opened[side] = not self.opened[side]

    @property
    def one_way(self) -> bool:
        """Whether carbon only ever goes out."""
        return self.share is not None


@dataclass(frozen=True)
class Linear:
    """Gains of the cells in mol/(m2 s), outflow at both faces, and what takes from them as y grows.

    gain, drain: (rows, cells), drain the loss of a cell by its own y; below, above: (rows * cells - 1,), that
    of the cell above by the y of the one below it, and the other way round; both below 0.
    """

    gain: Floats
    out: list[float]
    below: Floats
    drain: Floats
    above: Floats
    by_face: list[float]


class Flow:
    """Fluxes and their derivatives for the cells of a profile; every row of y moves for itself.

    `first` and `last` are the cells of the profile that are still there.
    """

    def __init__(self, profile: Profile, law: SteelLaw) -> None:
        self.first, self.last = 0, len(profile.steel)
        self.thickness_mm = profile.thickness_mm
        self.sliver_mm = _SLIVER * profile.height_mm
        self.per_mm = profile.metals.moles_per_mm[profile.steel]
        self.law = law.of_cells(profile.steel)
        self._sized()

    def _sized(self) -> None:
        self.moles = self.thickness_mm * self.per_mm
        # A sliver conducts like a cell of some size, or its flux would drown all others in rounding.
        self.half = np.maximum(self.thickness_mm, self.sliver_mm) / self.per_mm
        self.half *= 0.5 * _MM2_TO_M2

    def cut(self, ratio: Floats, bottom_mm: float, top_mm: float) -> tuple[Floats, float]:
        """Take metal off both ends: y of the cells that stay, and the carbon gone from row 0, mol/m2."""
        if bottom_mm <= 0.0 and top_mm <= 0.0:
            return ratio, 0.0
        before = float(self.moles @ ratio[0])
        kept = cut_ends(self.thickness_mm, self.per_mm, ratio, bottom_mm, top_mm)
        first, last, self.thickness_mm = kept.first, kept.last, kept.thickness_mm
        self.first, self.last = self.first + first, self.first + last
        self.per_mm, self.law = self.per_mm[first:last], self.law.part(first, last)
        self._sized()
        return kept.ratio, before - float(self.moles @ kept.ratio[0])

    def state(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity of each cell and the resistance of half of it: (rows, cells) both."""
        activity, resistance = self.law.read(ratio)
        resistance *= self.half
        return activity, resistance

    def held(self, side: int, ratio: Floats, faces: Faces) -> float | None:
        """Activity at which a face is held now; None where it is closed."""
        floor = faces.floor(side, ratio)
        return faces.held[side] if floor is None else self.law.at(-side, floor)

    def _outflow(self, ratio: Floats, activity: Floats, resistance: Floats, faces: Faces) -> list[float]:
        """What leaves row 0 through bottom and top, mol/(m2 s)."""
        out = [0.0, 0.0]
        for side in (0, 1):
            held = self.held(side, ratio, faces) if faces.opened[side] else None
            if held is not None:
                out[side] = (activity.item(0, -side) - held) / resistance.item(0, -side)
        return out

    def jumps(self, ratio: Floats, faces: Faces) -> bool:
        """Whether a face is held so far below its cell that the first moments are steep."""
        for side in (0, 1):
            here, there = ratio.item(0, -side), faces.floor(side, ratio)
            if there is None and (there := faces.held[side]) is not None:
                here = self.law.at(-side, here)
            if there is not None and there < (1.0 - _JUMP) * here:
                return True
        return False

    def gains(self, ratio: Floats, faces: Faces) -> tuple[Floats, list[float]]:
        """Carbon each cell gains, mol/(m2 s), and what leaves row 0 through bottom and top."""
        activity, resistance = self.state(ratio)
        flux = activity[:, :-1] - activity[:, 1:]
        flux /= resistance[:, :-1] + resistance[:, 1:]
        out = self._outflow(ratio, activity, resistance, faces)
        return balance(flux, out), out

    def linearised(self, ratio: Floats, faces: Faces) -> Linear:
        """Gains at `ratio` with their derivatives.

        How a held content follows row 1 is left out of them: the method keeps its order without.
        """
        activity, resistance, by_activity, by_resistance = self.law.read_slopes(ratio)
        resistance *= self.half
        by_resistance *= self.half
        conduct = 1.0 / (resistance[:, :-1] + resistance[:, 1:])
        flux = (activity[:, :-1] - activity[:, 1:]) * conduct
        out = self._outflow(ratio, activity, resistance, faces)
        # The last column stays 0: rows are not coupled.
        rise, fall = np.zeros(ratio.shape), np.zeros(ratio.shape)
        rise[:, :-1] = (flux * by_resistance[:, :-1] - by_activity[:, :-1]) * conduct
        fall[:, :-1] = (flux * by_resistance[:, 1:] + by_activity[:, 1:]) * -conduct
        drain = -rise
        drain[:, 1:] -= fall[:, :-1]
        by_face = [0.0, 0.0]
        for side in (0, 1):
            if faces.opened[side]:
                slope = float(by_activity[0, -side] - out[side] * by_resistance[0, -side])
                by_face[side] = slope / float(resistance[0, -side])
                drain[0, -side] += by_face[side]
        return Linear(balance(flux, out), out, rise.ravel()[:-1], drain, fall.ravel()[:-1], by_face)


def balance(flux: Floats, out: list[float]) -> Floats:
    """Gains of all cells from the fluxes between them and what leaves row 0."""
    gain = np.empty((flux.shape[0], flux.shape[1] + 1))
    gain[:, 0] = 0.0
    gain[:, 1:] = flux
    gain[:, :-1] -= flux
    gain[0, 0] -= out[0]
    gain[0, -1] -= out[1]
    return gain
