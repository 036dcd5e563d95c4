"""A plan over HTTP beside the floor of its solves: what LAPACK alone takes for the same systems of equations.

Each plan is asked of a service of its own, of a recipe that nobody asked before; the floor is measured in
this process on the systems that the same plan solves: tridiagonal ones of carbon, dense ones of equilibria.
"""

import asyncio
import itertools
import json
import statistics
import sys
import time
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np
from load import ROOT, START_S, family, free_port, request, running

ASKED, REPEATED = 15, 30
Recipe = dict[str, Any]


def changed_heats() -> Iterator[Recipe]:
    """The first example with its first weld a little hotter each time."""
    recipe = tomllib.loads(sorted((ROOT / "recipes").glob("*.toml"))[0].read_text(encoding="utf-8"))
    for number in itertools.count(1):
        steps = [dict(step) for step in recipe["steps"]]
        for step in steps:
            if "temperature_c" in step:
                step["temperature_c"] -= 0.01 * number
        yield {**recipe, "steps": steps}


def new_melts() -> Iterator[Recipe]:
    """The same with melts of a little more carbon each time."""
    recipe = next(changed_heats())
    for number in itertools.count(1):
        steels = {}
        for name, steel in recipe["steels"].items():
            like = steel if isinstance(steel, str) else steel["like"]
            own = {} if isinstance(steel, str) else steel.get("wt", {})
            steels[name] = {"like": like, "wt": {**own, "C": own.get("C", 0.7) + 1e-4 * number}}
        yield {**recipe, "steels": steels}


async def over_http(recipes: Iterator[Recipe]) -> float:
    """Processor time of the service for one new plan as JSON, ms."""
    port = free_port()
    with running([sys.executable, "-m", "web", "--port", str(port), "--workers", "1"], port) as pid:
        taken = []
        for number, recipe in enumerate(itertools.islice(recipes, ASKED + 3)):
            began_s = family(pid).processor_s
            status, _, body = await request(port, "POST", "/api/plan", json.dumps(recipe).encode(), START_S)
            if status != 200:
                raise SystemExit(f"the service answered {status}: {body[:300]!r}")
            if number >= 3:
                taken.append(1000.0 * (family(pid).processor_s - began_s))
    return statistics.fmean(taken)


@contextmanager
def recorded() -> Iterator[list[Callable[[], object]]]:
    """Every system that is solved meanwhile, to be solved again."""
    from billet.diffusion import tridiagonal as module

    kept: list[Callable[[], object]] = []
    solve = module.tridiagonal()
    dense, found = np.linalg.solve, module.tridiagonal

    def solved(*given: Any) -> Any:
        own = [np.array(part) for part in given]
        kept.append(lambda: solve(*own))
        return solve(*given)

    def dense_solved(matrix: Any, right: Any) -> Any:
        own = np.array(matrix), np.array(right)
        kept.append(lambda: dense(*own))
        return dense(matrix, right)

    module.tridiagonal = lambda: solved  # type: ignore[assignment]
    np.linalg.solve = dense_solved  # type: ignore[assignment]
    try:
        yield kept
    finally:
        module.tridiagonal, np.linalg.solve = found, dense


def floor(recipes: Iterator[Recipe]) -> tuple[float, int]:
    """Processor time of the solves of one such plan, ms, and how many they are."""
    from billet import plan

    for recipe in itertools.islice(recipes, 2):
        plan(recipe).to_dict()
    with recorded() as systems:
        plan(next(recipes)).to_dict()
    taken = []
    for _ in range(REPEATED):
        began = time.process_time()
        for again in systems:
            again()
        taken.append(1000.0 * (time.process_time() - began))
    return min(taken), len(systems)


def rows() -> Iterator[tuple[str, float, float, int]]:
    """What is asked, over HTTP [ms], its floor [ms], and of how many solves that is."""
    for told, recipes in (("a changed heat", changed_heats), ("a new melt", new_melts)):
        least, count = floor(recipes())
        yield told, asyncio.run(over_http(recipes())), least, count
