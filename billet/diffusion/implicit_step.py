"""The step that always holds: implicit, of first order, for where carbon moves too steeply for more.

Where carbide or ferrite takes part, activity against carbon has corners: nearly level where phases lie
together, steep beside. A linearised step may run far beyond such a corner. Here the activities at the end
of the step are solved for, with the resistances of its beginning. The activity of a steel never falls with
carbon, so the solution is one, lies between what the neighbours hold, is never below 0, and no face that
is held lets carbon in. What corners keep from being found is taken by a step after Berger, Brezis and
Rogers (1979), RAIRO Analyse numerique 13: linear, rougher, with the same bounds whatever its length.
"""

import numpy as np

from billet.diffusion.cell_law import MOST_RATIO
from billet.diffusion.flow import Faces, Flow
from billet.diffusion.profile import Floats
from billet.diffusion.tridiagonal import solve_tridiagonal

Held = tuple[float | None, float | None]
MOST_ROUNDS = 12
# A search whose last round moved y by no more is done: the next would move it by about the square.
_FOUND = 1e-5
# Activity over what a shut face is held at that is rounding.
_ABOVE = 1e-8


def implicit_step(flow: Flow, ratio: Floats, faces: Faces, step_s: float) -> tuple[Floats, int]:
    """y of all rows after the step, and the equations solved for it; adds to `faces.gone`.

    ratio: (rows * cells,), rows end to end.
    """
    activity, resistance = flow.law.read(ratio)
    conduct = flow.conduct(resistance)
    held = flow.held(ratio, faces)
    storage = flow.moles / step_s
    opened = [there is not None for there in held]
    moved, ends = ratio, flow.ends
    for rounds in range(1, MOST_ROUNDS + 1):
        activity, rise = flow.law.rising(moved)
        face, out = _through(flow, activity, resistance, held, opened)
        by_face = [face[0] * rise.item(ends[0]), face[1] * rise.item(ends[1])]
        gain = flow.balance((activity[:-1] - activity[1:]) * conduct, out)
        if rounds > 1:
            gain += storage * (ratio - moved)
        change = _change(flow, gain, storage, conduct, rise, by_face)
        if abs(change.item(np.abs(change).argmax())) < _FOUND:
            gone = _gone(flow, step_s, out, by_face, change)
            wrong = _wrong_way(flow, faces, opened, held, gone, activity)
            if not wrong:
                for side in (0, 1):
                    faces.gone[side] += gone[side]
                return moved + change, rounds
            for side in wrong:
                opened[side] = not opened[side]
        moved = np.minimum(np.maximum(moved + change, 0.0), MOST_RATIO)
    return _bounded(flow, ratio, faces, step_s), MOST_ROUNDS + 1


def _through(
    flow: Flow, activity: Floats, resistance: Floats, held: Held, opened: list[bool]
) -> tuple[list[float], list[float]]:
    """How well each face lets carbon through, and what leaves there, mol/(m2 s)."""
    face, out = [0.0, 0.0], [0.0, 0.0]
    for side, there in enumerate(held):
        if opened[side] and there is not None:
            cell = flow.ends[side]
            face[side] = 1.0 / resistance.item(cell)
            out[side] = face[side] * (activity.item(cell) - there)
    return face, out


def _gone(flow: Flow, step_s: float, out: list[float], by_face: list[float], change: Floats) -> list[float]:
    """Carbon through each face in the step, mol/m2."""
    return [step_s * (out[side] + by_face[side] * change.item(cell)) for side, cell in enumerate(flow.ends)]


def _wrong_way(
    flow: Flow,
    faces: Faces,
    opened: list[bool],
    held: Held,
    gone: list[float],
    activity: Floats,
) -> list[int]:
    """Faces that only let carbon out and are open while it comes in, or shut while it would go out."""
    found = []
    for side, there in enumerate(held):
        if faces.one_way and there is not None:
            above = activity.item(flow.ends[side]) > there + _ABOVE
            if gone[side] < 0.0 if opened[side] else above:
                found.append(side)
    return found


def _change(
    flow: Flow, gain: Floats, storage: Floats, conduct: Floats, rise: Floats, by_face: list[float]
) -> Floats:
    """Solve (storage - derivative of the gains) x = gain; (cells,) of all rows, conduct one less."""
    against = -conduct
    below, above = against * rise[:-1], against * rise[1:]
    diagonal = storage.copy()
    lower, upper = diagonal[:-1], diagonal[1:]
    lower -= below
    upper -= above
    for side, cell in enumerate(flow.ends):
        diagonal[cell] += by_face[side]
    return solve_tridiagonal(below, diagonal, above, gain)


def _bounded(flow: Flow, ratio: Floats, faces: Faces, step_s: float) -> Floats:
    """The step that needs no search: y follows activity as where the two are steepest."""
    activity, resistance = flow.law.read(ratio)
    conduct = flow.conduct(resistance)
    yielding = 1.0 / flow.law.steepest()
    storage = yielding * (flow.moles / step_s)
    level = np.ones(len(ratio))
    held = flow.held(ratio, faces)
    opened = [there is not None for there in held]
    while True:
        face, out = _through(flow, activity, resistance, held, opened)
        gain = flow.balance((activity[:-1] - activity[1:]) * conduct, out)
        change = _change(flow, gain, storage, conduct, level, face)
        gone = _gone(flow, step_s, out, face, change)
        inward = [side for side in (0, 1) if faces.one_way and opened[side] and gone[side] < 0.0]
        if not inward:
            break
        # Its neighbour drains the outermost cell below what the face is held at: it is closed.
        opened[inward[0]] = False
    for side in (0, 1):
        faces.gone[side] += gone[side]
    return ratio + yielding * change
