"""Equilibrium of one composition at one temperature, in plain floats (about 0.1 ms).

Unknown are the shares f of the phases that are there and the carbon potential mu = ln a_C. Given
these, the metals follow: activity_j = u_j / sum_p f_p E_jp with E_jp = exp(n_p mu - g_jp - ...), so a
phase p is saturated where S_p = sum_j activity_j E_jp = 1 and carbon closes. Newton on that; a phase
whose share falls to nothing leaves, the most supersaturated one that is missing comes in.
"""

import math
from dataclasses import dataclass

from billet.formulas.equilibrium.coefficients import AUSTENITE, CARBON_PER_METAL, FERRITE, PHASES
from billet.formulas.equilibrium.mixture import Mixture, Terms, Vector

NEW_SHARE, LEAST_SHARE, SATURATED = 0.02, 1e-10, 1e-9
TOLERANCE = 1e-9


class NotConverged(ArithmeticError):
    """The quick route found no answer; the slow one (solve_many) takes over."""


@dataclass
class Flash:
    """Phases that are there and their shares (of metal atoms), with what follows from them."""

    active: list[int]
    share: Vector
    mu: float
    logit: float
    metals_in: dict[int, Vector]
    carbon_in: dict[int, float]
    saturation: dict[int, float]

    def share_of(self, phase: int) -> float:
        """Share of the metal atoms in a phase; 0 where it is absent."""
        return self.share[self.active.index(phase)] if phase in self.active else 0.0


@dataclass
class _Phase:
    """What one phase offers at the present potentials."""

    e: Vector
    slope: Vector
    carbon: float
    carbon_slope: float
    x: Vector
    pull: list[Vector] | None


def carbon_ratio(target: float, k: float, logit: float) -> tuple[float, float]:
    """y with ln(y/(1-y)) + k y = target, and its logit, beginning near `logit`."""
    y = 1.0 / (1.0 + math.exp(-logit))
    for _ in range(40):
        change = (logit + k * y - target) / (1.0 + k * y * (1.0 - y))
        logit -= change
        y = 1.0 / (1.0 + math.exp(-logit))
        if abs(change) < 1e-11:
            break
    return y, logit


def _products(matrix: list[Vector], x: Vector) -> tuple[Vector, float]:
    product = [sum(a * b for a, b in zip(row, x, strict=True)) for row in matrix]
    return product, 0.5 * sum(a * b for a, b in zip(product, x, strict=True))


def _austenite(c: Terms, mu: float, x: Vector, logit: float) -> tuple[_Phase, float]:
    eu, half = _products(c.austenite, x)
    eps, k = c.carbon, c.self_interaction
    s = sum(a * b for a, b in zip(eps, x, strict=True))
    y, logit = carbon_ratio(mu - c.const - s, k, logit)
    dy = 1.0 / (1.0 / (y * (1.0 - y)) + k)
    common = math.log1p(-y) - 0.5 * k * y * y - half - y * s
    metals = range(len(x))
    e = [math.exp(-(common + y * eps[j] + eu[j])) for j in metals]
    slope = [y - dy * (eps[j] - s) for j in metals]
    pull = [
        [c.austenite[j][i] - eu[i] - dy * (eps[j] - s) * eps[i] for i in metals] for j in metals
    ]
    return _Phase(e, slope, y, dy, x, pull), logit


def _ferrite(c: Terms, mu: float, x: Vector) -> _Phase:
    eu, half = _products(c.ferrite, x)
    y = math.exp(min(mu - c.const_ferrite, -1.0))
    g = c.transfer[FERRITE]
    metals = range(len(x))
    e = [math.exp(y + half - eu[j] - g[j]) for j in metals]
    pull = [[c.ferrite[j][i] - eu[i] for i in metals] for j in metals]
    return _Phase(e, [y] * len(x), y, y, x, pull)


def _carbide(c: Terms, phase: int, mu: float) -> _Phase:
    n = CARBON_PER_METAL[phase]
    e = [math.exp(n * mu - g) for g in c.transfer[phase]]
    return _Phase(e, [n] * len(e), n, 0.0, [], None)


def solve_linear(matrix: list[Vector], right: Vector) -> Vector:
    """Gauss elimination with row exchange for a handful of unknowns."""
    n = len(right)
    rows = [[*matrix[i], right[i]] for i in range(n)]
    for i in range(n):
        best = max(range(i, n), key=lambda r: abs(rows[r][i]))
        rows[i], rows[best] = rows[best], rows[i]
        top = rows[i]
        if top[i] == 0.0:
            raise NotConverged
        for r in range(i + 1, n):
            factor = rows[r][i] / top[i]
            if factor != 0.0:
                row = rows[r]
                for col in range(i, n + 1):
                    row[col] -= factor * top[col]
    out = [0.0] * n
    for i in range(n - 1, -1, -1):
        row = rows[i]
        out[i] = (row[n] - sum(row[j] * out[j] for j in range(i + 1, n))) / row[i]
    return out


def _damping(phase: _Phase) -> Vector:
    pull = phase.pull or []
    return [1.0 / (1.0 + max(pull[j][j], 0.0) * phase.x[j]) for j in range(len(phase.x))]


class _Newton:
    """Newton iterations for one set of phases."""

    def __init__(self, mixture: Mixture, c: Terms, flash: Flash) -> None:
        self.u, self.y0, self.c, self.at = mixture.shares, mixture.carbon_ratio, c, flash
        self.metals = range(len(self.u))

    def phases(self) -> list[_Phase]:
        at, found = self.at, []
        for p in at.active:
            if p == AUSTENITE:
                phase, at.logit = _austenite(self.c, at.mu, at.metals_in[p], at.logit)
            elif p == FERRITE:
                phase = _ferrite(self.c, at.mu, at.metals_in[p])
            else:
                phase = _carbide(self.c, p, at.mu)
            found.append(phase)
        return found

    def run(self) -> Vector:
        """Iterate; returns the activities of the metals. Raises NotConverged."""
        at = self.at
        for _ in range(80):
            phases = self.phases()
            f, n = at.share, len(phases)
            d = [sum(f[a] * phases[a].e[j] for a in range(n)) for j in self.metals]
            activity = [self.u[j] / d[j] for j in self.metals]
            w = [[activity[j] * q.e[j] for j in self.metals] for q in phases]
            s = [sum(row) for row in w]
            carbon = sum(f[a] * phases[a].carbon for a in range(n)) - self.y0
            wrong = max(max(abs(1.0 - v) for v in s), 20.0 * abs(carbon))
            for a, q in enumerate(phases):
                if q.pull is not None:
                    wrong = max(wrong, max(abs(w[a][j] / s[a] - q.x[j]) for j in self.metals))
            if wrong < TOLERANCE:
                at.carbon_in = {p: phases[a].carbon for a, p in enumerate(at.active)}
                at.metals_in.update({p: [v / s[a] for v in w[a]] for a, p in enumerate(at.active)})
                return activity
            self.step(phases, d, w, s, carbon)
            if len(at.active) > 1 and min(at.share) < LEAST_SHARE:
                gone = at.share.index(min(at.share))
                del at.active[gone], at.share[gone]
                total = sum(at.share)
                at.share = [v / total for v in at.share]
        raise NotConverged

    def step(
        self, phases: list[_Phase], d: Vector, w: list[Vector], s: Vector, carbon: float
    ) -> None:  # fmt: skip
        at, n, metals = self.at, len(phases), self.metals
        f, columns = at.share, range(n + 1)
        v = [[q.e[j] / d[j] for j in metals] for q in phases]
        b = [
            [*(v[a][j] for a in range(n)), sum(f[a] * v[a][j] * phases[a].slope[j] for a in range(n))]
            for j in metals
        ]
        moved, shifts = self._composition_shifts(phases, b)
        for a, shift in shifts.items():
            for j in metals:
                weight = f[a] * v[a][j]
                for col in columns:
                    b[j][col] += weight * shift[j][col]
        matrix: list[Vector] = []
        for a, q in enumerate(phases):
            row = [-sum(w[a][j] * b[j][col] for j in metals) for col in columns]
            row[n] += sum(w[a][j] * q.slope[j] for j in metals)
            if a in shifts:
                for col in columns:
                    row[col] += sum(w[a][j] * shifts[a][j][col] for j in metals)
            row[a] -= 1e-9
            matrix.append(row)
        last = [*(q.carbon for q in phases), sum(f[a] * phases[a].carbon_slope for a in range(n))]
        if AUSTENITE in at.active:
            a = at.active.index(AUSTENITE)
            eps, lever = self.c.carbon, f[a] * phases[a].carbon_slope
            for col in columns:
                last[col] -= lever * sum(eps[j] * moved[a][j][col] for j in metals)
        matrix.append(last)
        change = solve_linear(matrix, [*(1.0 - value for value in s), -carbon])
        self._move(phases, w, s, change, moved)

    def _composition_shifts(
        self, phases: list[_Phase], b: list[Vector]
    ) -> tuple[dict[int, list[Vector]], dict[int, list[Vector]]]:
        """How the make-up of austenite and ferrite moves with each unknown, and with it ln E."""
        n, metals = len(phases), self.metals
        moved: dict[int, list[Vector]] = {}
        shifts: dict[int, list[Vector]] = {}
        for a, q in enumerate(phases):
            if q.pull is None:
                continue
            damping = _damping(q)
            t = [[-value for value in b[j]] for j in metals]
            for j in metals:
                t[j][n] += q.slope[j]
            mean = [sum(q.x[j] * t[j][col] for j in metals) for col in range(n + 1)]
            dx = [
                [q.x[j] * damping[j] * (t[j][col] - mean[col]) for col in range(n + 1)] for j in metals
            ]
            moved[a] = dx
            shifts[a] = [
                [-sum(q.pull[j][i] * dx[i][col] for i in metals) for col in range(n + 1)] for j in metals
            ]
        return moved, shifts

    def _move(
        self, phases: list[_Phase], w: list[Vector], s: Vector, change: Vector,
        moved: dict[int, list[Vector]],
    ) -> None:  # fmt: skip
        at, n = self.at, len(phases)
        reach = min(1.0, 1.0 / max(abs(change[n]), 1e-30))
        for share, delta in zip(at.share, change, strict=False):
            if delta < 0.0:
                reach = min(reach, 0.95 * share / -delta)
        at.share = [share + reach * delta for share, delta in zip(at.share, change, strict=False)]
        at.mu += reach * change[n]
        for a, p in enumerate(list(at.active)):
            q = phases[a]
            if q.pull is None:
                continue
            damping = _damping(q)
            new = []
            for j in self.metals:
                ratio = math.log(w[a][j] / s[a] / q.x[j])
                value = q.x[j] * math.exp(max(-1.0, min(1.0, damping[j] * ratio)))
                shift = reach * sum(moved[a][j][col] * change[col] for col in range(n + 1))
                new.append(value + max(-0.3 * value, min(0.3 * value, shift)))
            total = sum(new)
            at.metals_in[p] = [value / total for value in new]


def _saturation(mixture: Mixture, c: Terms, flash: Flash, activity: Vector, phase: int) -> float:
    """ln S of a phase that is absent: above 0 it would form."""
    if phase not in (AUSTENITE, FERRITE):
        offered = _carbide(c, phase, flash.mu).e
        return math.log(sum(a * e for a, e in zip(activity, offered, strict=True)))
    x = flash.metals_in[phase]
    total = 1.0
    for _ in range(200):
        if phase == AUSTENITE:
            q, flash.logit = _austenite(c, flash.mu, x, flash.logit)
        else:
            q = _ferrite(c, flash.mu, x)
        w = [a * e for a, e in zip(activity, q.e, strict=True)]
        total = sum(w)
        damping = _damping(q)
        new = [
            x[j] * math.exp(max(-1.0, min(1.0, damping[j] * math.log(w[j] / total / x[j]))))
            for j in range(len(x))
        ]
        norm = sum(new)
        new = [value / norm for value in new]
        wrong = max(abs(a - b) for a, b in zip(new, x, strict=True))
        x = new
        if wrong < 1e-10:
            break
    flash.metals_in[phase] = x
    return math.log(total)


def begin(mixture: Mixture, c: Terms, phases: tuple[int, ...]) -> Flash:
    """All austenite (or, where that is suspended, ferrite) as the first guess."""
    u, y = list(mixture.shares), min(mixture.carbon_ratio, 0.2)
    logit = math.log(y / (1.0 - y))
    mu = c.const + logit + c.self_interaction * y + sum(a * b for a, b in zip(c.carbon, u, strict=True))
    first = AUSTENITE if AUSTENITE in phases else FERRITE
    both = {AUSTENITE: list(u), FERRITE: list(u)}
    return Flash([first], [1.0], min(mu, 2.0), logit, both, {}, {})


def solve(mixture: Mixture, c: Terms, phases: tuple[int, ...], start: Flash | None = None) -> Flash:
    """Equilibrium among `phases`. Raises NotConverged.

    `saturation` of the result holds ln S of every phase that `mixture` could form and that is absent,
    suspended ones too.
    """
    flash = begin(mixture, c, phases) if start is None else start
    for _ in range(3 * PHASES):
        activity = _Newton(mixture, c, flash).run()
        missing = [p for p in mixture.phases if p not in flash.active]
        flash.saturation = {p: _saturation(mixture, c, flash, activity, p) for p in missing}
        offers = [(flash.saturation[p], p) for p in missing if p in phases]
        if not offers or max(offers)[0] < SATURATED:
            return flash
        flash.active.append(max(offers)[1])
        flash.share = [value * (1.0 - NEW_SHARE) for value in flash.share] + [NEW_SHARE]
    raise NotConverged
