"""How long sweeps, partners and wishes take, in CPU time: `python tests/benchmarks/bench_many_bars.py`."""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from billet import load, partner_question, partner_table, partners, plan, propose, sweep
from web.many_bars_description import WISH_EXAMPLE

RECIPES = Path(__file__).resolve().parents[2] / "recipes"


def cpu_s(task: Callable[[], object]) -> float:
    begun = time.process_time()
    task()
    return time.process_time() - begun


def say(words: str) -> None:
    sys.stdout.write(words + "\n")


@pytest.mark.parametrize(
    ("name", "vary"),
    [
        ("reed_bed_kitchen", "steps[0].minutes=2:30:0.14"),
        ("reed_bed_kitchen", "stack.count=9:207:1"),
        ("reed_bed_kitchen", "steels.dark.wt.C=0.6:1.2:0.003"),
        ("mill_race_bearing", "steps[0].temperature_c=900:1180:1.4"),
        ("slate_300", "blade.thickness_mm=1:3:0.01"),
    ],
)
def test_two_hundred_answers_in_five_seconds(name: str, vary: str) -> None:
    recipe = load(RECIPES / f"{name}.toml")
    plan(recipe)
    taken = cpu_s(lambda: sweep(recipe, vary))
    say(f"{name} {vary}: {taken:.2f} s")
    assert taken < 5.0


def test_all_pairs() -> None:
    first = cpu_s(lambda: partner_table(partner_question()))
    again = cpu_s(lambda: partner_table(partner_question()))
    one = cpu_s(lambda: partners("1084"))
    say(f"all pairs {first:.2f} s first, {again:.4f} s kept; one steel {one:.2f} s")
    assert first < 20.0 and again < 1.5


def test_a_first_list_in_three_seconds() -> None:
    taken = cpu_s(lambda: propose(WISH_EXAMPLE))
    say(f"a wish: {taken:.2f} s")
    assert taken < 3.0


if __name__ == "__main__":
    sys.exit(subprocess.call([sys.executable, "-m", "pytest", "-n", "0", "-s", __file__]))
