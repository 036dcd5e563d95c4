"""What each phase offers the metals at given potentials, in plain floats.

E_j = exp(ln of what a phase gives a metal for its activity): u_j in the phase = activity_j E_j. In
austenite and ferrite E depends on the make-up x of the phase itself; `pull` holds -d ln E_j / d x_k for
the alloying metals k.
"""

import math
from dataclasses import dataclass

from billet.errors import BilletError
from billet.formulas.equilibrium.coefficients import AUSTENITE, CARBON_PER_METAL, FERRITE
from billet.formulas.equilibrium.mixture import Terms, Vector

ROUGHLY_ABSENT, ROUGH_MISS = 0.97, 0.02
SETTLED = 3e-5  # ln S is then right to about 1e-8
MOST_TURNS, LEAST_IRON = 60, 0.75


class NotConverged(BilletError):
    """This route found no equilibrium; where it comes out of the package, no route did."""

    def __init__(self) -> None:
        super().__init__("no equilibrium was found for this composition and temperature")


@dataclass(slots=True)
class PhaseState:
    """E by metal, its logarithmic slope by mu, carbon for one metal atom and its slope by mu."""

    e: Vector
    slope: Vector
    carbon: float
    carbon_slope: float
    x: Vector | None = None
    pull: list[Vector] | None = None


def carbon_ratio(target: float, k: float, logit: float) -> tuple[float, float]:
    """y with ln(y/(1-y)) + k y = target, and its logit, beginning near `logit`."""
    y = 1.0 / (1.0 + math.exp(-logit))
    for _ in range(40):
        change = (logit + k * y - target) / (1.0 + k * y * (1.0 - y))
        logit -= change
        y = 1.0 / (1.0 + math.exp(-logit))
        if -1e-10 < change < 1e-10:
            break
    return y, logit


def austenite(c: Terms, mu: float, x: Vector, logit: float) -> tuple[PhaseState, float]:
    """Austenite of make-up x at the carbon potential mu, and the logit of its carbon."""
    eps, k, metals = c.carbon, c.self_interaction, range(len(x))
    eu = [sum([a * b for a, b in zip(row, x, strict=True)]) for row in c.austenite]
    half = 0.5 * sum([a * b for a, b in zip(eu, x, strict=True)])
    s = sum([a * b for a, b in zip(eps, x, strict=True)])
    y, logit = carbon_ratio(mu - c.const - s, k, logit)
    dy = 1.0 / (1.0 / (y * (1.0 - y)) + k)
    common = math.log1p(-y) - 0.5 * k * y * y - half - y * s
    lift = [dy * (eps[j] - s) for j in metals]
    e = [math.exp(-common - y * eps[j] - eu[j]) for j in metals]
    pull = [[c.austenite[j][i] - eu[i] - lift[j] * eps[i] for i in metals[1:]] for j in metals]
    return PhaseState(e, [y - value for value in lift], y, dy, x, pull), logit


def ferrite(c: Terms, mu: float, x: Vector) -> PhaseState:
    """Ferrite of make-up x at the carbon potential mu."""
    metals = range(len(x))
    eu = [sum([a * b for a, b in zip(row, x, strict=True)]) for row in c.ferrite]
    half = 0.5 * sum([a * b for a, b in zip(eu, x, strict=True)])
    y = math.exp(min(mu - c.const_ferrite, -1.0))
    g = c.transfer[FERRITE]
    e = [math.exp(y + half - eu[j] - g[j]) for j in metals]
    pull = [[c.ferrite[j][i] - eu[i] for i in metals[1:]] for j in metals]
    return PhaseState(e, [y] * len(x), y, y, x, pull)


def carbide(c: Terms, phase: int, mu: float) -> PhaseState:
    """A carbide at the carbon potential mu."""
    n = CARBON_PER_METAL[phase]
    e = [math.exp(n * mu - g) for g in c.transfer[phase]]
    return PhaseState(e, [n] * len(e), n, 0.0)


def solve_linear(matrix: list[Vector], right: list[Vector]) -> list[Vector]:
    """Gauss elimination with row exchange: x with matrix x = right, `right` a list of columns.

    Returns the columns of x. Raises NotConverged for a singular matrix.
    """
    n = len(matrix)
    rows = [[*matrix[i], *(column[i] for column in right)] for i in range(n)]
    width = n + len(right)
    for i in range(n):
        best = max(range(i, n), key=lambda r: abs(rows[r][i]))
        if best != i:
            rows[i], rows[best] = rows[best], rows[i]
        top = rows[i]
        if top[i] == 0.0:
            raise NotConverged
        for r in range(i + 1, n):
            row = rows[r]
            factor = row[i] / top[i]
            if factor:
                for col in range(i + 1, width):
                    row[col] -= factor * top[col]
    out = []
    for col in range(n, width):
        x = [0.0] * n
        for i in range(n - 1, -1, -1):
            row = rows[i]
            value = row[col]
            for j in range(i + 1, n):
                value -= row[j] * x[j]
            x[i] = value / row[i]
        out.append(x)
    return out


def _shift(pull: list[Vector], part: Vector) -> Vector:
    return [-sum([p * d for p, d in zip(row, part, strict=True)]) for row in pull]


def own_shifts(q: PhaseState, kept: Vector, drives: list[Vector]) -> tuple[list[Vector], list[Vector]]:
    """make_up_shifts where there is one solution only."""
    x, pull = _of(q)
    size = len(x) - 1
    places = range(size)
    if not size:
        return [[0.0] for _ in drives], [[0.0] for _ in drives]
    share = [a * b for a, b in zip(x, kept, strict=True)]
    mean = [sum([a * row[k] for a, row in zip(share, pull, strict=True)]) for k in places]
    matrix = []
    for j in places:
        weight, free, row = x[j + 1], 1.0 - kept[j + 1], pull[j + 1]
        line = [weight * (free * row[k] + mean[k]) for k in places]
        line[j] += 1.0
        matrix.append(line)
    right = []
    for t in drives:
        middle = sum([a * b for a, b in zip(x, t, strict=True)])
        right.append([x[j] * (t[j] - middle) for j in range(1, size + 1)])
    columns = solve_linear(matrix, right)
    moved = [[-sum(part), *part] for part in columns]
    shifts = [_shift(pull, part) for part in columns]
    return moved, shifts


def make_up_shifts(
    solutions: list[PhaseState], kept: list[Vector], drives: list[list[Vector]]
) -> tuple[list[list[Vector]], list[list[Vector]]]:
    """How the make-up of each solution answers changes of ln(activity E) by metal.

    `kept[a][j]` is the part of metal j that solution a holds: what a solution keeps for itself it does
    not push out. `drives[a]` lists the changes for solution a. Returns, by solution and change, the
    change of x and the change of ln E that follows from it.
    """
    m, count = len(solutions[0].e), len(solutions)
    size = m - 1
    if count == 1:
        moved_one, shifts_one = own_shifts(solutions[0], kept[0], drives[0])
        return [moved_one], [shifts_one]
    matrix = [[0.0] * (size * count) for _ in range(size * count)]
    right = [[0.0] * (size * count) for _ in drives[0]]
    for a, q in enumerate(solutions):
        x, own = _of(q)
        for b, other in enumerate(solutions):
            _, pull = _of(other)
            share = [x[j] * kept[b][j] for j in range(m)]
            mean = [sum([share[j] * pull[j][k] for j in range(m)]) for k in range(size)]
            for j in range(1, m):
                row = matrix[a * size + j - 1]
                for k in range(size):
                    row[b * size + k] = x[j] * (mean[k] - kept[b][j] * pull[j][k])
        for j in range(1, m):
            row = matrix[a * size + j - 1]
            for k in range(size):
                row[a * size + k] += x[j] * own[j][k]
            row[a * size + j - 1] += 1.0
        for col, t in enumerate(drives[a]):
            middle = sum([x[j] * t[j] for j in range(m)])
            for j in range(1, m):
                right[col][a * size + j - 1] = x[j] * (t[j] - middle)
    columns = solve_linear(matrix, right)
    moved: list[list[Vector]] = []
    shifts: list[list[Vector]] = []
    for a, q in enumerate(solutions):
        _, pull = _of(q)
        parts = [column[a * size : (a + 1) * size] for column in columns]
        moved.append([[-sum(part), *part] for part in parts])
        shifts.append([_shift(pull, part) for part in parts])
    return moved, shifts


def _of(q: PhaseState) -> tuple[Vector, list[Vector]]:
    if q.x is None or q.pull is None:
        raise TypeError("a carbide has no make-up of its own")
    return q.x, q.pull


def settle(
    c: Terms, phase: int, mu: float, activity: Vector, x: Vector, logit: float, rough: bool
) -> tuple[float, Vector, float]:
    """ln S of austenite or ferrite at given activities, with the make-up it would have.

    Where no make-up within reach of the dilute form settles, the best drive that was met stands for it.

    `rough`: far from saturation a value near enough to say so is enough (ln S is stationary in the
    make-up, so a small miss there is a smaller one here).
    """
    nothing, begun = [0.0] * len(x), x
    best, best_x = -math.inf, x
    for _ in range(MOST_TURNS):
        if phase == AUSTENITE:
            q, logit = austenite(c, mu, x, logit)
        else:
            q = ferrite(c, mu, x)
        w = [a * e for a, e in zip(activity, q.e, strict=True)]
        total = sum(w)
        miss = [math.log(w[j] / total / x[j]) for j in range(len(x))]
        wrong = max([abs(value) * share for value, share in zip(miss, x, strict=True)])
        if wrong < SETTLED or (rough and total < ROUGHLY_ABSENT and wrong < ROUGH_MISS):
            return math.log(total), x, logit
        # the drive of just this make-up: any make-up above 0 proves that the phase would form
        here = math.log(total) + sum([a * b for a, b in zip(x, miss, strict=True)])
        if here > best and x[0] > LEAST_IRON:
            best, best_x = here, x
        if x[0] < LEAST_IRON:  # the dilute form does not reach there
            break
        moved, _ = own_shifts(q, nothing, [miss])
        x = stepped(x, moved[0])
    return best, best_x if best > 0.0 else begun, logit


def stepped(x: Vector, change: Vector) -> Vector:
    """x + change, no metal more than doubled or halved, the sum 1 again."""
    new = [a + max(-0.5 * a, min(a, b)) for a, b in zip(x, change, strict=True)]
    total = sum(new)
    return [value / total for value in new]
