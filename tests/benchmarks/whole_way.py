"""Thousands of drawn recipes the whole way: `tests/benchmarks/whole_way.py [--recipes 2000] [--seed 1]`.

Slow, about a second each. Warnings are errors. Prints how many were accepted, and every recipe that
failed, made as small as it goes; ends with 1 where one did.
"""

import argparse
import sys
import traceback
import warnings
from collections import Counter
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, seed, settings
from starlette.testclient import TestClient

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--recipes", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    warnings.simplefilter("error")
    from tests.whole_way import recipes, taken
    from web.app import create_app
    from web.settings import Settings

    app = create_app(Settings(ROOT / "recipes", answer_s=600.0, wait_for_a_place_s=600.0))
    client = TestClient(app, raise_server_exceptions=False, follow_redirects=False)
    told: Counter[str] = Counter()
    usual = settings(
        max_examples=asked.recipes, deadline=None, database=None, report_multiple_bugs=True,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip

    @seed(asked.seed)
    @usual
    @given(recipes())
    def each(recipe: dict[str, Any]) -> None:
        told[taken(client, recipe)] += 1

    try:
        each()
    except BaseException:
        traceback.print_exc()
        return 1
    finally:
        sys.stdout.write(f"{sum(told.values())} recipes, seed {asked.seed}: {dict(told)}\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
