"""Thousands of drawn recipes the whole way: `tests/benchmarks/whole_way.py [--recipes 2000] [--seed 1]`.

Slow, about two seconds each. Warnings are errors. Prints every recipe that failed, and how many were accepted
and refused; ends with 1 where one failed. With `--small` it stops at the first and makes it as small as it
goes.
"""

import argparse
import json
import sys
import traceback
import warnings
from collections import Counter
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, given, seed, settings
from starlette.testclient import TestClient

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))


EVERY = 50
"""Recipes from one line of how far it is to the next."""


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--recipes", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--small", action="store_true", help="stop at the first that fails and make it small")
    asked = parser.parse_args()
    warnings.simplefilter("error")
    from tests.drawn_recipes import recipes
    from tests.whole_way import taken
    from web.app import create_app
    from web.settings import Settings

    app = create_app(Settings(ROOT / "recipes", answer_s=600.0, wait_for_a_place_s=600.0))
    client = TestClient(app, raise_server_exceptions=False, follow_redirects=False)
    told: Counter[str] = Counter()
    usual = settings(
        max_examples=asked.recipes, deadline=None, database=None, suppress_health_check=list(HealthCheck),
        phases=[Phase.generate, Phase.shrink] if asked.small else [Phase.generate],
    )  # fmt: skip

    @seed(asked.seed)
    @usual
    @given(recipes())
    def each(recipe: dict[str, Any]) -> None:
        try:
            told[taken(client, recipe)] += 1
        except Exception:
            told["failed"] += 1
            if asked.small:
                raise
            sys.stdout.write(f"failed: {json.dumps(recipe)}\n{traceback.format_exc()}\n")
        if sum(told.values()) % EVERY == 0:
            sys.stdout.write(f"{dict(told)}\n")
            sys.stdout.flush()

    try:
        each()
    finally:
        sys.stdout.write(f"{sum(told.values())} recipes, seed {asked.seed}: {dict(told)}\n")
    return 1 if told["failed"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
