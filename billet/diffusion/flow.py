"""Fluxes of carbon between the cells of a piece and through its faces, and their derivatives by y.

Between neighbouring cells the flux is the difference of activity over the resistances of the two half
cells, so activity is continuous over a seam and content is not.
"""

import math
from dataclasses import dataclass, field

import numpy as np

from billet.diffusion.activity_law import SteelLaw, read_table
from billet.diffusion.cutting import cut_ends
from billet.diffusion.profile import Floats, Profile

# A face held by more than _JUMP under its cell is steep.
_JUMP = 0.05
# A shut face opens once its metal is above what it is held at by so much.
_OVER = 0.01
_SLIVER = 1e-5
_MM2_TO_M2 = 1e-6
MOST_RATIO = 0.4
"""No steel holds so much carbon for a metal atom; where a search for y strays, it is held here."""


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


@dataclass(frozen=True)
class Linear:
    """Gains of the cells in mol/(m2 s), outflow at both faces, and their derivatives by y.

    gain, diagonal: (rows, cells); below, above: (rows * cells - 1,), the derivative of the gains.
    """

    gain: Floats
    out: list[float]
    below: Floats
    diagonal: Floats
    above: Floats
    by_face: list[float]


class Flow:
    """Fluxes and their derivatives for the cells of a profile; every row of y moves for itself.

    `first` and `last` are the cells of the profile that are still there.
    """

    def __init__(self, profile: Profile, law: SteelLaw) -> None:
        steel = profile.steel
        self.first, self.last = 0, len(steel)
        self.thickness_mm = profile.thickness_mm
        self.sliver_mm = _SLIVER * profile.height_mm
        self.per_mm = profile.metals.moles_per_mm[steel]
        self.reference, self.slope = law.reference[steel], law.slope[steel]
        self.hindrance = self.reference - law.mobility[steel]
        self.fall = self.slope - law.mobility_slope[steel]
        self.tables = [(steel == index, table) for index, table in law.tables.items() if index in steel]
        self._sized()

    def _sized(self) -> None:
        self.moles = self.thickness_mm * self.per_mm
        # A sliver conducts like a cell of some size, or its flux would drown all others in rounding.
        thick = np.maximum(self.thickness_mm, self.sliver_mm)
        self.half = (0.5 * _MM2_TO_M2) * thick / self.per_mm
        self.tabled = [(np.flatnonzero(here), table) for here, table in self.tables if here.any()]

    def cut(self, ratio: Floats, bottom_mm: float, top_mm: float) -> tuple[Floats, float]:
        """Take metal off both ends: y of the cells that stay, and the carbon gone from row 0, mol/m2."""
        if bottom_mm <= 0.0 and top_mm <= 0.0:
            return ratio, 0.0
        before = float(self.moles @ ratio[0])
        kept = cut_ends(self.thickness_mm, self.per_mm, ratio, bottom_mm, top_mm)
        first, last, self.thickness_mm = kept.first, kept.last, kept.thickness_mm
        self.first, self.last = self.first + first, self.first + last
        for name in ("per_mm", "reference", "slope", "hindrance", "fall"):
            setattr(self, name, getattr(self, name)[first:last])
        self.tables = [(here[first:last], table) for here, table in self.tables]
        self._sized()
        return kept.ratio, before - float(self.moles @ kept.ratio[0])

    def activities(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity of each cell and its derivative by y: (rows, cells) both."""
        rest = 1.0 - ratio
        growth = np.exp(self.reference + self.slope * ratio) / rest
        activity = growth * ratio
        by_activity = growth / rest + self.slope * activity
        for where, table in self.tabled:
            read = read_table(table.activity, table.step, ratio[:, where])
            activity[:, where], by_activity[:, where] = read
        return activity, by_activity

    def steepest(self) -> Floats:
        """Most that activity rises with y in each cell, whatever its y: (cells,)."""
        most = np.exp(self.reference + self.slope * MOST_RATIO) * (1.0 + self.slope) / (1.0 - MOST_RATIO) ** 2
        for where, table in self.tabled:
            most[where] = float(np.max(np.diff(table.activity))) / table.step
        return most

    def state(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity of each cell and the resistance of half of it: (rows, cells) both."""
        rest = 1.0 - ratio
        activity = np.exp(self.reference + self.slope * ratio) * ratio / rest
        resistance = self.half * np.exp(self.hindrance + self.fall * ratio) / (rest * rest)
        for where, table in self.tabled:
            here = ratio[:, where]
            activity[:, where] = read_table(table.activity, table.step, here)[0]
            resistance[:, where] = self.half[where] * read_table(table.hindrance, table.step, here)[0]
        return activity, resistance

    def slopes(self, ratio: Floats, activity: Floats, resistance: Floats) -> tuple[Floats, Floats]:
        """Derivatives of activity and resistance by y."""
        rest = 1.0 - ratio
        by_activity = np.exp(self.reference + self.slope * ratio) / (rest * rest)
        by_activity += self.slope * activity
        by_resistance = resistance * (self.fall + 2.0 / rest)
        for where, table in self.tabled:
            here = ratio[:, where]
            by_activity[:, where] = read_table(table.activity, table.step, here)[1]
            by_resistance[:, where] = self.half[where] * read_table(table.hindrance, table.step, here)[1]
        return by_activity, by_resistance

    def held(self, side: int, ratio: Floats, faces: Faces) -> float | None:
        """Activity at which a face is held now; None where it is closed."""
        if faces.share is None:
            return faces.held[side]
        ratio_there = faces.share * float(ratio[1, -side] if len(ratio) > 1 else faces.unharmed[side])
        for where, table in self.tabled:
            if where[-side] == (0, len(self.moles) - 1)[side]:
                return float(read_table(table.activity, table.step, np.array([ratio_there]))[0][0])
        rise = float(self.reference[-side]) + float(self.slope[-side]) * ratio_there
        return math.exp(rise) * ratio_there / (1.0 - ratio_there)

    def _outflow(self, ratio: Floats, activity: Floats, resistance: Floats, faces: Faces) -> list[float]:
        """What leaves row 0 through bottom and top, mol/(m2 s)."""
        out = [0.0, 0.0]
        for side in (0, 1):
            held = self.held(side, ratio, faces) if faces.opened[side] else None
            if held is not None:
                out[side] = (float(activity[0, -side]) - held) / float(resistance[0, -side])
        return out

    def opened(self, ratio: Floats, faces: Faces) -> list[bool]:
        """Which faces let carbon through at this moment."""
        held = [self.held(side, ratio, faces) for side in (0, 1)]
        if not faces.one_way:
            return [there is not None for there in held]
        activity = self.state(ratio)[0]
        return [there is not None and bool(activity[0, -s] > there) for s, there in enumerate(held)]

    def wrong_way(self, ratio: Floats, faces: Faces, gone: list[float]) -> list[int]:
        """Faces that only let carbon out and stood the wrong way in the step that ended with `ratio`:
        open, and carbon came in; or shut, and the metal is now above what the face is held at."""
        if not faces.one_way:
            return []
        activity, found = self.state(ratio)[0], []
        for side in (0, 1):
            there = self.held(side, ratio, faces)
            if there is not None and (
                gone[side] < 0.0 if faces.opened[side] else activity[0, -side] > (1.0 + _OVER) * there
            ):
                found.append(side)
        return found

    def jumps(self, ratio: Floats, faces: Faces) -> bool:
        """Whether a face is held so far below its cell that the first moments are steep."""
        held = [self.held(side, ratio, faces) for side in (0, 1)]
        if held == [None, None]:
            return False
        there = self.state(ratio[:1])[0][0]
        return any(h is not None and h < (1.0 - _JUMP) * there[-s] for s, h in enumerate(held))

    def gains(self, ratio: Floats, faces: Faces) -> tuple[Floats, list[float]]:
        """Carbon each cell gains, mol/(m2 s), and what leaves row 0 through bottom and top."""
        activity, resistance = self.state(ratio)
        flux = (activity[:, :-1] - activity[:, 1:]) / (resistance[:, :-1] + resistance[:, 1:])
        out = self._outflow(ratio, activity, resistance, faces)
        return balance(flux, out), out

    def linearised(self, ratio: Floats, faces: Faces) -> Linear:
        """Gains at `ratio` with their derivatives.

        How a held content follows row 1 is left out of them: the method keeps its order without.
        """
        activity, resistance = self.state(ratio)
        by_activity, by_resistance = self.slopes(ratio, activity, resistance)
        both = resistance[:, :-1] + resistance[:, 1:]
        flux = (activity[:, :-1] - activity[:, 1:]) / both
        out = self._outflow(ratio, activity, resistance, faces)
        # The last column stays 0: rows are not coupled.
        by_low, by_high = np.zeros(ratio.shape), np.zeros(ratio.shape)
        by_low[:, :-1] = (by_activity[:, :-1] - flux * by_resistance[:, :-1]) / both
        by_high[:, :-1] = (by_activity[:, 1:] + flux * by_resistance[:, 1:]) / both
        diagonal = -by_low
        diagonal[:, 1:] -= by_high[:, :-1]
        by_face = [0.0, 0.0]
        for side in (0, 1):
            if faces.opened[side]:
                slope = float(by_activity[0, -side] - out[side] * by_resistance[0, -side])
                by_face[side] = slope / float(resistance[0, -side])
                diagonal[0, -side] -= by_face[side]
        gain = balance(flux, out)
        return Linear(gain, out, by_low.ravel()[:-1], diagonal, by_high.ravel()[:-1], by_face)


def balance(flux: Floats, out: list[float]) -> Floats:
    """Gains of all cells from the fluxes between them and what leaves row 0."""
    gain = np.zeros((flux.shape[0], flux.shape[1] + 1))
    gain[:, :-1] -= flux
    gain[:, 1:] += flux
    gain[0, 0] -= out[0]
    gain[0, -1] -= out[1]
    return gain
