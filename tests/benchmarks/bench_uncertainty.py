"""How long a thousand bars take: `python tests/benchmarks/bench_uncertainty.py`.

Prints the best and the middle of the runs, in milliseconds, of a plan made beforehand.
"""

import statistics
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
RUNS = 7


def main() -> None:
    """Every example recipe, a new seed each time."""
    sys.path.insert(0, str(ROOT))
    from billet import plan, uncertainty

    for path in sorted((ROOT / "recipes").glob("*.toml")):
        planned = plan(path)
        uncertainty(planned)
        taken = []
        for seed in range(RUNS):
            begin = time.perf_counter()
            uncertainty(planned, seed=seed)
            taken.append(1000.0 * (time.perf_counter() - begin))
        sys.stdout.write(f"{path.stem:28} {min(taken):7.1f} ms {statistics.median(taken):7.1f} ms\n")


if __name__ == "__main__":
    main()
