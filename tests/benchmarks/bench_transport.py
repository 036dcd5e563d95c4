"""Time of the carbon transport: `python tests/benchmarks/bench_transport.py` from the root.

The case: 15 plates welded and drawn, cut in four, welded and drawn to 60 layers, 13 fires and two
warming piles. Prints the best and the middle processor time of 40 runs, and the largest difference of
mean carbon from a grid ten times finer.
"""

import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]


def main() -> None:
    from transport_cases import NICKEL, PLAIN, forging

    from billet.diffusion.transport import transport

    steels, densities = {"dark": PLAIN, "bright": NICKEL}, {"dark": 7.85, "bright": 7.85}
    for atmosphere, scale_mm in (("sealed", 0.0), ("reducing", 0.074), ("air", 0.148)):
        events = forging(atmosphere, scale_mm)
        times = []
        for _ in range(40):
            start = time.process_time()
            usual = transport(steels, densities, events)
            times.append(1e3 * (time.process_time() - start))
        finer = transport(steels, densities, events, refine=10)
        worst = max(
            abs(here.carbon_wt[name] - there.carbon_wt[name])
            for here, there in zip(usual.steps, finer.steps, strict=True)
            for name in steels
        )
        times.sort()
        line = f"{atmosphere:9s} best {times[0]:5.1f} ms, middle {times[20]:5.1f} ms, grid {worst:.4f} wt%"
        sys.stdout.write(line + "\n")


if __name__ == "__main__":
    main()
