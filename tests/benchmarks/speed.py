"""Speed with proof: `python tests/benchmarks/speed.py` from the root, about a minute on a free machine.

Side by side in one run, in processor time of one thread: the carbon of one fire as this program follows it,
as scipy's banded LSODA and FiPy do, and the least that LAPACK takes; a state of a steel beside pycalphad; a
plan over HTTP beside the floor of its solves. Prints the tables that stand in README.
"""

import os
import platform
import sys
import time
import warnings
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path
from typing import Any

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")
ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]
TURNS = 7


def best_ms(task: Callable[[], Any], turns: int = TURNS) -> tuple[float, Any]:
    """Least processor time of some calls, and what the last gave; one beforehand does not count."""
    task()
    taken = []
    for _ in range(turns):
        began = time.process_time()
        found = task()
        taken.append(1000.0 * (time.process_time() - began))
    return min(taken), found


def diffusion() -> None:
    """One fire, sixty layers."""
    import diffusion_cases as cases
    import numpy as np

    finest = cases.in_wt(cases.lsoda(cases.grid(cases.FINE_CELLS), cases.FINE_TOLERANCE))
    coarse = cases.grid(cases.CELLS)
    cells = cases.CELLS * cases.LAYERS
    own, own_cells = cases.ours()
    few, many = cases.EULER_STEPS
    ways: list[tuple[str, Callable[[], Any], int]] = [
        (f"this program, {own_cells} cells", own, TURNS),
        (
            f"scipy {version('scipy')} LSODA, banded, {cells} cells",
            lambda: cases.lsoda(coarse, cases.LSODA_TOLERANCE),
            TURNS,
        ),
        (f"LAPACK alone, backward Euler, {few} steps", lambda: cases.banded_euler(coarse, few), TURNS),
        (f"LAPACK alone, backward Euler, {many} steps", lambda: cases.banded_euler(coarse, many), TURNS),
        (f"FiPy {version('FiPy')}, backward Euler, {few} steps", cases.fipy_euler(coarse, few), 2),
    ]
    say("| carbon of one fire | ms | off the finest, wt% C |", "|---|---|---|")
    for told, task, turns in ways:
        ms, layers = best_ms(task, turns)
        off = float(np.max(np.abs(cases.in_wt(layers) - finest)))
        say(f"| {told} | {ms:.2f} | {off:.5f} |")


def state() -> None:
    """Iron and carbon at equilibrium."""
    import state_cases as cases

    theirs = cases.pycalphads()
    asked = [(wt, c) for wt in cases.CARBON_WT for c in cases.TEMPERATURES_C]
    many_ms, together = best_ms(lambda: [share for wt in cases.CARBON_WT for share in cases.ours(wt)()])
    one_ms, _ = best_ms(lambda: [cases.one_of_ours(*each)() for each in asked])
    their_ms, beside = best_ms(lambda: [theirs(*each) for each in asked], 2)
    off = max(abs(a - b) for a, b in zip(together, beside, strict=True))
    say(
        "",
        "| a state of iron and carbon, same energies | ms | most of a difference in austenite |",
        "|---|---|---|",
    )
    say(f"| this program, one by one | {one_ms / len(asked):.2f} | {off:.5f} |")
    say(f"| this program, {len(cases.TEMPERATURES_C)} at once | {many_ms / len(asked):.2f} | {off:.5f} |")
    say(f"| pycalphad {version('pycalphad')}, workspace kept | {their_ms / len(asked):.2f} | |")


def plans() -> None:
    """A plan that nobody asked before."""
    import plan_cases as cases

    say(
        "",
        "| a plan over HTTP, as JSON, nothing kept | ms | floor of its solves, ms | times |",
        "|---|---|---|---|",
    )
    for told, ms, least, count in cases.rows():
        say(f"| {told} | {ms:.0f} | {least:.1f} ({count} solves) | {ms / least:.1f} |")


def say(*lines: str) -> None:
    sys.stdout.write("\n".join(lines) + "\n")
    sys.stdout.flush()


def machine() -> str:
    """What it ran on, and how busy that was."""
    told = Path("/proc/cpuinfo").read_text() if Path("/proc/cpuinfo").exists() else ""
    models = [line.partition(":")[2].strip() for line in told.splitlines() if line.startswith("model name")]
    load = ", ".join(f"{one:.1f}" for one in os.getloadavg())
    name = models[0] if models else platform.machine()
    return f"{os.cpu_count()} processors ({name}), load {load}, Python {platform.python_version()}"


def main() -> None:
    warnings.simplefilter("ignore")
    say(machine(), "")
    diffusion()
    state()
    plans()


if __name__ == "__main__":
    main()
