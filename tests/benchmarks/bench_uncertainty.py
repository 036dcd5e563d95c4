"""How long a thousand bars take: `python tests/benchmarks/bench_uncertainty.py`.

Prints the best and the middle of the runs, in milliseconds, with the plan's own parts made beforehand.
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
    from billet import load_recipe_text, parse_recipe
    from billet.diffusion.simulation import simulate_diffusion
    from billet.forging.forge import forge
    from billet.forging.stack import build_stack
    from billet.hardening.heat_treatment import answer
    from billet.variation.count import uncertainty

    for path in sorted((ROOT / "recipes").glob("*.toml")):
        recipe = parse_recipe(load_recipe_text(path.read_text(encoding="utf-8")))
        forged = forge(recipe, build_stack(recipe))
        metal = simulate_diffusion(recipe, forged, 1)
        answered = answer(recipe, forged, metal)
        uncertainty(recipe, forged, metal, answered)
        taken = []
        for seed in range(RUNS):
            begin = time.perf_counter()
            uncertainty(recipe, forged, metal, answered, seed=seed)
            taken.append(1000.0 * (time.perf_counter() - begin))
        sys.stdout.write(f"{path.stem:28} {min(taken):7.1f} ms {statistics.median(taken):7.1f} ms\n")


if __name__ == "__main__":
    main()
