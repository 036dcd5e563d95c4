"""How quickly a plan is pickled and read again: `python tests/benchmarks/bench_pickle.py`."""

import gc
import pickle
import sys
import time
from pathlib import Path

import billet

RECIPES = Path(__file__).parent.parent.parent / "recipes"


def main() -> None:
    """One line a recipe: kilobytes, best of nine in ms of processor, out and in; 5 ms are asked for."""
    gc.disable()
    for path in sorted(RECIPES.glob("*.toml")):
        planned = billet.plan(path)
        there, back = [], []
        packed = b""
        for _ in range(9):
            begin = time.process_time()
            packed = pickle.dumps(planned, pickle.HIGHEST_PROTOCOL)
            middle = time.process_time()
            pickle.loads(packed)
            there.append(middle - begin)
            back.append(time.process_time() - middle)
        size = len(packed) / 1000.0
        told = f"{path.stem}: {size:.0f} kB, {1000 * min(there):.1f} ms out, {1000 * min(back):.1f} ms in"
        sys.stdout.write(told + "\n")


if __name__ == "__main__":
    main()
