"""The drawings of paper are true to the scale they name: lengths in the picture against millimetres."""

import re
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from billet import load_recipe_text, parse_recipe, plan, wording
from billet.contract.report import Report
from billet.sheets import build_sheet
from billet.sheets.drawn import BarFigure, CutFigure, StackFigure, WindowFigure
from web.charts.paper import cut_ruler, end_scale, ruler_scale, stack_drawing, step_drawing, windows_drawing
from web.charts.paper.pile import LEAST_FRAME_PX
from web.charts.paper.sheet import PX, SCALES
from web.paper import sides

NAMES = [path.stem for path in sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))]
EVERY = pytest.mark.parametrize("name", NAMES)
SVG = "{http://www.w3.org/2000/svg}"


@cache
def report_of(name: str) -> Report:
    path = Path(__file__).parent.parent / "recipes" / f"{name}.toml"
    return plan(parse_recipe(load_recipe_text(path.read_text(encoding="utf-8")))).report


def rectangles(drawn: str, class_: str) -> list[dict[str, float]]:
    """The rectangles of a class with their sizes in millimetres of paper."""
    found = ElementTree.fromstring(drawn).iter(f"{SVG}rect")
    return [
        {key: float(rect.get(key, "0")) / PX for key in ("x", "y", "width", "height")}
        for rect in found
        if class_ in rect.get("class", "").split()
    ]


def paper_mm(drawn: str) -> tuple[float, float]:
    root = ElementTree.fromstring(drawn)
    left, top, wide, high = map(float, root.get("viewBox", "").split())
    assert (left, top) == (0.0, 0.0)
    told = [float(root.get(key, "").removesuffix("mm")) for key in ("width", "height")]
    assert told == pytest.approx([wide / PX, high / PX], abs=0.02)
    return told[0], told[1]


def ratio(name: str) -> float:
    first, second = name.split(":")
    return float(first) / float(second)


def test_every_scale_is_what_its_name_says() -> None:
    for value, name in SCALES:
        assert value == pytest.approx(ratio(name), rel=1e-12)


@EVERY
def test_a_cut_ruler_measures_from_the_handle_end(name: str) -> None:
    for section in build_sheet(report_of(name), "forge").sections:
        figure = section.figure
        if not isinstance(figure, CutFigure):
            continue
        drawn = str(cut_ruler(figure))
        scale = ratio(ruler_scale(figure).name)
        bar = rectangles(drawn, "outline")[0]
        assert bar["width"] == pytest.approx(figure.length_mm * scale, abs=0.01)
        strips = rectangles(drawn, "kerf")
        for strip, (start, end) in zip(strips, figure.kerfs_mm, strict=True):
            assert strip["x"] - bar["x"] == pytest.approx(start * scale, abs=0.01)
            assert strip["width"] == pytest.approx((end - start) * scale, abs=0.01)
        lines = [
            line
            for line in ElementTree.fromstring(drawn).iter(f"{SVG}line")
            if line.get("class") == "cut-line"
        ]
        for line, mm in zip(lines, figure.marks_mm, strict=True):
            assert float(line.get("x1", "0")) / PX - bar["x"] == pytest.approx(mm * scale, abs=0.01)
        words = [text.text for text in ElementTree.fromstring(drawn).iter(f"{SVG}text")]
        for place, mm in enumerate(figure.marks_mm, start=1):
            assert f"{place}: {wording.bench_parts(mm)[0]}" in words
        assert paper_mm(drawn)[0] <= 190.0


@EVERY
def test_all_bars_of_a_sheet_are_drawn_at_one_scale(name: str) -> None:
    report = report_of(name)
    steels = [row.steel for row in report.steels]
    made = [m for s in build_sheet(report, "forge").sections for m in s.operations]
    scale = end_scale(made)
    for each in made:
        figure = each.figure
        assert figure is not None
        drawn = str(step_drawing(figure, steels, scale))
        ends = [r for r in rectangles(drawn, "outline") if r["x"] > 10.0]
        assert max(r["width"] for r in ends) == pytest.approx(figure.width_mm * ratio(scale.name), abs=0.01)
        high = max(r["y"] + r["height"] for r in ends) - min(r["y"] for r in ends)
        assert high == pytest.approx(figure.height_mm * ratio(scale.name), abs=0.02)
        assert paper_mm(drawn)[0] <= 40.0


@EVERY
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_a_pile_is_drawn_with_every_plate_to_scale(name: str, units: wording.Units) -> None:
    report = report_of(name)
    steels = [row.steel for row in report.steels]
    for section in build_sheet(report, "forge").sections:
        figure = section.figure
        if not isinstance(figure, StackFigure | BarFigure):
            continue
        drawn = str(stack_drawing(figure, steels, units=units))
        told = [text.text or "" for text in ElementTree.fromstring(drawn).iter(f"{SVG}text")]
        scale = ratio(next(words for words in told if re.fullmatch(r"[\d.]+:[\d.]+", words)))
        assert wording.bench_mark(figure.height_mm, units) in told
        assert wording.bench_mark(figure.width_mm, units) in told
        frames = rectangles(drawn, "outline")
        if isinstance(figure, StackFigure):
            if min(course.thickness_mm for course in figure.courses) * scale * PX < LEAST_FRAME_PX:
                assert [f["height"] for f in frames] == pytest.approx([figure.height_mm * scale], abs=0.01)
                continue
            for frame, course in zip(frames, figure.courses, strict=True):
                assert frame["height"] == pytest.approx(course.thickness_mm * scale, abs=0.01)
        for frame in frames:
            assert frame["width"] == pytest.approx(figure.width_mm * scale, abs=0.01)


@EVERY
def test_the_fire_is_as_wide_on_the_axis_as_it_swings(name: str) -> None:
    for section in build_sheet(report_of(name), "harden").sections:
        figure = section.figure
        if not isinstance(figure, WindowFigure) or figure.half_width_k is None or figure.window_c is None:
            continue
        drawn = str(windows_drawing(figure))
        fire, window = rectangles(drawn, "fire-band")[0], rectangles(drawn, "band-heat")[0]
        per_k = window["width"] / (figure.window_c[1] - figure.window_c[0])
        assert fire["width"] == pytest.approx(2.0 * figure.half_width_k * per_k, rel=2e-3)
        assert figure.set_point_c is not None
        middle = fire["x"] + fire["width"] / 2.0
        point = window["x"] + (figure.set_point_c - figure.window_c[0]) * per_k
        assert middle == pytest.approx(point, abs=0.05)


@pytest.mark.parametrize(
    ("kind", "name", "own_side"), [("forge", "slate_ladder", True), ("kiln", "reed_bed_kitchen", False)]
)
def test_the_square_with_the_link_has_a_side_of_its_own_where_the_job_leaves_no_room(
    kind: str, name: str, own_side: bool
) -> None:
    report = report_of(name)
    sheet = build_sheet(report, kind)
    plain = sides(sheet, kind, report, "mm", None, None)
    linked = sides(sheet, kind, report, "mm", "https://forge.example/plan?r=" + "x" * 700, None)
    assert [side.code for side in plain] == [None] * len(sheet.pages)
    assert [side.code is not None for side in linked] == [False, True] if own_side else [True]
    assert (
        linked[0].setting == plain[0].setting
        if own_side
        else linked[0].setting.words < plain[0].setting.words
    )


def test_in_inches_fahrenheit_stands_on_the_axis_itself() -> None:
    figure = next(
        s.figure
        for s in build_sheet(report_of("reed_bed_kitchen"), "harden").sections
        if s.figure is not None
    )
    assert isinstance(figure, WindowFigure)
    for units, first in (("mm", "°C"), ("inch", "°F")):
        drawn = str(windows_drawing(figure, units="inch" if units == "inch" else "mm"))
        words = [text.text for text in ElementTree.fromstring(drawn).iter(f"{SVG}text")]
        assert next(w for w in words if w in {"°C", "°F"}) == first
