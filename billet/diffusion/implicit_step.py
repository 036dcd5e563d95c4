"""The step that always holds: implicit, of first order, for where carbon moves too steeply for more.

Where carbide or ferrite takes part, activity against carbon has corners: nearly level where phases lie
together, steep beside. A linearised step may run far beyond such a corner. Here the activities at the end
of the step are solved for, with the resistances of its beginning. The activity of a steel never falls with
carbon, so the solution is one, lies between what the neighbours hold, is never below 0, and no face that
is held lets carbon in. What corners keep from being found is taken by a step after Berger, Brezis and
Rogers (1979), RAIRO Analyse numerique 13: linear, rougher, with the same bounds whatever its length.
"""

import numpy as np

from billet.diffusion.activity_law import MOST_RATIO
from billet.diffusion.flow import Faces, Flow, balance
from billet.diffusion.profile import Floats
from billet.diffusion.tridiagonal import solve_tridiagonal

MOST_ROUNDS = 12
# y this close is found.
_FOUND = 1e-8


def implicit_step(flow: Flow, ratio: Floats, faces: Faces, step_s: float) -> tuple[Floats, int]:
    """y of all rows after the step, and the equations solved for it; adds to `faces.gone`.

    ratio: (rows, cells).
    """
    activity, resistance = flow.state(ratio)
    conduct = 1.0 / (resistance[:, :-1] + resistance[:, 1:])
    held = [flow.held(side, ratio, faces) for side in (0, 1)]
    storage = np.broadcast_to(flow.moles / step_s, ratio.shape)
    opened = [there is not None for there in held]
    moved = ratio
    for rounds in range(1, MOST_ROUNDS + 1):
        activity, rise = flow.law.rising(moved)
        face = [opened[side] / resistance.item(0, -side) for side in (0, 1)]
        out = [face[side] * (activity.item(0, -side) - (held[side] or 0.0)) for side in (0, 1)]
        by_face = [face[side] * rise.item(0, -side) for side in (0, 1)]
        gain = balance((activity[:, :-1] - activity[:, 1:]) * conduct, out)
        change = _change(gain + storage * (ratio - moved), storage, conduct, rise, by_face)
        if float(np.abs(change).max()) < _FOUND:
            gone = [step_s * (out[side] + by_face[side] * change.item(0, -side)) for side in (0, 1)]
            wrong = _wrong_way(faces, opened, held, gone, activity)
            if not wrong:
                for side in (0, 1):
                    faces.gone[side] += gone[side]
                return moved + change, rounds
            for side in wrong:
                opened[side] = not opened[side]
        moved = np.clip(moved + change, 0.0, MOST_RATIO)
    return _bounded(flow, ratio, faces, step_s), MOST_ROUNDS + 1


def _wrong_way(
    faces: Faces, opened: list[bool], held: list[float | None], gone: list[float], activity: Floats
) -> list[int]:
    """Faces that only let carbon out and are open while it comes in, or shut while it would go out."""
    found = []
    for side, there in enumerate(held):
        if faces.one_way and there is not None:
            above = activity.item(0, -side) > there + _FOUND
            if gone[side] < 0.0 if opened[side] else above:
                found.append(side)
    return found


def _change(gain: Floats, storage: Floats, conduct: Floats, rise: Floats, by_face: list[float]) -> Floats:
    """Solve (storage - derivative of the gains) x = gain; (rows, cells) all, conduct one cell less."""
    lower, upper = np.zeros(rise.shape), np.zeros(rise.shape)
    np.multiply(conduct, rise[:, :-1], out=lower[:, :-1])
    np.multiply(conduct, rise[:, 1:], out=upper[:, :-1])
    diagonal = storage + lower
    diagonal[:, 1:] += upper[:, :-1]
    for side in (0, 1):
        diagonal[0, -side] += by_face[side]
    return solve_tridiagonal(-lower.ravel()[:-1], diagonal, -upper.ravel()[:-1])(gain)


def _bounded(flow: Flow, ratio: Floats, faces: Faces, step_s: float) -> Floats:
    """The step that needs no search: y follows activity as where the two are steepest."""
    activity, resistance = flow.state(ratio)
    conduct = 1.0 / (resistance[:, :-1] + resistance[:, 1:])
    yielding = np.broadcast_to(1.0 / flow.law.steepest(), ratio.shape)
    storage = yielding * (flow.moles / step_s)
    level = np.ones(ratio.shape)
    held = [flow.held(side, ratio, faces) for side in (0, 1)]
    opened = [h is not None for h in held]
    while True:
        face = [1.0 / float(resistance[0, -side]) if opened[side] else 0.0 for side in (0, 1)]
        out = [face[s] * (float(activity[0, -s]) - (h or 0.0)) for s, h in enumerate(held)]
        gain = balance((activity[:, :-1] - activity[:, 1:]) * conduct, out)
        change = _change(gain, storage, conduct, level, face)
        gone = [step_s * (out[side] + face[side] * float(change[0, -side])) for side in (0, 1)]
        inward = [side for side in (0, 1) if faces.one_way and opened[side] and gone[side] < 0.0]
        if not inward:
            break
        # Its neighbour drains the outermost cell below what the face is held at: it is closed.
        opened[inward[0]] = False
    for side in (0, 1):
        faces.gone[side] += gone[side]
    return ratio + yielding * change
