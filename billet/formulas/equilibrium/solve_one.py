"""Equilibrium of one composition at one temperature, in plain floats (a few tenths of a millisecond).

Unknown are the shares f of the phases that are there, the carbon potential mu = ln a_C and the make-up
of austenite and ferrite. The metals follow: activity_j = u_j / sum_p f_p E_jp; a phase p is saturated
where S_p = sum_j activity_j E_jp = 1, and carbon closes. Newton on all of it; a phase whose share falls
to nothing leaves, the most supersaturated one that is missing comes in.
"""

import math
from dataclasses import dataclass, field

from billet.formulas.equilibrium.coefficients import AUSTENITE, CEMENTITE, FERRITE, PHASES
from billet.formulas.equilibrium.mixture import SELF_INTERACTION_K, Mixture, Terms, Vector
from billet.formulas.equilibrium.offers import (
    NotConverged,
    PhaseState,
    austenite,
    carbide,
    ferrite,
    make_up_shifts,
    settle,
    solve_linear,
    stepped,
)

NEW_SHARE, LEAST_SHARE, SATURATED = 0.02, 1e-10, 1e-7
TOLERANCE = 1e-7
QUICK_TURNS, MOST_TURNS = 20, 120
# k = 69342/(RT) at 720 C: colder, ferrite and cementite are the better first guess
COLD_SELF_INTERACTION = SELF_INTERACTION_K / 993.0


@dataclass
class Flash:
    """Phases that are there and their shares (of metal atoms), with what follows from them.

    `saturation` holds ln S of the phases that are absent: above 0 they would form.
    """

    active: list[int]
    share: Vector
    mu: float
    logit: float
    metals_in: dict[int, Vector]
    carbon_in: dict[int, float] = field(default_factory=dict)
    saturation: dict[int, float] = field(default_factory=dict)

    def share_of(self, phase: int) -> float:
        """Share of the metal atoms in a phase; 0 where it is absent."""
        return self.share[self.active.index(phase)] if phase in self.active else 0.0


@dataclass(slots=True)
class _Balance:
    """The phases' offers with activities and what is still wrong."""

    phases: list[PhaseState]
    activity: Vector
    v: list[Vector]
    w: list[Vector]
    s: Vector
    carbon: float
    miss: dict[int, Vector]
    wrong: float


def _balance(mixture: Mixture, c: Terms, at: Flash) -> _Balance:
    phases = []
    for p in at.active:
        if p == AUSTENITE:
            q, at.logit = austenite(c, at.mu, at.metals_in[p], at.logit)
        else:
            q = ferrite(c, at.mu, at.metals_in[p]) if p == FERRITE else carbide(c, p, at.mu)
        phases.append(q)
    u, metals = mixture.shares, range(len(mixture.shares))
    if len(phases) == 1:
        d = [at.share[0] * e for e in phases[0].e]
    else:
        d = [sum([f * q.e[j] for f, q in zip(at.share, phases, strict=True)]) for j in metals]
    activity = [u[j] / d[j] for j in metals]
    v = [[q.e[j] / d[j] for j in metals] for q in phases]
    w = [[u[j] * row[j] for j in metals] for row in v]
    s = [sum(row) for row in w]
    carbon = sum([f * q.carbon for f, q in zip(at.share, phases, strict=True)]) - mixture.carbon_ratio
    wrong = max(max([abs(1.0 - value) for value in s]), 20.0 * abs(carbon))
    miss = {}
    for a, q in enumerate(phases):
        if q.x is not None:
            miss[a] = [math.log(w[a][j] / s[a] / q.x[j]) for j in metals]
            wrong = max(wrong, max([abs(value) * x for value, x in zip(miss[a], q.x, strict=True)]))
    return _Balance(phases, activity, v, w, s, carbon, miss, wrong)


def _step(c: Terms, at: Flash, b: _Balance, pace: float) -> None:
    """One Newton step, or the part `pace` of it.

    Columns: the shares, mu, and last what the make-ups still miss.
    """
    f, n, metals = at.share, len(b.phases), range(len(b.activity))
    columns = [[-value for value in row] for row in b.v]
    by_mu = [sum([f[a] * b.v[a][j] * b.phases[a].slope[j] for a in range(n)]) for j in metals]
    of_d = [[-value for value in column] for column in columns]
    of_d += [list(by_mu), [0.0 for _ in metals]]
    held = [a for a, q in enumerate(b.phases) if q.x is not None]
    moved: dict[int, list[Vector]] = {}
    shifts: dict[int, list[Vector]] = {}
    if held:
        kept = [[f[a] * b.v[a][j] for j in metals] for a in held]
        drives = [[*columns, [b.phases[a].slope[j] - by_mu[j] for j in metals], b.miss[a]] for a in held]
        by_solution = make_up_shifts([b.phases[a] for a in held], kept, drives)
        moved = dict(zip(held, by_solution[0], strict=True))
        shifts = dict(zip(held, by_solution[1], strict=True))
        for part, a in zip(kept, held, strict=True):
            for total, shift in zip(of_d, shifts[a], strict=True):
                for j in metals:
                    total[j] += part[j] * shift[j]
    rows, right = [], []
    for a, q in enumerate(b.phases):
        w = b.w[a]
        row = [-sum([x * y for x, y in zip(w, total, strict=True)]) for total in of_d]
        row[n] += sum([x * y for x, y in zip(w, q.slope, strict=True)])
        if a in shifts:
            for col, shift in enumerate(shifts[a]):
                row[col] += sum([x * y for x, y in zip(w, shift, strict=True)])
        row[a] -= 1e-9
        right.append(1.0 - b.s[a] - row[n + 1])
        rows.append(row[: n + 1])
    last = [q.carbon for q in b.phases]
    last += [sum([f[a] * b.phases[a].carbon_slope for a in range(n)]), 0.0]
    if AUSTENITE in at.active:
        a = at.active.index(AUSTENITE)
        lever = f[a] * b.phases[a].carbon_slope
        for col, change in enumerate(moved[a]):
            last[col] -= lever * sum([x * y for x, y in zip(c.carbon, change, strict=True)])
    rows.append(last[: n + 1])
    right.append(-b.carbon - last[n + 1])
    _move(at, b, solve_linear(rows, [right])[0], moved, pace)


def _move(at: Flash, b: _Balance, change: Vector, moved: dict[int, list[Vector]], pace: float) -> None:
    n = len(b.phases)
    reach = min(pace, 1.0 / max(abs(change[n]), 1e-30))
    for share, delta in zip(at.share, change, strict=False):
        if delta < 0.0:
            reach = min(reach, 0.95 * share / -delta)
    at.share = [share + reach * delta for share, delta in zip(at.share, change, strict=False)]
    at.mu += reach * change[n]
    for a, columns in moved.items():
        x = b.phases[a].x
        assert x is not None
        total = [
            pace * columns[n + 1][j] + reach * sum([columns[col][j] * change[col] for col in range(n + 1)])
            for j in range(len(x))
        ]
        at.metals_in[at.active[a]] = stepped(x, total)


def _newton(mixture: Mixture, c: Terms, at: Flash) -> Vector:
    """Iterate for the phases that are there; returns the activities of the metals."""
    for turn in range(MOST_TURNS):
        b = _balance(mixture, c, at)
        if b.wrong < TOLERANCE:
            at.carbon_in = {p: b.phases[a].carbon for a, p in enumerate(at.active)}
            for a, p in enumerate(at.active):
                at.metals_in[p] = [value / b.s[a] for value in b.w[a]]
            return b.activity
        _step(c, at, b, 1.0 if turn < QUICK_TURNS else 0.4)
        least = min(at.share)
        if len(at.active) > 1 and least < LEAST_SHARE:
            gone = at.share.index(least)
            del at.active[gone], at.share[gone]
            total = sum(at.share)
            at.share = [value / total for value in at.share]
    raise NotConverged


def _admit(mixture: Mixture, c: Terms, at: Flash, activity: Vector, phase: int) -> None:
    """Let a phase in, with no more of it than half of its main metal could make."""
    if phase in (AUSTENITE, FERRITE):
        made = at.metals_in[phase]
    else:
        offered = [a * e for a, e in zip(activity, carbide(c, phase, at.mu).e, strict=True)]
        total = sum(offered)
        made = [value / total for value in offered]
    room = min([0.5 * u / x for u, x in zip(mixture.shares, made, strict=True) if x > 0.2])
    new = min(NEW_SHARE, room)
    at.active.append(phase)
    at.share = [value * (1.0 - new) for value in at.share] + [new]


def begin(mixture: Mixture, c: Terms, phases: tuple[int, ...]) -> Flash:
    """First guess: all austenite; where that is suspended or it is cold, ferrite and cementite."""
    u, y = list(mixture.shares), min(mixture.carbon_ratio, 0.2)
    both = {AUSTENITE: list(u), FERRITE: list(u)}
    logit = math.log(y / (1.0 - y))
    cold = c.self_interaction > COLD_SELF_INTERACTION and FERRITE in phases
    if AUSTENITE in phases and not cold:
        mu = c.const + logit + c.self_interaction * y
        mu += sum([a * b for a, b in zip(c.carbon, u, strict=True)])
        return Flash([AUSTENITE], [1.0], mu, logit, both)
    if CEMENTITE in phases and 3.0 * y > 0.01:
        share = min(3.0 * y, 0.9)
        return Flash([FERRITE, CEMENTITE], [1.0 - share, share], 0.1, logit, both)
    return Flash([FERRITE], [1.0], min(math.log(y) + c.const_ferrite, 0.5), logit, both)


def solve(
    mixture: Mixture,
    c: Terms,
    phases: tuple[int, ...],
    start: Flash | None = None,
    exact: int | None = None,
) -> Flash:
    """Equilibrium among `phases`. Raises NotConverged.

    `saturation` of the result covers every absent phase that the mixture could form, suspended ones
    too; far below 0 it is rough, but for the phase named `exact`. `start` is a neighbouring answer to
    begin with; it is changed.
    """
    at = begin(mixture, c, phases) if start is None else start
    if start is not None and start.active == [AUSTENITE]:  # austenite alone is known without search
        at = begin(mixture, c, phases)
        at.metals_in[FERRITE] = start.metals_in[FERRITE]
    for _ in range(3 * PHASES):
        activity = _newton(mixture, c, at)
        at.saturation = {}
        for p in mixture.phases:
            if p in at.active:
                continue
            if p in (AUSTENITE, FERRITE):
                at.saturation[p], at.metals_in[p], logit = settle(
                    c, p, at.mu, activity, at.metals_in[p], at.logit, p != exact
                )
                at.logit = logit if p == AUSTENITE else at.logit
            else:
                offered = carbide(c, p, at.mu).e
                at.saturation[p] = math.log(sum([a * e for a, e in zip(activity, offered, strict=True)]))
        offers = [(value, p) for p, value in at.saturation.items() if p in phases]
        if not offers or max(offers)[0] < SATURATED:
            return at
        _admit(mixture, c, at, activity, max(offers)[1])
    raise NotConverged
