"""How long the service takes for a page: `python tests/benchmarks/bench_web.py`.

Prints the middle of the runs and the slowest tenth, in milliseconds. Asserts nothing: a number to
look at when something in the service was changed.
"""

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent
RUNS = 40


def measure(run: Callable[[], Any]) -> tuple[float, float]:
    """Middle and ninth decile of the runs, ms; one run beforehand does not count."""
    run()
    taken = []
    for _ in range(RUNS):
        start = time.perf_counter()
        run()
        taken.append((time.perf_counter() - start) * 1000.0)
    return statistics.median(taken), statistics.quantiles(taken, n=10)[-1]


def measurements() -> dict[str, Callable[[], Any]]:
    """What is measured; plans are of a new recipe each time, so that no kept report answers."""
    import tomllib

    from starlette.testclient import TestClient

    from web.app import create_app
    from web.form.known import known
    from web.form.writing import write_form
    from web.http.address import decode, encode
    from web.settings import Settings

    client = TestClient(create_app(Settings(recipes=ROOT / "recipes")))
    file = sorted((ROOT / "recipes").glob("*.toml"))[0]
    recipe = tomllib.loads(file.read_text(encoding="utf-8"))
    address = encode(recipe)
    numbers = iter(range(10**6))

    def new() -> dict[str, Any]:
        return {**recipe, "title": f"bar {next(numbers)}"}

    def answered(status: int, answer: Any) -> None:
        if answer.status_code != status:
            raise SystemExit(f"{answer.request.url} answered {answer.status_code}")

    return {
        "address, there and back": lambda: decode(encode(recipe)),
        "form of a draft": lambda: write_form(recipe, (), "mm", known()),
        "POST /api/plan, new recipe": lambda: answered(200, client.post("/api/plan", json=new())),
        "POST /api/plan, kept report": lambda: answered(200, client.post("/api/plan", json=recipe)),
        "GET /plan, new recipe": lambda: answered(200, client.get(f"/plan?r={encode(new())}")),
        "GET /plan, kept report": lambda: answered(200, client.get(f"/plan?r={address}")),
        "GET /design, kept report": lambda: answered(200, client.get(f"/design?r={address}")),
        "GET /sheet/forge, kept report": lambda: answered(200, client.get(f"/sheet/forge?r={address}")),
        "GET /steels": lambda: answered(200, client.get("/steels")),
    }


def main() -> None:
    sys.path.insert(0, str(ROOT))
    for name, run in measurements().items():
        middle, slow = measure(run)
        sys.stdout.write(f"{name:32} {middle:8.2f} ms   {slow:8.2f} ms\n")


if __name__ == "__main__":
    main()
