"""One Newton step on the conditions of equilibrium, for a batch of samples.

Unknown are the shares f of the phases that are there, the carbon potential mu and, where a phase is
watched, the temperature (its column stands in the place of the share of that phase, which is 0). The
make-ups of austenite and ferrite follow to first order.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from billet.formulas.equilibrium.coefficients import AUSTENITE, HIGHEST_K, LOWEST_K, Array
from billet.formulas.equilibrium.offers import Batch, Offer, within_reach
from billet.formulas.equilibrium.samples import Mask

MOST_CHANGE_MU, MOST_CHANGE_SHARE, MOST_CHANGE_K, MOST_CHANGE_LOGIT = 1.0, 0.7, 60.0, 1.5
LAST_SOLUTION = 0.8  # part of the way to nothing that the last solution may go
REGULAR = 1e-9  # lets a phase too many be solved for: its step then is long, and one of them leaves


@dataclass
class Balance:
    """What each phase takes of the metals, and what is still wrong.

    v = E / sum f E and w = u v (n, phases, metals); saturation S (n, phases); carbon_miss (n,);
    miss (n, 2, metals): make-up that follows less the one assumed; coming: phases to let in; watched:
    place of the phase at its last trace (n,).
    """

    v: Array
    w: Array
    saturation: Array
    carbon_miss: Array
    miss: Array
    coming: Mask
    watched: NDArray[np.intp]


def step(b: Batch, made: Offer, balance: Balance, free: bool, pace: float) -> None:
    """Change the batch by one Newton step, or the part `pace` of it; phases come and go."""
    b.active = b.active | balance.coming
    matrix, right, moved = _conditions(b, made, balance, free)
    n, p = b.share.shape
    each = np.arange(n)
    solved = _solved(matrix, right)
    change = np.zeros((n, matrix.shape[1] + free))
    change[:, : p + 1] = solved[:, :, 0]
    if free:
        held = balance.watched
        change[:, p + 1] = change[each, held]
        change[each, held] = 0.0
        b.slope = solved[each, held, 1]
    largest = (np.abs(change) / _most_changes(p, free)).max(1)
    reach = np.minimum(pace, 1.0 / np.maximum(largest, 1e-9))
    change = _leave(b, change, reach, free)
    _move(b, made, moved, change, pace)


@cache
def _most_changes(phases: int, free: bool) -> Array:
    """How far shares, mu and temperature may go in one step."""
    most = np.array([MOST_CHANGE_SHARE] * phases + [MOST_CHANGE_MU] + [MOST_CHANGE_K] * free)
    most.flags.writeable = False
    return most


def _solved(matrix: Array, right: Array) -> Array:
    """x with matrix x = right; a sample without an answer stands still."""
    try:
        found = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        lost = np.linalg.det(matrix) == 0.0
        matrix = np.where(lost[:, None, None], np.eye(matrix.shape[1]), matrix)
        found = np.linalg.solve(matrix, np.where(lost[:, None, None], 0.0, right))
    return found.astype(np.float64, copy=False)


def _leave(b: Batch, change: Array, reach: Array, free: bool) -> Array:
    """The step cut where the first share would fall below 0; that phase leaves.

    The last solution stays. What came in just now and would go below 0 at once stays out.
    """
    p = b.share.shape[1]
    held = b.active & b.watched if free else np.zeros_like(b.active)
    inside = b.active & ~held
    both, one = inside[:, 0] & inside[:, 1], inside[:, 0] ^ inside[:, 1]
    df = change[:, :p]
    falls = inside & (df < 0.0)
    at_once = falls & (b.share <= 0.0)
    at_once[:, :2] &= both[:, None]
    df[at_once] = 0.0
    falls &= ~at_once
    room = np.where(falls, b.share / np.maximum(-df, 1e-300), np.inf)
    first = room.argmin(1)
    each = np.arange(len(first))
    last = (first < 2) & one
    least = room[each, first]
    reach = np.minimum(reach, np.where(last, LAST_SOLUTION, 1.0) * least)
    gone = np.flatnonzero((least <= reach) & ~last)
    b.active = b.active & ~at_once
    b.active[gone, first[gone]] = False
    change = change * reach[:, None]
    b.share = np.where(b.active, np.maximum(b.share + change[:, :p], 0.0), 0.0)
    return change


def _move(b: Batch, made: Offer, moved: Array, change: Array, pace: float) -> None:
    p = b.share.shape[1]
    wide = change.shape[1]
    dx = np.matmul(moved[..., :wide], change[:, None, :, None])[..., 0] + pace * moved[..., wide]
    new = b.x + np.maximum(np.minimum(dx, b.x), -0.5 * b.x)
    new /= new.sum(2, keepdims=True)
    logit = change[:, p] - (made.eps * (new[:, AUSTENITE] - b.x[:, AUSTENITE])).sum(1)
    if wide > p + 1:
        logit -= made.drift * change[:, p + 1]
        temperature_k = b.temperature_k + change[:, p + 1]
        b.temperature_k = np.minimum(np.maximum(temperature_k, LOWEST_K), HIGHEST_K)
    logit *= made.logit_by_mu
    b.logit = b.logit + np.minimum(np.maximum(logit, -MOST_CHANGE_LOGIT), MOST_CHANGE_LOGIT)
    b.x = within_reach(new, b.most)


def _conditions(b: Batch, made: Offer, balance: Balance, free: bool) -> tuple[Array, Array, Array]:
    """Matrix and right sides of the step, and what the make-ups move by for each column.

    Columns: the shares, mu, temperature, and last what the make-ups still miss.
    """
    n, p, m = balance.w.shape
    wide = p + made.by.shape[3]
    shares = b.share[:, :, None] * balance.v
    of_d = np.zeros((n, m, wide + 1))
    of_d[:, :, :p] = balance.v.transpose(0, 2, 1)
    of_d[:, :, p:wide] = (shares[..., None] * made.by).sum(1)
    moved = _make_ups(b, made, balance, shares[:, :2], of_d)
    shift = np.matmul(made.pull, moved)
    of_d -= (shares[:, :2, :, None] * shift).sum(1)
    full = np.empty((n, p + 1, wide + 1))
    full[:, :p] = -np.matmul(balance.w, of_d)
    full[:, :p, p:wide] += (balance.w[..., None] * made.by).sum(2)
    full[:, :2] -= np.matmul(balance.w[:, :2, None], shift)[:, :, 0]
    full[:, p, :p] = made.carbon
    full[:, p, p:wide] = (b.share[:, :2, None] * made.carbon_by).sum(1)
    full[:, p, wide] = 0.0
    lever = b.share[:, AUSTENITE] * made.y_by_mu
    full[:, p] -= lever[:, None] * np.matmul(made.eps[:, None], moved[:, AUSTENITE])[:, 0]
    full[:, :p] *= b.active[:, :, None]
    right = np.zeros((n, p + 1, 2))
    # 1 - 1/S is nearly straight in the share of a phase, S itself is not
    s = balance.saturation
    right[:, :p, 0] = b.active * ((1.0 - s) * np.minimum(np.maximum(s, 0.3), 20.0))
    right[:, p, 0] = -balance.carbon_miss
    right[:, :, 0] -= full[:, :, wide]
    places = np.arange(p)
    full[:, places, places] += np.where(b.active, -REGULAR, 1.0)
    if free:
        each = np.arange(n)
        full[each, :, balance.watched] = full[:, :, p + 1]
        right[each, balance.watched, 1] = 1.0
    return full[:, :, : p + 1], right, moved


def _make_ups(b: Batch, made: Offer, balance: Balance, kept: Array, of_d: Array) -> Array:
    """How the make-ups of austenite and ferrite answer each column (n, 2, metals, columns).

    dx = x (t - mean t) with t = d ln E - d ln D, both of which the make-ups move in turn.
    """
    n, m, columns = of_d.shape
    p = balance.w.shape[1]
    t = np.empty((n, 2, m, columns))
    t[:] = -of_d[:, None]
    t[..., p : columns - 1] += made.by[:, :2]
    row = b.x[:, :, None]
    answers = b.x * ((b.x < b.most) & ~b.frozen[:, None, None])
    t -= np.matmul(row, t)
    t *= answers[..., None]
    t[..., columns - 1] = balance.miss
    if m == 1:
        return t
    answer = np.empty((n, 2, m, 2, m))
    answer[:] = -(kept[..., None] * made.pull).transpose(0, 2, 1, 3)[:, None]
    answer[:, 0, :, 0] += made.pull[:, 0]
    answer[:, 1, :, 1] += made.pull[:, 1]
    flat = answer.reshape(n, 2, m, 2 * m)
    flat -= np.matmul(row, flat)
    flat *= answers[..., None]
    square = flat.reshape(n, 2 * m, 2 * m)
    places = np.arange(2 * m)
    square[:, places, places] += 1.0
    return _solved(square, t.reshape(n, 2 * m, columns)).reshape(n, 2, m, columns)
