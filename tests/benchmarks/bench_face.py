"""Time and memory of a picture: 1200 pixels for a page, 300 dots to the inch for paper, ten thousand layers.

python -m pytest -n 0 -s tests/benchmarks/bench_face.py
"""

import sys
import time
import tracemalloc
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from pattern_recipes import FIGURES, drawn_to, stacked  # noqa: E402

from billet import FaceAsked, Planned, face, plan  # noqa: E402

VIEWS = ("face", "bevel", "edge", "end")
PAGE_MS, PAPER_MS, MOST_MB = 150.0, 600.0, 150.0
PAPER_PX = 2244
"""190 mm at 300 dots to the inch."""
RUNS = 5


def many_layers() -> Planned:
    """9728 layers, close to the most that are computed: 19 laid, then cut in eight three times."""
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
        start = time.perf_counter()
        face(bar, asked).png()
        times.append(1e3 * (time.perf_counter() - start))
    return min(times)


def peak_mb(bar: Planned, asked: FaceAsked) -> float:
    tracemalloc.start()
    face(bar, asked).png()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


@pytest.mark.parametrize("name", [*FIGURES, "many layers"])
def test_a_picture_is_quick(name: str) -> None:
    bar = plan(FIGURES[name]) if name in FIGURES else many_layers()
    start = time.perf_counter()
    layers = bar.solid.layers
    print(f"\n{name}: {layers} layers, solid in {1e3 * (time.perf_counter() - start):.0f} ms")
    for view in VIEWS:
        asked = FaceAsked(view, 480 if view == "end" else 1200)
        paper = FaceAsked(view, PAPER_PX)
        page_ms, paper_ms, mb = best_ms(bar, asked), best_ms(bar, paper), peak_mb(bar, paper)
        print(f"  {view:6} {page_ms:5.0f} ms a page, {paper_ms:5.0f} ms on paper, {mb:4.0f} MB")
        assert page_ms < PAGE_MS and paper_ms < PAPER_MS and mb < MOST_MB
