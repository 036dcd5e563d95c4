"""Many compositions at once: their state while they are solved, and what the phases offer them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from billet.formulas.equilibrium.coefficients import (
    AUSTENITE,
    CARBON_PER_METAL,
    FERRITE,
    PHASES,
    rows_at,
)
from billet.formulas.equilibrium.mixture import SELF_INTERACTION_K

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class System:
    """Metals (places in ELEMENTS) and phases of the whole batch; `vanish` is the one at its last trace.

    `frozen`: interactions in austenite and ferrite are taken at the make-up of the whole steel, which
    always has an answer; for the corners where the full form has none.
    """

    metals: tuple[int, ...]
    phases: tuple[int, ...]
    vanish: int | None = None
    frozen: bool = False

    @property
    def carbon(self) -> Array:
        """Carbon atoms for one metal atom of each phase (0 stands for the two solutions)."""
        return np.array([CARBON_PER_METAL[p] for p in self.phases])

    def place(self, phase: int) -> int | None:
        """Where a phase stands among `phases`."""
        return self.phases.index(phase) if phase in self.phases else None

    @property
    def held(self) -> Mask:
        """Marks the vanishing phase."""
        return np.array([p == self.vanish for p in self.phases])


@dataclass
class Batch:
    """n compositions: `u` (n, metals), `y0` (n,), shares and slacks (n, phases), x: make-up of the
    austenite and of the ferrite (n, metals) each."""

    number: NDArray[np.int64]
    u: Array
    y0: Array
    temperature_k: Array
    share: Array
    slack: Array
    mu: Array
    logit: Array
    x: list[Array]
    on_heating: Mask

    def part(self, keep: Mask) -> "Batch":
        """The compositions in `keep`."""
        return Batch(
            self.number[keep], self.u[keep], self.y0[keep], self.temperature_k[keep],
            self.share[keep], self.slack[keep], self.mu[keep], self.logit[keep],
            [x[keep] for x in self.x], self.on_heating[keep],
        )  # fmt: skip


@dataclass
class Rows:
    """Coefficients (or their slopes by temperature) of the batch."""

    g: Array
    eps: Array
    pair: tuple[Array, Array]
    const: Array
    const_ferrite: Array


@dataclass
class Offer:
    """E of each phase and metal, and ln E and carbon by each of the unknowns mu and temperature.

    e (n, phases, metals); by (n, phases, metals, 1 or 2); carbon (n, phases);
    carbon_by (n, phases, 1 or 2); pull: for austenite and ferrite, ln E by their own make-up.
    """

    e: Array
    by: Array
    carbon: Array
    carbon_by: Array
    pull: dict[int, Array]


def take(rows: Array, system: System) -> Rows:
    """The coefficients that this system needs out of rows of its metals."""
    n, m = len(rows), len(system.metals)
    by_phase = PHASES * m
    pairs = by_phase + m
    return Rows(
        rows[:, :by_phase].reshape(n, PHASES, m)[:, list(system.phases)],
        rows[:, by_phase:pairs],
        (
            rows[:, pairs : pairs + m * m].reshape(n, m, m),
            rows[:, pairs + m * m : pairs + 2 * m * m].reshape(n, m, m),
        ),
        rows[:, -2],
        rows[:, -1],
    )


def carbon_ratios(target: Array, k: Array, logit: Array) -> tuple[Array, Array]:
    """y with ln(y/(1-y)) + k y = target, and its logit."""
    for _ in range(12):
        y = 1.0 / (1.0 + np.exp(-logit))
        change = (logit + k * y - target) / (1.0 + k * y * (1.0 - y))
        logit = logit - change
        if np.max(np.abs(change), initial=0.0) < 1e-11:
            break
    return 1.0 / (1.0 + np.exp(-logit)), logit


def start(u: Array, y0: Array, temperature_k: Array, system: System) -> Batch:
    """First guess: mostly austenite, a little of everything."""
    n, p = len(y0), len(system.phases)
    rows = take(rows_at(temperature_k, system.metals)[0], system)
    y = np.minimum(y0, 0.2)
    logit = np.log(y / (1.0 - y))
    mu = rows.const + logit + SELF_INTERACTION_K / temperature_k * y + (rows.eps * u).sum(1)
    # carbides hold less carbon than there is, or the potential would run away
    share = np.repeat(np.clip(0.2 * y0, 1e-9, 1e-3)[:, None], p, axis=1)
    austenite = system.place(AUSTENITE)
    if austenite is not None:
        share[:, austenite] = 0.6
    ferrite = system.place(FERRITE)
    if ferrite is not None:
        share[:, ferrite] = 0.2
    share = np.where(system.held, 0.0, share)
    slack = np.where(system.held, 0.0, np.full((n, p), 0.1))
    return Batch(
        np.arange(n), u, y0, temperature_k.copy(), share, slack, np.minimum(mu, 0.3), logit,
        [u.copy(), u.copy()], np.zeros(n, bool),
    )  # fmt: skip


def offer(b: Batch, system: System) -> tuple[Offer, Array]:
    """What the phases offer at the present potentials, and the interactions with carbon (n, metals)."""
    free = system.vanish is not None
    table, slope_table = rows_at(b.temperature_k, system.metals)
    rows, slopes = take(table, system), take(slope_table, system) if free else None
    n = system.carbon
    exponent = n[:, None] * b.mu[:, None, None] - rows.g
    by = np.zeros((*exponent.shape, 1 + free))
    by[..., 0] = n[None, :, None]
    if slopes is not None:
        by[..., 1] = -slopes.g
    carbon = np.broadcast_to(n, b.share.shape).copy()
    made = Offer(exponent, by, carbon, np.zeros((*carbon.shape, 1 + free)), {})
    _austenite(b, system, rows, slopes, made)
    _ferrite(b, system, rows, slopes, made)
    if system.frozen:
        made.pull = {a: np.zeros_like(pull) for a, pull in made.pull.items()}
    made.e = np.exp(np.clip(exponent, -700.0, 60.0))
    return made, rows.eps


def _austenite(b: Batch, system: System, rows: Rows, slopes: Rows | None, made: Offer) -> None:
    a = system.place(AUSTENITE)
    if a is None:
        return
    x, k = b.x[0], SELF_INTERACTION_K / b.temperature_k
    eu = np.matmul(x[:, None, :], rows.pair[0])[:, 0]
    s = (rows.eps * x).sum(1)
    y, b.logit = carbon_ratios(b.mu - rows.const - s, k, b.logit)
    dy = 1.0 / (1.0 / (y * (1.0 - y)) + k)
    lift = dy[:, None] * (rows.eps - s[:, None])
    common = np.log1p(-y) - 0.5 * k * y * y - 0.5 * (eu * x).sum(1) - y * s
    made.e[:, a] -= common[:, None] + y[:, None] * rows.eps + eu
    by_mu = y[:, None] - lift
    made.by[:, a, :, 0] = by_mu
    made.carbon[:, a], made.carbon_by[:, a, 0] = y, dy
    made.pull[a] = rows.pair[0] - eu[:, None, :] - lift[:, :, None] * rows.eps[:, None, :]
    if slopes is not None:  # interactions between metals drift too little with temperature to count
        s_slope, k_slope = (slopes.eps * x).sum(1), -k / b.temperature_k
        drift = slopes.const + s_slope + k_slope * y
        made.by[:, a, :, 1] += (y * s_slope + 0.5 * k_slope * y * y)[:, None]
        made.by[:, a, :, 1] -= drift[:, None] * by_mu + y[:, None] * slopes.eps
        made.carbon_by[:, a, 1] = -dy * drift


def _ferrite(b: Batch, system: System, rows: Rows, slopes: Rows | None, made: Offer) -> None:
    f = system.place(FERRITE)
    if f is None:
        return
    x = b.x[1]
    eu = np.matmul(x[:, None, :], rows.pair[1])[:, 0]
    y = np.exp(np.minimum(b.mu - rows.const_ferrite, -1.0))
    made.e[:, f] += (y + 0.5 * (eu * x).sum(1))[:, None] - eu
    made.by[:, f, :, 0] = y[:, None]
    made.carbon[:, f] = made.carbon_by[:, f, 0] = y
    made.pull[f] = rows.pair[1] - eu[:, None, :]
    if slopes is not None:
        made.by[:, f, :, 1] -= (y * slopes.const_ferrite)[:, None]
        made.carbon_by[:, f, 1] = -y * slopes.const_ferrite
