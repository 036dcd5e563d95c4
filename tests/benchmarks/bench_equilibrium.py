"""How long the equilibrium takes, in CPU time: python tests/benchmarks/bench_equilibrium.py"""

import sys
import time
from collections.abc import Callable

import numpy as np

from billet.formulas.equilibrium import lines_many, states_many

STEELS = {
    "plain": {"C": 0.80, "Mn": 0.7, "Si": 0.2},
    "nickel": {"C": 0.75, "Mn": 0.4, "Si": 0.25, "Ni": 2.0},
    "chromium": {"C": 1.04, "Mn": 0.35, "Si": 0.22, "Cr": 1.45},
    "Cr-Mo": {"C": 0.40, "Mn": 0.8, "Si": 0.25, "Cr": 0.9, "Mo": 0.2},
    "W-V": {"C": 0.95, "Mn": 1.2, "Si": 0.3, "Cr": 0.5, "W": 0.5, "V": 0.1},
}


MOST_MS = {1: (4.0, 1.5), 6: (4.0, 1.5), 1000: (250.0, 80.0)}  # lines, states


def best_ms(task: Callable[[], object], turns: int) -> float:
    task()
    times = []
    for _ in range(turns):
        begun = time.process_time()
        task()
        times.append(time.process_time() - begun)
    return 1000.0 * min(times)


def main() -> None:
    say = sys.stdout.write
    begun = time.process_time()
    states_many({"C": np.array([0.5])}, 800.0)
    say(f"first call, with the table: {1000 * (time.process_time() - begun):.1f} ms\n")
    random = np.random.default_rng(1)
    for name, steel in STEELS.items():
        for n, (lines_ms, states_ms) in MOST_MS.items():
            wt = {e: v * (1.0 + 0.05 * random.standard_normal(n)) for e, v in steel.items()}
            turns = 40 if n < 100 else 3
            states = best_ms(lambda wt=wt: states_many(wt, 800.0), turns)
            lines = best_ms(lambda wt=wt: lines_many(wt), turns)
            say(f"{name:10s} n {n:5d}   lines {lines:7.2f} ms (asked {lines_ms:.1f})")
            say(f"   states {states:7.2f} ms (asked {states_ms:.1f})\n")


if __name__ == "__main__":
    main()
