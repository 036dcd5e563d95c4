"""Equilibrium of many compositions at once, by an interior-point method on arrays.

The same conditions as solve_one, solved another way: every phase is in the system all along; its share
f and its slack s = 1 - S (how far it is from forming) stay above 0 while f s goes to 0. With a
`vanish`ing phase the temperature is unknown too: that phase is saturated at share 0.
"""

from dataclasses import dataclass

import numpy as np

from billet.formulas.equilibrium.batch import Array, Batch, Mask, Offer, System, offer
from billet.formulas.equilibrium.coefficients import AUSTENITE, FERRITE, HIGHEST_K, LOWEST_K

MOST_ITERATIONS, TOLERANCE, LEAST_BARRIER = 60, 1e-7, 1e-11
MOST_CHANGE_K, MOST_CHANGE_MU = 40.0, 1.0


@dataclass
class Answer:
    """Per composition: share (n, phases), carbon (n, phases), make-up (n, phases, metals), mu,
    ln of the activities (n, metals), temperature_k, whether it converged and, with a vanishing phase,
    whether it vanishes on heating (a drive that rises there means that it comes back)."""

    share: Array
    carbon: Array
    metals: Array
    mu: Array
    ln_activity: Array
    temperature_k: Array
    converged: Mask
    on_heating: Mask


@dataclass
class _Balance:
    """Activities and what is still wrong."""

    v: Array
    w: Array
    saturation: Array
    carbon_miss: Array
    made: dict[int, Array]
    wrong: Array

    def part(self, keep: Mask) -> "_Balance":
        """The compositions in `keep`."""
        made = {a: x[keep] for a, x in self.made.items()}
        v, w, saturation = self.v[keep], self.w[keep], self.saturation[keep]
        return _Balance(v, w, saturation, self.carbon_miss[keep], made, self.wrong[keep])


def solve_many(batch: Batch, system: System) -> Answer:
    """Equilibrium of the whole batch; what has converged leaves the work."""
    n, p, m = len(batch.y0), len(system.phases), len(system.metals)
    out = Answer(
        np.zeros((n, p)), np.zeros((n, p)), np.zeros((n, p, m)), np.zeros(n), np.zeros((n, m)), np.zeros(n),
        np.zeros(n, bool), np.zeros(n, bool),
    )  # fmt: skip
    most = MOST_ITERATIONS * (4 if system.frozen else 1)
    for iteration in range(most):
        made, eps = offer(batch, system)
        balance = _balance(batch, system, made)
        done = balance.wrong < TOLERANCE
        last = iteration == most - 1
        if done.any() or last:
            _keep(out, batch, balance, made, np.ones_like(done) if last else done, done)
            batch = batch.part(~done)
            if not len(batch.y0) or last:
                break
            made, eps, balance = _part(made, ~done), eps[~done], balance.part(~done)
        _step(batch, system, made, balance, eps)
    return out


def _part(made: Offer, keep: Mask) -> Offer:
    pull = {a: value[keep] for a, value in made.pull.items()}
    return Offer(made.e[keep], made.by[keep], made.carbon[keep], made.carbon_by[keep], pull)


def _keep(out: Answer, b: Batch, balance: _Balance, made: Offer, which: Mask, done: Mask) -> None:
    rows = b.number[which]
    out.share[rows], out.carbon[rows], out.mu[rows] = b.share[which], made.carbon[which], b.mu[which]
    norm = np.maximum(balance.saturation[which], 1e-300)
    out.metals[rows] = balance.w[which] / norm[:, :, None]
    out.temperature_k[rows], out.converged[rows] = b.temperature_k[which], done[which]
    out.ln_activity[rows] = np.log(b.u[which]) - np.log((b.share[which, :, None] * made.e[which]).sum(1))
    out.on_heating[rows] = b.on_heating[which]


def _balance(b: Batch, system: System, made: Offer) -> _Balance:
    d = (b.share[:, :, None] * made.e).sum(1)
    v = made.e / d[:, None, :]
    w = b.u[:, None, :] * v
    saturation = w.sum(2)
    carbon_miss = (b.share * made.carbon).sum(1) - b.y0
    wrong = np.abs(1.0 - saturation - b.slack).max(1)
    wrong = np.maximum(np.maximum(wrong, 20.0 * np.abs(carbon_miss)), (b.share * b.slack).max(1))
    fresh = {a: w[:, a] / np.maximum(saturation[:, a, None], 1e-300) for a in made.pull}
    for a, x in () if system.frozen else fresh.items():
        there = (b.share[:, a] > 1e-6) | system.held[a]
        wrong = np.maximum(wrong, np.abs(x - b.x[_solution(system, a)]).max(1) * there)
    return _Balance(v, w, saturation, carbon_miss, fresh, wrong)


def _solution(system: System, place: int) -> int:
    """0 for austenite, 1 for ferrite: the place in Batch.x."""
    return (AUSTENITE, FERRITE).index(system.phases[place])


def _damping(pull: Array, x: Array) -> Array:
    damped: Array = 1.0 / (1.0 + np.maximum(np.einsum("njj->nj", pull), 0.0) * x)
    return damped


def _jacobian(
    b: Batch, system: System, made: Offer, balance: _Balance, eps: Array
) -> tuple[Array, dict[int, Array]]:
    """Derivatives of the conditions, and of the make-ups of austenite and ferrite.

    Columns: the shares, mu and, where a phase vanishes, temperature. Rows: S of each phase, carbon and,
    where a phase vanishes, its share. Slacks are not in it yet.
    """
    n, p, m = balance.w.shape
    extra, held = made.by.shape[3], system.held
    by = np.zeros((n, p, m, p + extra))
    by[..., p:] = made.by
    fv = b.share[:, :, None] * balance.v
    of_d = np.zeros((n, m, p + extra))
    of_d[:, :, :p] = balance.v.transpose(0, 2, 1)
    of_d[:, :, p:] = (fv[..., None] * made.by).sum(1)
    moved: dict[int, Array] = {}
    for a, pull in made.pull.items():
        x = b.x[_solution(system, a)]
        t = by[:, a] - of_d
        t = t - (x[:, :, None] * t).sum(1, keepdims=True)
        moved[a] = (x * _damping(pull, x))[:, :, None] * t
    for a, pull in made.pull.items():
        shift = np.matmul(pull, moved[a])
        by[:, a] -= shift
        of_d -= fv[:, a, :, None] * shift
    matrix = np.zeros((n, p + extra, p + extra))
    matrix[:, :p] = np.einsum("npj,npjc->npc", balance.w, by) - np.matmul(balance.w, of_d)
    matrix[:, p, :p] = made.carbon
    matrix[:, p, p:] = (b.share[:, :, None] * made.carbon_by).sum(1)
    austenite = system.place(AUSTENITE)
    if austenite is not None and not system.frozen:
        lever = b.share[:, austenite] * made.carbon_by[:, austenite, 0]
        matrix[:, p] -= lever[:, None] * np.einsum("nj,njc->nc", eps, moved[austenite])
    if extra == 2:
        matrix[:, p + 1, :p] = held
    return matrix, moved


def _step(b: Batch, system: System, made: Offer, balance: _Balance, eps: Array) -> None:
    """One Newton step towards f s = barrier, a tenth of what f s is now."""
    p, held = len(system.phases), system.held
    matrix, moved = _jacobian(b, system, made, balance, eps)
    safe = np.maximum(b.share, 1e-300)
    barrier = np.maximum(0.02 * (b.share * b.slack).sum(1) / (p - held.sum()), LEAST_BARRIER)[:, None]
    matrix[:, range(p), range(p)] -= np.where(held, 0.0, b.slack / safe)
    right = np.zeros((*matrix.shape[:2], 2))
    right[:, :p, 0] = 1.0 - balance.saturation - np.where(held, 0.0, barrier / safe)
    right[:, p, 0] = -balance.carbon_miss
    right[:, :p, 1] = held
    both = np.linalg.solve(matrix, right).astype(np.float64, copy=False)
    change = both[:, :, 0]
    df = np.where(held, 0.0, change[:, :p])
    ds = np.where(held, 0.0, (barrier - b.share * b.slack - b.slack * df) / safe)
    reach = _reach(b, df, ds, change[:, p:])
    if not system.frozen:
        _move_compositions(b, system, made, balance, reach[:, None] * change, moved)
    b.share, b.slack = b.share + reach[:, None] * df, b.slack + reach[:, None] * ds
    # mu has its own limit: little carbon would else hold all shares back
    b.mu = b.mu + np.clip(reach * change[:, p], -MOST_CHANGE_MU, MOST_CHANGE_MU)
    if system.vanish is not None:
        # more of the vanishing phase's drive asks for less temperature: it vanishes on heating
        b.on_heating = both[:, p + 1, 1] < 0.0
        b.temperature_k = np.clip(b.temperature_k + reach * change[:, p + 1], LOWEST_K, HIGHEST_K)


def _reach(b: Batch, df: Array, ds: Array, potentials: Array) -> Array:
    """How much of the step keeps every share and slack above 0 and the temperature near."""
    with np.errstate(divide="ignore", invalid="ignore"):
        reach: Array = np.where(df < 0.0, -0.98 * b.share / df, 1.0).min(1)
        reach = np.minimum(reach, np.where(ds < 0.0, -0.98 * b.slack / ds, 1.0).min(1))
    reach = np.minimum(reach, 1.0)
    if potentials.shape[1] == 2:
        reach = np.minimum(reach, MOST_CHANGE_K / np.maximum(np.abs(potentials[:, 1]), 1e-30))
    return reach


def _move_compositions(
    b: Batch, system: System, made: Offer, balance: _Balance, step: Array, moved: dict[int, Array]
) -> None:  # fmt: skip
    for a, target in balance.made.items():
        x = np.maximum(b.x[_solution(system, a)], 1e-30)
        pace = _damping(made.pull[a], x) * np.log(np.maximum(target, 1e-30) / x)
        new = x * np.exp(np.clip(pace, -1.0, 1.0))
        shift = np.einsum("njc,nc->nj", moved[a], step)
        new = np.maximum(new + np.clip(shift, -0.3 * new, 0.3 * new), 1e-30)
        b.x[_solution(system, a)] = new / new.sum(1, keepdims=True)
