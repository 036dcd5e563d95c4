"""Carbon moving through a piece in one fire: finite volumes in y, a Rosenbrock method in time.

Between neighbouring cells the flux is the difference of activity over the two half cells' resistances,
so activity is continuous over a seam and content is not. The method is RODAS3 (Sandu and others 1997):
third order with an error estimate, L-stable, one matrix a step and no iteration; it conserves carbon to
rounding because every stage is a difference of fluxes.
"""

from dataclasses import dataclass, field

import numpy as np

from billet.workflow.carbon_law import SteelLaw, read_table
from billet.workflow.profile import Floats, Ints, Profile

_GAMMA = 0.5
_SAFETY, _LEAST, _MOST = 0.85, 0.2, 5.0
_MM_TO_M = 1e-3


@dataclass
class Faces:
    """Activity at which bottom and top are held (None: closed), and the carbon that left, mol/m2."""

    held: tuple[float | None, float | None] = (None, None)
    gone: list[float] = field(default_factory=lambda: [0.0, 0.0])


class Flow:
    """Fluxes and their derivatives for the cells of a profile, all rows in one vector."""

    def __init__(self, profile: Profile, law: SteelLaw) -> None:
        rows, self.cells = profile.ratio.shape
        self.total = rows * self.cells
        steel = np.tile(profile.steel, rows)
        thickness = np.tile(profile.thickness_mm, rows)
        self.moles = np.tile(profile.moles, rows)
        self.half = (thickness * _MM_TO_M) ** 2 / (2.0 * self.moles)
        self.reference, self.slope = law.reference[steel], law.slope[steel]
        self.log_half = np.log(self.half) + self.reference - law.mobility[steel]
        self.fall = self.slope - law.mobility_slope[steel]
        self.tabled = [(np.flatnonzero(steel == i), table) for i, table in law.tables.items()]
        self.tabled = [(where, table) for where, table in self.tabled if len(where)]

    def resistance(self, ratio: Floats) -> tuple[Floats, Floats]:
        """Activity of each cell and the resistance of half of it."""
        rest = 1.0 - ratio
        activity = np.exp(self.reference + self.slope * ratio) * ratio / rest
        resistance = np.exp(self.log_half + self.fall * ratio) / (rest * rest)
        for where, table in self.tabled:
            here = ratio[where]
            activity[where] = read_table(table.activity, table.step, here)[0]
            resistance[where] = self.half[where] * read_table(table.hindrance, table.step, here)[0]
        return activity, resistance

    def slopes(self, ratio: Floats, activity: Floats, resistance: Floats) -> tuple[Floats, Floats]:
        """Derivatives of activity and resistance by y."""
        rest = 1.0 - ratio
        by_activity = (
            np.exp(self.reference + self.slope * ratio) / (rest * rest) + self.slope * activity
        )
        by_resistance = resistance * (self.fall + 2.0 / rest)
        for where, table in self.tabled:
            here = ratio[where]
            by_activity[where] = read_table(table.activity, table.step, here)[1]
            by_resistance[where] = self.half[where] * read_table(table.hindrance, table.step, here)[1]
        return by_activity, by_resistance

    def gains(self, ratio: Floats, faces: Faces) -> tuple[Floats, list[float]]:
        """Carbon each cell gains, mol/(m2 s), and what leaves through bottom and top."""
        activity, resistance = self.resistance(ratio)
        return self._gains(activity, resistance, faces)[:2]

    def _gains(
        self, activity: Floats, resistance: Floats, faces: Faces
    ) -> tuple[Floats, list[float], Floats, Floats]:
        both = resistance[:-1] + resistance[1:]
        flux = (activity[:-1] - activity[1:]) / both
        if self.total > self.cells:
            flux[self.cells - 1] = 0.0
        gain = np.zeros(self.total)
        gain[:-1] -= flux
        gain[1:] += flux
        out = [0.0, 0.0]
        for side, cell in ((0, 0), (1, self.cells - 1)):
            held = faces.held[side]
            if held is not None:
                out[side] = float((activity[cell] - held) / resistance[cell])
                gain[cell] -= out[side]
        return gain, out, flux, both

    def linearised(self, ratio: Floats, faces: Faces) -> "Linear":
        """Gains at `ratio` with their derivatives."""
        activity, resistance = self.resistance(ratio)
        gain, out, flux, both = self._gains(activity, resistance, faces)
        by_activity, by_resistance = self.slopes(ratio, activity, resistance)
        pull = flux / both
        by_low = by_activity[:-1] / both - pull * by_resistance[:-1]
        by_high = -by_activity[1:] / both - pull * by_resistance[1:]
        if self.total > self.cells:
            by_low[self.cells - 1] = by_high[self.cells - 1] = 0.0
        diagonal = np.zeros(self.total)
        diagonal[:-1] -= by_low
        diagonal[1:] += by_high
        by_face = [0.0, 0.0]
        for side, cell in ((0, 0), (1, self.cells - 1)):
            if faces.held[side] is not None:
                by_face[side] = float(
                    (by_activity[cell] - out[side] * by_resistance[cell]) / resistance[cell]
                )
                diagonal[cell] -= by_face[side]
        return Linear(gain, out, by_low, diagonal, -by_high, by_face)


@dataclass(frozen=True)
class Linear:
    """Gains, outflow, and the three diagonals of the derivative of the gains."""

    gain: Floats
    out: list[float]
    below: Floats
    diagonal: Floats
    above: Floats
    by_face: list[float]


def advance(
    flow: Flow, ratio: Floats, faces: Faces, span_s: float, step_s: float, tolerance: float
) -> tuple[Floats, float]:
    """Carbon after `span_s`: y of all rows and the step that the next span should begin with.

    ratio: (rows * cells,). `tolerance` is the error allowed in one step, in y. What leaves through
    the faces is added to `faces.gone`.
    """
    elapsed = 0.0
    while elapsed < span_s:
        rest = span_s - elapsed
        step = rest if step_s >= rest else (0.5 * rest if step_s > 0.5 * rest else step_s)
        linear = flow.linearised(ratio, faces)
        while True:
            change, gone, error = _rodas3(flow, ratio, faces, linear, step)
            error /= tolerance
            growth = min(_MOST, max(_LEAST, _SAFETY * (error + 1e-12) ** (-1.0 / 3.0)))
            if error <= 1.0:
                break
            step *= growth
            step_s = step
        ratio = ratio + change
        faces.gone[0] += gone[0]
        faces.gone[1] += gone[1]
        elapsed = span_s if step >= span_s - elapsed else elapsed + step
        step_s = max(step * growth, step_s if growth >= 1.0 else 0.0)
    return ratio, step_s


def _rodas3(
    flow: Flow, ratio: Floats, faces: Faces, linear: Linear, step_s: float
) -> tuple[Floats, list[float], float]:
    """Change of y, carbon through each face and the error of one step."""
    from scipy.linalg.lapack import dgttrf, dgttrs

    weight = flow.moles / (_GAMMA * step_s)
    factored = dgttrf(-linear.below, weight - linear.diagonal, -linear.above)[:5]
    mass = flow.moles / step_s
    last = flow.cells - 1

    def face_stage(out: list[float], stage: Floats, memory: tuple[float, float]) -> list[float]:
        # The carbon that left is one more unknown of the method, so that the books close by themselves.
        ends = (stage[0], stage[last])
        return [
            _GAMMA
            * step_s
            * (out[side] + linear.by_face[side] * float(ends[side]) + memory[side] / step_s)
            for side in (0, 1)
        ]

    first = dgttrs(*factored, linear.gain)[0]
    gone_1 = face_stage(linear.out, first, (0.0, 0.0))
    second = dgttrs(*factored, linear.gain + mass * (4.0 * first))[0]
    gone_2 = face_stage(linear.out, second, (4.0 * gone_1[0], 4.0 * gone_1[1]))
    gain, out = flow.gains(ratio + 2.0 * first, faces)
    difference = first - second
    third = dgttrs(*factored, gain + mass * difference)[0]
    gone_3 = face_stage(out, third, (gone_1[0] - gone_2[0], gone_1[1] - gone_2[1]))
    change = 2.0 * first + third
    gain, out = flow.gains(ratio + change, faces)
    fourth = dgttrs(*factored, gain + mass * (difference - (8.0 / 3.0) * third))[0]
    memory = [gone_1[s] - gone_2[s] - 8.0 / 3.0 * gone_3[s] for s in (0, 1)]
    gone_4 = face_stage(out, fourth, (memory[0], memory[1]))
    gone = [2.0 * gone_1[s] + gone_3[s] + gone_4[s] for s in (0, 1)]
    return change + fourth, gone, float(np.max(np.abs(fourth)))


def steel_index(profile: Profile) -> Ints:
    """Steel of every cell of every row: (rows * cells,)."""
    return np.tile(profile.steel, profile.ratio.shape[0])
