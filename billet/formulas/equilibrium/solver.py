"""Equilibrium of a batch of samples: shares, carbon potential, make-ups and, where asked, temperature.

activity_j = u_j / sum_p f_p E_jp; a phase p is saturated where S_p = sum_j activity_j E_jp = 1, and
carbon closes. Newton on all of it; a phase whose share falls to nothing leaves, the most supersaturated
one that is missing comes in. Every sample goes its own way: its answer does not depend on the others.
"""

from dataclasses import dataclass, fields, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from billet.errors import BilletError
from billet.formulas.equilibrium.coefficients import Array
from billet.formulas.equilibrium.newton import Balance, step
from billet.formulas.equilibrium.offers import Batch, Offer, first_make_up, offers, within_reach
from billet.formulas.equilibrium.rows import Rows, rows_at
from billet.formulas.equilibrium.samples import Mask, System

Places = NDArray[np.intp]
T = TypeVar("T", Batch, Offer, Balance, Rows)

TOLERANCE, SATURATED = 1e-8, 1e-8
QUICK_TURNS, MOST_TURNS = 20, 40
ADMIT = 0.5  # how far what is wrong among the phases that are there must be below what a new one asks
MOST_MISS = 0.05
BLOCK_ROWS = 400
DONE_PART, DONE_LEAST = 6, 16  # done samples are left behind from a sixth of all, where they are so many


class NotConverged(BilletError):
    """No equilibrium was found."""

    def __init__(self) -> None:
        super().__init__("no equilibrium was found for this composition and temperature")


@dataclass
class Answer:
    """Per sample: share and saturation S (n, phases), carbon (n, phases) and make-up (n, phases,
    metals) of each phase, mu, temperature_k, whether it converged, and slope: kelvin for more drive of
    the watched phase (below 0 where it vanishes on heating)."""

    share: Array
    saturation: Array
    carbon: Array
    metals: Array
    mu: Array
    temperature_k: Array
    slope: Array
    converged: Mask


def solve(batch: Batch, system: System, free: bool, turns: int = MOST_TURNS) -> Answer:
    """Equilibrium of every sample of the batch in so many turns; `free` where the temperature is unknown."""
    n, p, m = len(batch.y0), len(system.phases), len(system.metals)
    out = Answer(
        np.zeros((n, p)), np.zeros((n, p)), np.zeros((n, p)), np.zeros((n, p, m)),
        np.zeros(n), batch.temperature_k.copy(), np.zeros(n), np.zeros(n, bool),
    )  # fmt: skip
    for begin in range(0, n, BLOCK_ROWS):
        block = batch if n <= BLOCK_ROWS else _part(batch, slice(begin, begin + BLOCK_ROWS))
        _solve(block, system, free, out, turns)
    return out


def _part(of: T, keep: Mask | slice) -> T:
    return replace(of, **{f.name: getattr(of, f.name)[keep] for f in fields(of)})


def _solve(b: Batch, system: System, free: bool, out: Answer, turns: int) -> None:
    rows, slopes = rows_at(b.temperature_k, system.metals, system.phases)
    first_make_up(b, rows)
    for turn in range(turns):
        if turn and free:
            rows, slopes = rows_at(b.temperature_k, system.metals, system.phases)
        made = offers(b, system, rows, slopes if free else None)
        balance, done = _balance(b, system, made, free)
        if done.any():
            _keep(out, b, balance, made, done)
            left = ~out.converged[b.number]
            if not left.any():
                return
            if len(left) - np.count_nonzero(left) > max(DONE_LEAST, len(left) // DONE_PART):
                b, made, balance = _part(b, left), _part(made, left), _part(balance, left)
                rows = rows if free else _part(rows, left)
        step(b, made, balance, free, 1.0 if turn < QUICK_TURNS else 0.4)


def _keep(out: Answer, b: Batch, balance: Balance, made: Offer, done: Mask) -> None:
    done = done & ~out.converged[b.number]
    to = b.number[done]
    s = balance.saturation[done]
    out.share[to], out.saturation[to], out.carbon[to] = b.share[done], s, made.carbon[done]
    out.metals[to] = balance.w[done] / np.maximum(s, 1e-300)[:, :, None]
    out.mu[to], out.temperature_k[to] = made.mu[done], b.temperature_k[done]
    out.slope[to], out.converged[to] = b.slope[done], True


def _balance(b: Batch, system: System, made: Offer, free: bool) -> tuple[Balance, Mask]:
    """What is still wrong, which phases are to come in, and which samples are done."""
    v = made.e / np.matmul(b.share[:, None], made.e)
    w = b.u[:, None] * v
    s = w.sum(2)
    carbon_miss = (b.share * made.carbon).sum(1) - b.y0
    miss = within_reach(w[:, :2] / s[:, :2, None], b.most) - b.x
    if b.frozen.any():
        miss[b.frozen] = 0.0
    off = np.abs(miss).max(2)
    held = b.number
    if free:  # of the watched phases the most saturated is the one at its last trace
        held = np.where(b.watched, s, -1.0).argmax(1)
        b.active = b.active & ~b.watched
        b.active[np.arange(len(held)), held] = True
    unmet = b.active * np.abs(1.0 - s)
    wrong = np.maximum((unmet * system.pressing).max(1), 20.0 * np.abs(carbon_miss))
    coming = _coming(b, system, s, off, wrong)
    inside = b.active[:, :2]
    settled = inside | (off < 1e-6) | (1.0 - s[:, :2] > 5.0 * off)
    wrong = np.maximum(np.maximum(wrong, unmet.max(1)), (inside * off).max(1))
    done = (wrong < TOLERANCE) & ~coming.any(1) & settled.all(1)
    return Balance(v, w, s, carbon_miss, miss, coming, held), done


def _coming(b: Batch, system: System, s: Array, off: Array, wrong: Array) -> Mask:
    """Supersaturated phases to let in: the most pressing one, and vanadium carbide beside it."""
    asks = (b.allowed & ~b.active) * (s - 1.0)
    asks[:, :2] *= off < MOST_MISS
    coming: Mask = (asks > SATURATED) & (ADMIT * asks >= wrong[:, None] - TOLERANCE)
    rivals = system.rivals
    coming &= ~rivals | (asks >= (rivals * asks).max(1, keepdims=True))
    return coming


def replace_rows(of: Answer, places: Places, by: Answer) -> None:
    """Put the answers of `by` in some places of `of`."""
    for f in fields(of):
        getattr(of, f.name)[places] = getattr(by, f.name)
