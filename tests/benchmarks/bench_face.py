"""Time and memory of a picture: 1200 pixels for a page, 300 dots to the inch for paper, ten thousand layers.

    python tests/benchmarks/bench_face.py

Prints the best of some runs in milliseconds of one core, with the file, and the most memory in MB. To hold
it against its budgets (150 ms a page, 600 ms on paper, 150 MB):
python -m pytest -n 0 tests/benchmarks/bench_face.py
"""

import sys
import time
import tracemalloc
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from figure_recipes import FIGURES, drawn_to, stacked  # noqa: E402

from billet import FaceAsked, Planned, face, plan  # noqa: E402

VIEWS = ("face", "bevel", "edge", "end")
PAGE_MS, PAPER_MS, MOST_MB = 150.0, 600.0, 150.0
PAGE_PX, END_PX = 1200, 480
PAPER_PX = 2244
"""190 mm at 300 dots to the inch."""
RUNS = 5
MANY = "many layers"
BARS = (*FIGURES, MANY)


class Measured(NamedTuple):
    """Milliseconds for a page and for paper, megabytes for paper."""

    page_ms: float
    paper_ms: float
    paper_mb: float


def planned(name: str) -> Planned:
    """A bar of the list; many layers are 9728, close to the most that are computed."""
    if name in FIGURES:
        return plan(FIGURES[name])
    again = []
    for _ in range(3):
        again += [
            {"do": "restack", "pieces": 8, "order": "same", "trim_mm": 2},
            {"do": "weld", "temperature_c": 1100, "minutes": 4, "height_mm": 40},
            drawn_to(6.0, 34.0),
        ]
    return plan(stacked(19, drawn_to(6.0, 34.0), *again, length_mm=180))


def best_ms(bar: Planned, asked: FaceAsked) -> float:
    times = []
    for _ in range(RUNS):
        start = time.process_time()
        face(bar, asked).png()
        times.append(1e3 * (time.process_time() - start))
    return min(times)


def measured(bar: Planned, view: str) -> Measured:
    page = FaceAsked(view, END_PX if view == "end" else PAGE_PX)  # type: ignore[arg-type]
    paper = FaceAsked(view, PAPER_PX)  # type: ignore[arg-type]
    page_ms, paper_ms = best_ms(bar, page), best_ms(bar, paper)
    tracemalloc.start()
    face(bar, paper).png()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return Measured(page_ms, paper_ms, peak / 1e6)


@pytest.mark.parametrize("name", BARS)
def test_a_picture_keeps_its_budget(name: str) -> None:
    bar = planned(name)
    for view in VIEWS:
        found = measured(bar, view)
        assert found.page_ms < PAGE_MS and found.paper_ms < PAPER_MS and found.paper_mb < MOST_MB, (
            view,
            found,
        )


def main() -> None:
    for name in BARS:
        bar = planned(name)
        start = time.process_time()
        layers = bar.solid.layers
        solid_ms = 1e3 * (time.process_time() - start)
        print(f"{name}: {layers} layers, solid in {solid_ms:.0f} ms")  # noqa: T201
        for view in VIEWS:
            page, paper, mb = measured(bar, view)
            print(f"  {view:6} {page:5.0f} ms a page {paper:5.0f} ms on paper {mb:5.0f} MB")  # noqa: T201


if __name__ == "__main__":
    main()
