"""How long the equilibrium takes: python tests/benchmarks/bench_equilibrium.py"""

import sys
import time
from collections.abc import Callable

import numpy as np

from billet.composition import Composition
from billet.formulas.equilibrium import critical_lines, equilibrium_state, lines_many, states_many

STEELS = {
    "plain": {"C": 0.80, "Mn": 0.7, "Si": 0.2},
    "nickel": {"C": 0.75, "Mn": 0.4, "Si": 0.25, "Ni": 2.0},
    "chromium": {"C": 1.04, "Mn": 0.35, "Si": 0.22, "Cr": 1.45},
    "Cr-Mo": {"C": 0.40, "Mn": 0.8, "Si": 0.25, "Cr": 0.9, "Mo": 0.2},
    "W-V": {"C": 0.95, "Mn": 1.2, "Si": 0.3, "Cr": 0.5, "W": 0.5, "V": 0.1},
}


def best_ms(task: Callable[[], object], turns: int) -> float:
    times = []
    for _ in range(turns):
        begun = time.perf_counter()
        task()
        times.append(time.perf_counter() - begun)
    return 1000.0 * min(times)


class Fresh:
    """The same steel with a little more carbon each time, so that nothing is remembered."""

    def __init__(self, wt: dict[str, float]) -> None:
        self.wt, self.turn = wt, 0

    def __call__(self) -> Composition:
        self.turn += 1
        return Composition({**self.wt, "C": self.wt["C"] + 1e-5 * self.turn})


def main() -> None:
    say = sys.stdout.write
    begun = time.perf_counter()
    equilibrium_state(Composition({"C": 0.5}), 800.0)
    say(f"first call, with the table: {1000 * (time.perf_counter() - begun):.1f} ms\n")
    random = np.random.default_rng(1)
    for name, wt in STEELS.items():
        fresh = Fresh(wt)
        state = best_ms(lambda fresh=fresh: equilibrium_state(fresh(), 800.0), 40)
        lines = best_ms(lambda fresh=fresh: critical_lines(fresh()), 20)
        many = {e: v * (1.0 + 0.05 * random.standard_normal(1000)) for e, v in wt.items()}
        states_1000 = best_ms(lambda many=many: states_many(many, 800.0), 3)
        lines_1000 = best_ms(lambda many=many: lines_many(many), 3)
        say(
            f"{name:10s} state {state:6.2f} ms   lines {lines:6.2f} ms   "
            f"1000 states {states_1000:6.0f} ms   1000 lines {lines_1000:6.0f} ms\n"
        )


if __name__ == "__main__":
    main()
