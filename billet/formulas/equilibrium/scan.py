"""The slow and sure way to a line: states over the whole range, then false position in the bracket."""

import numpy as np

from billet.formulas.equilibrium.coefficients import AUSTENITE, Array
from billet.formulas.equilibrium.results import HIGHEST_C, LOWEST_C
from billet.formulas.equilibrium.samples import Mask, Samples
from billet.formulas.equilibrium.solver import Places
from billet.formulas.equilibrium.states import states_of

STRIDE_K, CLOSE_K, MOST_TURNS = 25.0, 1e-9, 80


def scanned_c(samples: Samples, allowed: Mask, watched: Mask) -> tuple[Array, Array]:
    """Highest temperature at which the watched phases vanish on heating (austenite: on cooling).

    Returns it in C (n,), nan where there is none between 450 and 1450 C, and S of every phase there
    (n, phases), 0 where there is none. Temperatures at which nothing closes are passed over.
    """
    n = len(samples.y0)
    kept = allowed & ~watched

    def drive(rows: Places, temperature_c: Array) -> tuple[Array, Array]:
        state = states_of(samples.part(rows), temperature_c, kept[rows])
        s = np.where(state.converged[:, None], state.saturation, np.nan)
        value = np.log(np.maximum(np.where(watched[rows], s, 0.0).max(1), 1e-300))
        return np.where(watched[rows, AUSTENITE], -value, value), s

    grid = np.arange(LOWEST_C, HIGHEST_C + 0.5 * STRIDE_K, STRIDE_K)
    each = np.repeat(np.arange(n), len(grid))
    values = drive(each, np.tile(grid, n))[0].reshape(n, len(grid))
    falls = (values[:, :-1] > 0.0) & (values[:, 1:] <= 0.0)
    there = np.flatnonzero(falls.any(1))
    low = len(grid) - 2 - falls[there, ::-1].argmax(1)
    found, saturation = np.full(n, np.nan), np.zeros(watched.shape)
    a, b, fa, fb = grid[low], grid[low + 1], values[there, low], values[there, low + 1]
    for _ in range(MOST_TURNS):
        if not len(there):
            break
        middle = (a * fb - b * fa) / (fb - fa)
        f, s = drive(there, middle)
        found[there], saturation[there] = middle, s
        up = f > 0.0
        near = np.where(up, middle - a, b - middle)
        a, fa = np.where(up, middle, a), np.where(up, f, 0.5 * fa)
        b, fb = np.where(up, b, middle), np.where(up, 0.5 * fb, f)
        open_ = (near > CLOSE_K) & (b - a > CLOSE_K) & (f != 0.0)
        there, a, b, fa, fb = there[open_], a[open_], b[open_], fa[open_], fb[open_]
    return found, saturation
