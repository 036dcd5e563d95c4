"""Carbon moving through a piece in one fire: finite volumes in y, a Rosenbrock method in time.

Between neighbouring cells the flux is the difference of activity over the resistances of the two half
cells, so activity is continuous over a seam and content is not. The method in time is the L-stable ROS2
of Verwer and others (1999): second order, one matrix a step, no iteration. It conserves carbon to
rounding, because every stage is a difference of fluxes; what leaves through the faces is one more
unknown of the same method.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from billet.diffusion.activity_law import SteelLaw, read_table
from billet.diffusion.profile import Floats, Profile, cut_ends
from billet.diffusion.tridiagonal import tridiagonal

_GAMMA = 1.0 - math.sqrt(0.5)
_SAFETY, _LEAST, _MOST = 0.85, 0.2, 6.0
# A face held by more than _JUMP under its cell is steep; two Euler steps of this share of the span first.
_SMOOTHING = 0.02
# Less than no carbon means that the step was too long; so little is rounding.
_LEAST_RATIO = -1e-12
_JUMP = 0.05
_SLIVER = 1e-5
# Shortest step, as a share of the span.
_SHORTEST = 1e-3
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
        self.tabled = [(np.flatnonzero(here), table) for here, table in self.tables]

    def cut(self, ratio: Floats, bottom_mm: float, top_mm: float) -> tuple[Floats, float]:
        """Take metal off both ends: y of the cells that stay, and the carbon gone from row 0, mol/m2."""
        if bottom_mm <= 0.0 and top_mm <= 0.0:
            return ratio, 0.0
        before = float(self.moles @ ratio[0])
        first, last, self.thickness_mm = cut_ends(self.thickness_mm, bottom_mm, top_mm)
        self.first, self.last = self.first + first, self.first + last
        for name in ("per_mm", "reference", "slope", "hindrance", "fall"):
            setattr(self, name, getattr(self, name)[first:last])
        self.tables = [(here[first:last], table) for here, table in self.tables]
        self._sized()
        ratio = ratio[:, first:last]
        return ratio, before - float(self.moles @ ratio[0])

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

    def _held(self, side: int, ratio: Floats, faces: Faces) -> float | None:
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
            held = self._held(side, ratio, faces) if faces.opened[side] else None
            if held is not None:
                out[side] = (float(activity[0, -side]) - held) / float(resistance[0, -side])
        return out

    def _open(self, ratio: Floats, activity: Floats, faces: Faces) -> list[bool]:
        """Which faces let carbon through in the coming step."""
        held = [self._held(side, ratio, faces) for side in (0, 1)]
        if faces.share is None:
            return [there is not None for there in held]
        return [there is not None and activity[0, -s] > there for s, there in enumerate(held)]

    def jumps(self, ratio: Floats, faces: Faces) -> bool:
        """Whether a face is held so far below its cell that the first moments are steep."""
        held = [self._held(side, ratio, faces) for side in (0, 1)]
        if held == [None, None]:
            return False
        there = self.state(ratio[:1])[0][0]
        return any(h is not None and h < (1.0 - _JUMP) * there[-s] for s, h in enumerate(held))

    def gains(self, ratio: Floats, faces: Faces) -> tuple[Floats, list[float]]:
        """Carbon each cell gains, mol/(m2 s), and what leaves row 0 through bottom and top."""
        activity, resistance = self.state(ratio)
        flux = (activity[:, :-1] - activity[:, 1:]) / (resistance[:, :-1] + resistance[:, 1:])
        out = self._outflow(ratio, activity, resistance, faces)
        return _balance(flux, out), out

    def linearised(self, ratio: Floats, faces: Faces) -> Linear:
        """Gains at `ratio` with their derivatives.

        How a held content follows row 1 is left out of them: the method keeps its order without.
        """
        activity, resistance = self.state(ratio)
        by_activity, by_resistance = self.slopes(ratio, activity, resistance)
        both = resistance[:, :-1] + resistance[:, 1:]
        flux = (activity[:, :-1] - activity[:, 1:]) / both
        faces.opened = self._open(ratio, activity, faces)
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
        gain = _balance(flux, out)
        return Linear(gain, out, by_low.ravel()[:-1], diagonal, by_high.ravel()[:-1], by_face)


def _balance(flux: Floats, out: list[float]) -> Floats:
    """Gains of all cells from the fluxes between them and what leaves row 0."""
    gain = np.zeros((flux.shape[0], flux.shape[1] + 1))
    gain[:, :-1] -= flux
    gain[:, 1:] += flux
    gain[0, 0] -= out[0]
    gain[0, -1] -= out[1]
    return gain


def advance(
    flow: Flow, ratio: Floats, faces: Faces, span_s: float, step_s: float, allowed: float
) -> tuple[Floats, float]:
    """Carbon after `span_s`: y of all rows, and the step that the next span should begin with.

    ratio: (rows, cells). `allowed` is the error of the first-order result in one step, as the root of
    moles times y squared. What leaves through the faces is added to `faces.gone`.
    """
    elapsed = 0.0
    if flow.jumps(ratio, faces):
        step = _SMOOTHING * span_s
        for _ in range(2):
            ratio = ratio + _euler(flow, ratio, faces, step)
            elapsed += step
    while elapsed < span_s:
        rest = span_s - elapsed
        step = rest if step_s >= 0.9 * rest else min(step_s, 0.6 * rest)
        linear = flow.linearised(ratio, faces)
        while True:
            change, gone, error = _ros2(flow, ratio, faces, linear, step)
            if float(np.min(ratio + change)) < _LEAST_RATIO:
                error = max(error, 10.0 * allowed)
            growth = min(_MOST, max(_LEAST, _SAFETY / math.sqrt(error / allowed + 1e-12)))
            if error <= allowed:
                break
            step *= growth
            if step < _SHORTEST * span_s:
                # Too steep for an error estimate: Euler's step is rougher, but never overshoots.
                step = _SHORTEST * span_s
                change, gone, growth = _euler(flow, ratio, faces, step), [0.0, 0.0], 1.0
                break
        ratio = ratio + change
        faces.gone[0] += gone[0]
        faces.gone[1] += gone[1]
        elapsed = span_s if step >= rest else elapsed + step
        step_s = step * growth
    return ratio, step_s


def _solver(linear: Linear, mass: Floats) -> Callable[[Floats], Floats]:
    """Solves (mass - derivative of the gains) x = right side, factored once; (rows, cells) all."""
    matrix = mass - linear.diagonal
    shape, diagonal = matrix.shape, matrix.ravel()
    if len(diagonal) < 3:
        dense = np.diag(diagonal) - np.diag(linear.below, -1) - np.diag(linear.above, 1)
        return lambda right: np.asarray(np.linalg.solve(dense, right.ravel())).reshape(shape)
    factor, solve = tridiagonal()
    factored = factor(-linear.below, diagonal, -linear.above)[:5]
    return lambda right: solve(*factored, right.ravel())[0].reshape(shape)


def _euler(flow: Flow, ratio: Floats, faces: Faces, step_s: float) -> Floats:
    """Change of y in one linearly implicit Euler step; adds to `faces.gone`."""
    linear = flow.linearised(ratio, faces)
    change = _solver(linear, flow.moles * (1.0 / step_s))(linear.gain)
    for side in (0, 1):
        slope = linear.by_face[side] * float(change[0, -side])
        faces.gone[side] += step_s * (linear.out[side] + slope)
    return change


def _ros2(
    flow: Flow, ratio: Floats, faces: Faces, linear: Linear, step_s: float
) -> tuple[Floats, list[float], float]:
    """Change of y, carbon through each face, and the error of one step."""
    solve = _solver(linear, flow.moles * (1.0 / (_GAMMA * step_s)))
    first = solve(linear.gain * (1.0 / _GAMMA))
    gain, out = flow.gains(ratio + first, faces)
    gain *= 1.0 / _GAMMA
    second = solve(gain - flow.moles * first * (2.0 / (_GAMMA * step_s)))
    gone = [0.0, 0.0]
    for side in (0, 1):
        slope = _GAMMA * linear.by_face[side]
        gone_first = step_s * (linear.out[side] + slope * float(first[0, -side]))
        gone_second = step_s * (out[side] + slope * float(second[0, -side])) - 2.0 * gone_first
        gone[side] = 1.5 * gone_first + 0.5 * gone_second
    error = 0.5 * (first + second)
    return first + error, gone, math.sqrt(float(np.sum((error * error) @ flow.moles)))
