"""How long a plan takes, how much memory, and the command as a whole process:
`python tests/benchmarks/bench_plan.py`. It fails where a budget is passed, as beside other work.
"""

import resource
import statistics
import subprocess
import sys
import time
import tomllib
from pathlib import Path

from billet import parse_recipe, plan

ROOT = Path(__file__).parent.parent.parent
SIXTY_LAYERS = ROOT / "recipes" / "reed_bed_kitchen.toml"
PLAN_S, PROCESS_S, MEMORY_MB = 0.035, 0.8, 200.0


def told(text: str) -> None:
    sys.stdout.write(text + "\n")


def test_a_plan_of_sixty_layers() -> None:
    recipe = parse_recipe(tomllib.loads(SIXTY_LAYERS.read_text(encoding="utf-8")))
    plan(recipe)
    times = []
    for _ in range(31):
        start = time.perf_counter()
        plan(recipe)
        times.append(time.perf_counter() - start)
    told(f"plan: median {1e3 * statistics.median(times):.1f} ms, best {1e3 * min(times):.1f} ms")
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    told(f"peak memory of this process: {peak_mb:.0f} MB")
    assert statistics.median(times) < PLAN_S
    assert peak_mb < MEMORY_MB


def test_the_command_as_a_whole_process() -> None:
    times = []
    for _ in range(7):
        start = time.perf_counter()
        command = [sys.executable, "-m", "billet", "plan", str(SIXTY_LAYERS), "--json"]
        subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    told(f"process: median {statistics.median(times):.2f} s, best {min(times):.2f} s")
    assert statistics.median(times) < PROCESS_S


if __name__ == "__main__":
    sys.exit(subprocess.call([sys.executable, "-m", "pytest", "-n", "0", "-s", __file__]))
