"""Draws web/static/sweep-example.svg, the picture of README: `python tests/write_readme_picture.py`.

The sweep is that of README's example, in finer steps: the recipe hearth_mild_beside_1095 with mild
plates of another thickness, and the carbon that each steel is left with.
"""

import sys
from pathlib import Path

from markupsafe import Markup

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from billet import example_recipes, plan  # noqa: E402
from web.charts.axes import Scale  # noqa: E402
from web.charts.svg import element, number  # noqa: E402

PICTURE = ROOT / "web" / "static" / "sweep-example.svg"
PLATES_MM = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0)
WIDTH, HEIGHT = 640.0, 340.0
ACROSS, UP = Scale(0.0, 8.0, 64.0, 560.0), Scale(0.0, 1.0, 290.0, 24.0)
INK, PAPER = "#1b1d1f", "#ffffff"
DASHES = {"hard": None, "mild": "7 4"}
LETTERS = {"font_family": "sans-serif", "font_size": 14.0, "fill": INK}
Curves = dict[str, list[tuple[float, float]]]


def swept() -> Curves:
    """Carbon of each steel, wt%, over the thickness of the mild plates, mm."""
    bar = plan(example_recipes()["hearth_mild_beside_1095"]).report.recipe
    curves: Curves = {name: [] for name in bar["steels"]}
    for mm in PLATES_MM:
        plates = {**bar["stack"]["thickness_mm"], "mild": mm}
        report = plan({**bar, "stack": {**bar["stack"], "thickness_mm": plates}}).report
        for row in report.steels:
            if row.carbon_wt is not None:
                curves[row.steel].append((mm, row.carbon_wt.mean))
    return curves


def drawn(curves: Curves) -> Markup:
    """The picture: two curves with their names at their ends."""
    parts = [
        element("title", "Carbon left in 1095 and in mild steel, over the thickness of the mild plates"),
        element("rect", width=WIDTH, height=HEIGHT, fill=PAPER),
        _rule(ACROSS.start, UP.start, ACROSS.end, UP.start),
        _rule(ACROSS.start, UP.start, ACROSS.start, UP.end),
    ]
    for mm in ACROSS.ticks(8):
        parts.append(_rule(ACROSS(mm), UP.start, ACROSS(mm), UP.start + 6))
        parts.append(_words(f"{mm:g}", ACROSS(mm), UP.start + 22, "middle"))
    for wt in UP.ticks(5):
        parts.append(_rule(ACROSS.start - 6, UP(wt), ACROSS.start, UP(wt)))
        parts.append(_words(f"{wt:.1f}", ACROSS.start - 10, UP(wt) + 5, "end"))
    parts.append(_words("thickness of the mild plates, mm", (ACROSS.start + ACROSS.end) / 2, 330, "middle"))
    parts.append(_words("carbon, wt%", ACROSS.start + 8, UP.end + 6, "start"))
    for name, points in curves.items():
        places = " ".join(f"{number(ACROSS(mm))},{number(UP(wt))}" for mm, wt in points)
        dash = DASHES.get(name)
        parts.append(
            element("polyline", points=places, fill="none", stroke=INK, stroke_width=2, stroke_dasharray=dash)
        )
        offset = 5 if name == "hard" else 14
        parts.append(_words(name, ACROSS.end + 8, UP(points[-1][1]) + offset - 5, "start"))
    frame = f"0 0 {number(WIDTH)} {number(HEIGHT)}"
    return element("svg", *parts, xmlns="http://www.w3.org/2000/svg", viewBox=frame, role="img")


def _rule(x1: float, y1: float, x2: float, y2: float) -> Markup:
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=INK)


def _words(words: str, x: float, y: float, anchor: str) -> Markup:
    return element("text", words, x=x, y=y, text_anchor=anchor, **LETTERS)


if __name__ == "__main__":
    PICTURE.write_text(drawn(swept()) + "\n", encoding="utf-8")
