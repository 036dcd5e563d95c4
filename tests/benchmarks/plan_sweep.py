"""One per cent more of everything, through whole plans: `python tests/benchmarks/plan_sweep.py`.

For thirty pairs: plate, minutes of every fire, blade, edge, and eight elements of the first steel's own
analysis. No end of the window may move by more than 4 K, no set point by more than 6 K, no medium may go and
come back within two per cent. Prints what does; ends with 1 where anything does. For less:
`--pairs 1095:75Ni8 --axes C plate_mm`.
"""

import argparse
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]


def main() -> int:
    import plan_sweeps as sweeps

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pairs", nargs="*", default=[":".join(pair) for pair in sweeps.PAIRS])
    parser.add_argument("--axes", nargs="*", default=list(sweeps.AXES))
    asked = parser.parse_args()
    wrong = 0
    for pair in (tuple(one.split(":")) for one in asked.pairs):
        begun = time.process_time()
        found = [text for axis in asked.axes for text in sweeps.jumps(pair, axis, sweeps.AXES[axis])]
        wrong += len(found)
        sys.stdout.write(f"{'|'.join(pair):20s} {len(found)} jumps, {time.process_time() - begun:.0f} s\n")
        sys.stdout.writelines(f"  {text}\n" for text in found)
        sys.stdout.flush()
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
