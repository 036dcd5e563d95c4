"""Carbon moving through a piece in one fire: finite volumes in y, a Rosenbrock method in time.

The method in time is the L-stable ROS2 of Verwer and others (1999): second order, one matrix a step, no
iteration. It conserves carbon to rounding, because every stage is a difference of fluxes; what leaves
through the faces is one more unknown of the same method. A step that would leave less than no carbon in a
cell, or let carbon in through a face that only lets it out, is not taken; where ROS2 does not get on, the
rest of the span goes in a few implicit steps.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from billet.diffusion.flow import Faces, Flow, Linear
from billet.diffusion.implicit_step import implicit_step
from billet.diffusion.profile import Floats
from billet.diffusion.tridiagonal import solve_tridiagonal
from billet.errors import ToolFault

_GAMMA = 1.0 - math.sqrt(0.5)
_SAFETY, _LEAST, _MOST = 0.85, 0.2, 6.0
# By how much the first step of a fire may change y at the rate of its beginning, in allowed errors.
_FIRST_CHANGE = 6.0
# Error in y that the first-order result may have in one cell: where activity hardly rises with carbon,
# a thin cell under a face would stay behind else.
_CELL_ERROR = 5e-3
# What makes a step too long for anything else than its error counts as so many times the allowed one.
_TOO_LONG = 10.0
# Where a face is steep: two implicit steps of this share of the span first.
_SMOOTHING = 0.02
# A span that ROS2 has not crossed in so many trials, or with so many for one step, is crossed implicitly;
# trials and implicit steps for each unit of `refine`.
_MOST_TRIALS, _MOST_FOR_ONE = 12, 4
_IMPLICIT_STEPS = 8
# What an implicit step leaves as the first length to try in the next span.
_AFTER_IMPLICIT = 1e-2
LEAST_RATIO = -1e-12
"""Less than no carbon means that a step was too long; so little is rounding."""
MOST_STEPS = 200
"""Steps in time that one fire may take."""


@dataclass
class Effort:
    """Steps in time that one fire has taken, tried ones counted, and the equations solved for them.

    `refine` multiplies all that is allowed.
    """

    refine: int = 1
    steps: int = 0
    solved: int = 0

    def step(self, solved: int) -> None:
        """Count one step that solved so many equations. Raises ToolFault when there are too many."""
        self.steps += 1
        self.solved += solved
        if self.steps > MOST_STEPS * self.refine:
            raise ToolFault(f"the carbon of one fire was not followed in {MOST_STEPS} steps of time")


@np.errstate(over="ignore", invalid="ignore")
def advance(
    flow: Flow,
    ratio: Floats,
    faces: Faces,
    span_s: float,
    step_s: float | None,
    allowed: float,
    effort: Effort,
) -> tuple[Floats, float | None]:
    """Carbon after `span_s`: y of all rows, and the step that the next span should begin with.

    `step_s` None: how fast carbon moves now tells the first step. ratio: (rows * cells,) of the flow, rows
    end to end. `allowed` is the error of the first-order result in one step, as the root of moles times y
    squared. What leaves through the faces is added to `faces.gone`.
    """
    elapsed, trials = 0.0, 0
    if flow.jumps(ratio, faces):
        for _ in range(2):
            ratio = _implicit(flow, ratio, faces, _SMOOTHING * span_s, effort)
        elapsed = 2.0 * _SMOOTHING * span_s
    flow.settle(ratio, faces)
    while elapsed < span_s:
        rest, linear = span_s - elapsed, flow.linearised(ratio, faces)
        if step_s is None:
            step_s = _FIRST_CHANGE * allowed / max(_size(flow, linear.gain / flow.moles), 1e-300)
        step = rest if step_s >= 0.9 * rest else min(step_s, 0.6 * rest)
        most = min(_MOST_FOR_ONE, _MOST_TRIALS * effort.refine - trials)
        taken = _taken(flow, ratio, faces, linear, step, allowed, effort, most)
        if taken is None:
            return _crossed(flow, ratio, faces, rest, effort), _AFTER_IMPLICIT * span_s
        ratio, trials = taken.ratio, trials + taken.trials
        elapsed = span_s if taken.step_s >= rest else elapsed + taken.step_s
        step_s = taken.step_s * taken.growth
    return ratio, step_s


class _Taken(NamedTuple):
    """A step that was taken: y after it, its length, by what the next may be longer, and its trials."""

    ratio: Floats
    step_s: float
    growth: float
    trials: int


def _taken(
    flow: Flow,
    ratio: Floats,
    faces: Faces,
    linear: Linear,
    step_s: float,
    allowed: float,
    effort: Effort,
    most: int,
) -> _Taken | None:
    """One step of at most this length; None where so many trials find none.

    A face that only lets carbon out is open or shut for the whole step. Where a trial shows that it stood
    the wrong way, the step is tried with it the other way; where that is wrong too, it changes within the
    step, which then is too long.
    """
    turned, trials = False, 0
    while trials < most:
        trials += 1
        moved, gone, error = _ros2(flow, ratio, faces, linear, step_s)
        effort.step(2)
        off = _off(flow, error, allowed, effort.refine)
        if moved.item(moved.argmin()) < LEAST_RATIO:
            off = max(off, _TOO_LONG)
        wrong = flow.wrong_way(moved, gone, faces) if off <= 1.0 else []
        if wrong:
            faces.turn(wrong)
            linear, turned = flow.linearised(ratio, faces), not turned
            if turned:
                most += 1
                continue
            off = _TOO_LONG
        growth = min(_MOST, max(_LEAST, _SAFETY / math.sqrt(off + 1e-12)))
        if off <= 1.0:
            faces.gone[0] += gone[0]
            faces.gone[1] += gone[1]
            return _Taken(moved, step_s, growth, trials)
        step_s *= growth
    return None


def _implicit(flow: Flow, ratio: Floats, faces: Faces, step_s: float, effort: Effort) -> Floats:
    moved, solved = implicit_step(flow, ratio, faces, step_s)
    effort.step(solved)
    return moved


def _crossed(flow: Flow, ratio: Floats, faces: Faces, rest_s: float, effort: Effort) -> Floats:
    """The rest of a span in implicit steps that grow with time, as a front slows down."""
    steps = _IMPLICIT_STEPS * effort.refine
    for number in range(steps):
        share = (2 * number + 1) / steps**2
        ratio = _implicit(flow, ratio, faces, share * rest_s, effort)
    return ratio


def _ros2(
    flow: Flow, ratio: Floats, faces: Faces, linear: Linear, step_s: float
) -> tuple[Floats, list[float], Floats]:
    """y after the step, carbon through each face, and the error in y that the first-order result of the step
    has; that of a step which runs away is beyond all that is allowed."""
    storage = flow.moles * (1.0 / (_GAMMA * step_s))
    band = linear.below, storage + linear.drain, linear.above
    # Both stages times gamma.
    first = solve_tridiagonal(*band, linear.gain)
    moved = first * (1.0 / _GAMMA)
    moved += ratio
    gain, out = flow.gains(moved, faces)
    storage *= first
    storage *= 2.0
    gain -= storage
    second = solve_tridiagonal(*band, gain)
    gone = [0.0, 0.0]
    for side, cell in enumerate(flow.ends):
        slope = linear.by_face[side]
        gone_first = step_s * (linear.out[side] + slope * first.item(cell))
        gone_second = step_s * (out[side] + slope * second.item(cell)) - 2.0 * gone_first
        gone[side] = 1.5 * gone_first + 0.5 * gone_second
    error = first + second
    error *= 0.5 / _GAMMA
    moved += error
    return moved, gone, error


def _off(flow: Flow, error: Floats, allowed: float, refine: int) -> float:
    """How large an error in y is, in allowed ones; one cell may be off by less than the root of all of them
    could be."""
    square = error * error
    most = math.sqrt(square.item(square.argmax()))
    return max(math.sqrt(flow.moles.dot(square)) / allowed, refine / _CELL_ERROR * most)


def _size(flow: Flow, change: Floats) -> float:
    """Root of moles times y squared."""
    return math.sqrt(flow.moles.dot(change * change))
