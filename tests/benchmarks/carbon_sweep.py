"""Every degree from 450 C to the solidus: `python tests/benchmarks/carbon_sweep.py` from the root.

For twelve pairs of steels in air, reducing and sealed fires of 12 minutes: fresh thick plates, a drawn bar
and a blade cut on its seams. Holds every fire against what it must keep (no carbon below 0, books closed,
no carbon added, at most 200 steps of time) and prints one line a pair; then some hundreds of random stacks,
and of random bars with twists, cuts, dies, standing pieces and bars made first.
Ends with 1 where anything is wrong. Two processes; `--step 5` and `--pairs 1095:304` make it shorter.
"""

import argparse
import json
import sys
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]
PROCESSES, CHUNK, MINUTES, SCALE_MM = 2, 40, 12.0, 0.05
TOLD = 6


def swept(pair: tuple[str, str], step_k: float) -> tuple[str, list[str]]:
    """One line for a pair, and what is wrong."""
    import carbon_cases as cases
    import numpy as np

    from billet.diffusion.activity_law import austenite_law
    from billet.diffusion.carbide_sink import tables_at
    from billet.diffusion.heat import Fire
    from billet.recipe.melting import melts_from_c

    begun = time.process_time()
    metals = cases.pair_metals(*map(cases.nominal, pair))
    most_wt = max(c["C"] for c in metals.compositions) + 0.3
    highest_c = min(1450.0, *(melts_from_c(c) for c in metals.compositions))
    temperatures = [float(t) for t in np.arange(450.0, highest_c, step_k)]
    begin = {atmosphere: cases.starts(metals, atmosphere) for atmosphere in cases.ATMOSPHERES}
    steps: Counter[int] = Counter()
    solved, most, wrong = 0, {a: (0, 0.0, "") for a in cases.ATMOSPHERES}, []
    for first in range(0, len(temperatures), CHUNK):
        chunk = temperatures[first : first + CHUNK]
        for temperature_c, tables in zip(chunk, tables_at(metals, chunk, 0.0, most_wt), strict=True):
            law = austenite_law(metals, temperature_c, tables)
            for atmosphere, pieces in begin.items():
                scale = (0.0, 0.0) if atmosphere == "sealed" else (SCALE_MM, SCALE_MM)
                for name, start in pieces.items():
                    burnt = cases.burnt(start, law, Fire(temperature_c, MINUTES, atmosphere, scale))
                    steps[burnt.steps] += 1
                    solved = max(solved, burnt.solved)
                    most[atmosphere] = max(most[atmosphere], (burnt.steps, temperature_c, name))
                    wrong += [
                        f"{'|'.join(pair)} {temperature_c:g} C {atmosphere} {name}: {w}" for w in burnt.wrong
                    ]
    fires, taken = sum(steps.values()), sum(n * count for n, count in steps.items())
    worst = ", ".join(f"{a} {n} ({t:g} C)" for a, (n, t, _) in most.items())
    line = f"{'|'.join(pair):18s} to {highest_c:4.0f} C: {fires} fires, {taken / fires:.1f} steps each"
    line += f", most {worst}"
    line += f", most equations {solved}, wrong {len(wrong)}, {time.process_time() - begun:.0f} s"
    return line, wrong


def random_stacks(count: int) -> list[str]:
    """What goes wrong in so many random stacks of random steels."""
    import carbon_cases as cases
    from hypothesis import HealthCheck, given, settings

    @settings(max_examples=count, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(cases.CASES)
    def tried(case: tuple) -> None:
        assert not cases.any_case(*case)

    try:
        tried()
    except Exception as error:
        return [repr(error), *getattr(error, "__notes__", [])]
    return []


def random_bars(count: int) -> tuple[list[str], dict[str, int]]:
    """What goes wrong in the fires of so many drawn recipes, and which steps were in those that forge."""
    from drawn_recipes import recipes
    from hypothesis import HealthCheck, Phase, given, settings
    from whole_way import CLOSED_SHARE, hold_sound

    from billet import BilletError
    from billet.diffusion.carbon_balance import carbon_books
    from billet.diffusion.simulation import simulate_diffusion
    from billet.parse import forged_recipe

    wrong: list[str] = []
    told: Counter[str] = Counter()
    usual = settings(
        max_examples=count, deadline=None, database=None, suppress_health_check=list(HealthCheck),
        phases=[Phase.generate],
    )  # fmt: skip

    @usual
    @given(recipes())
    def tried(recipe: dict[str, Any]) -> None:
        try:
            read, forged = forged_recipe(recipe)
        except BilletError:
            told["refused"] += 1
            return
        made = [recipe, *recipe.get("bars", {}).values()]
        told.update({step["do"] for bar in made for step in bar["steps"]} | set(recipe) & {"bars"})
        try:
            metal = simulate_diffusion(read, forged, 1)
            hold_sound(metal)
            books = carbon_books(read, forged, metal)
            assert books.open_share <= CLOSED_SHARE, books
        except Exception as error:
            wrong.append(f"{error!r}: {json.dumps(recipe)}")

    tried()
    return wrong, dict(told)


def main() -> int:
    import carbon_cases as cases

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--step", type=float, default=1.0, help="kelvin between temperatures")
    parser.add_argument("--pairs", nargs="*", default=[":".join(pair) for pair in cases.PAIRS])
    parser.add_argument("--stacks", type=int, default=400, help="random stacks")
    parser.add_argument("--bars", type=int, default=400, help="random bars")
    asked = parser.parse_args()
    pairs = [tuple(pair.split(":")) for pair in asked.pairs]
    wrong: list[str] = []
    with ProcessPoolExecutor(PROCESSES) as pool:
        for line, found in pool.map(swept, pairs, [asked.step] * len(pairs)):
            sys.stdout.write(line + "\n")
            sys.stdout.writelines(f"  {text}\n" for text in found[:TOLD])
            sys.stdout.flush()
            wrong += found
    found = random_stacks(asked.stacks)
    sys.stdout.write(f"{asked.stacks} random stacks: {'; '.join(found) if found else 'nothing wrong'}\n")
    broken, told = random_bars(asked.bars)
    sys.stdout.write(f"{asked.bars} random bars, {told}: wrong {len(broken)}\n")
    sys.stdout.writelines(f"  {text}\n" for text in broken[:TOLD])
    return 1 if wrong or found or broken else 0


if __name__ == "__main__":
    sys.exit(main())
