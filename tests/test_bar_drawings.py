"""The bar is drawn to the scale it names, layers from the bottom up, each steel in its own hatch."""

import itertools
import math
import re
from dataclasses import replace

import pytest
from drawn_report import BAR, REPORT, STACK, layers, profile
from test_charts import labels, of_class, parsed, points

from billet import CriticalTime, TimeCurve
from web import charts
from web.charts.axes import Scale, round_values, shorten, spread
from web.charts.bar import drawing_scale
from web.charts.end_view import PX_PER_MM, detail_ratio
from web.charts.hatch import hatch_of

BASELINE = 5.0
"""A tick's words stand this much lower than the tick itself."""


def rectangles(root: object, name: str) -> list[tuple[float, float, float, float]]:
    return [
        tuple(float(e.attrib[k]) for k in ("x", "y", "width", "height"))  # type: ignore[misc]
        for e in of_class(root, name)  # type: ignore[arg-type]
    ]


def test_front_and_end_are_true_to_the_named_scale() -> None:
    """1:1 is 96 units to the inch; the stack of 32 x 40 x 150 mm is drawn 1:2."""
    root = parsed(charts.bar_drawing(REPORT, 0))
    assert "scale 1:2" in labels(root, "small-label")
    front, end = (r for r in rectangles(root, "outline") if r[2] > 30)
    half = 96.0 / 25.4 / 2
    assert front[2:] == pytest.approx((150 * half, 32 * half), abs=0.02)
    assert end[2:] == pytest.approx((40 * half, 32 * half), abs=0.02)
    assert not of_class(root, "break")


def test_a_long_bar_is_broken_and_still_says_its_length() -> None:
    root = parsed(charts.bar_drawing(REPORT, 1))
    assert len(of_class(root, "break")) == 2
    assert "600\u202fmm" in labels(root, "dimension-label")


def test_layers_lie_from_the_bottom_up_in_proportion() -> None:
    root = parsed(charts.bar_drawing(REPORT, 0, key="k"))
    drawn = of_class(root, "layer")
    heights = [float(e.attrib["height"]) for e in drawn]
    tops = [float(e.attrib["y"]) for e in drawn]
    assert tops == sorted(tops, reverse=True)
    total = sum(thickness for _, thickness in STACK)
    wanted = [thickness / total * sum(heights) for _, thickness in STACK]
    assert heights == pytest.approx(wanted, abs=0.02)
    fills = [e.attrib["fill"] for e in drawn]
    assert fills == ["url(#k-hatch-0)", "url(#k-hatch-1)"] * 2 + ["url(#k-hatch-0)"]


def test_layers_too_thin_to_see_get_an_enlarged_detail() -> None:
    root = parsed(charts.bar_drawing(REPORT, 3, key="k"))
    mean_mm = 4.0 / 301
    ratio = detail_ratio(mean_mm)
    assert f"A ({ratio}:1)" in labels(root, "label")
    heights = [float(e.attrib["height"]) for e in of_class(root, "layer")]
    unit = 4.0 / 452 * ratio * PX_PER_MM  # 151 layers of two parts, 150 of one
    assert {round(height / unit, 2) for height in heights} == {1.0, 2.0}
    assert all(e.attrib["fill"].startswith("url(#k-hatch-") for e in of_class(root, "layer"))


def test_more_layers_than_the_report_lists_are_toned_without_detail() -> None:
    bare = replace(REPORT, schedule=(*REPORT.schedule[:3], replace(REPORT.schedule[3], layers=())))
    root = parsed(charts.bar_drawing(bare, 3))
    assert of_class(root, "tone") and not of_class(root, "layer")


def test_cut_marks_lie_where_they_are_measured() -> None:
    root = parsed(charts.cut_drawing(REPORT, 2, width=700.0))
    [bar] = rectangles(root, "outline")
    marks = [float(e.attrib["x1"]) for e in of_class(root, "chain")]
    assert marks == pytest.approx([bar[0] + m / 600.0 * bar[2] for m in (10, 300, 590)], abs=0.02)


def test_the_small_bars_share_one_scale() -> None:
    """The widest bar is 40 mm in every step, so every end view is equally wide."""
    widths = []
    for step in range(4):
        boxes = rectangles(parsed(charts.bar_step(REPORT, step)), "outline")
        widths.append(boxes[-1][2])
    assert widths == pytest.approx([widths[0]] * 4)


def seam_places(root: object) -> list[float]:
    """Where the upright lines of the seams stand."""
    [path] = of_class(root, "seam-mark")  # type: ignore[arg-type]
    return [float(x) for x in re.findall(r"M([\d.]+) ", path.attrib["d"])]


def test_carbon_lies_on_its_axis_and_seams_are_marked() -> None:
    root = parsed(charts.carbon_profile(REPORT, 1))
    ticks = {float(k): y for k, (x, y) in labels(root, "tick-label").items() if x < 50}
    (low, at_low), (high, at_high) = sorted(ticks.items())[:2]
    lines = [points(e) for group in of_class(root, "curve-after") for e in group]
    assert len(lines) == 5
    for (steel, _), line in zip(BAR, lines, strict=True):
        carbon = {"dark": 0.77, "bright": 0.73}[steel]
        wanted = at_low + (carbon - low) / (high - low) * (at_high - at_low) - BASELINE
        assert [y for _, y in line] == pytest.approx([wanted, wanted], abs=0.05)
    assert len(seam_places(root)) == 4
    assert seam_places(root) == pytest.approx([line[0][0] for line in lines[1:]])


def test_carbon_before_is_drawn_at_the_layers_of_now() -> None:
    root = parsed(charts.carbon_profile(REPORT, 1))
    before = [points(e) for group in of_class(root, "curve-before") for e in group]
    after = [points(e) for group in of_class(root, "curve-after") for e in group]
    assert [(line[0][0], line[-1][0]) for line in before] == [(line[0][0], line[-1][0]) for line in after]
    assert before[0][0][1] < after[0][0][1], "the dark layer has lost carbon"
    assert not of_class(parsed(charts.carbon_profile(REPORT, 3)), "curve-before"), "other layers by now"


def test_layers_lost_at_the_faces_do_not_hide_what_was_before() -> None:
    """Of seven layers the outermost two are gone: the five left are compared with themselves."""
    more = layers(7, 10.0)[1:-1]
    seven = profile(0, layers(7, 10.0), {"dark": 0.8, "bright": 0.7})
    five = profile(1, more, {"dark": 0.77, "bright": 0.73})
    lost = replace(REPORT, carbon=replace(REPORT.carbon, profiles=(seven, five)))
    root = parsed(charts.carbon_profile(lost, 1))
    before, after = (
        [points(e) for group in of_class(root, f"curve-{k}") for e in group] for k in ("before", "after")
    )
    assert len(before) == len(after) == 5
    assert [line[0][0] for line in before] == pytest.approx([line[0][0] for line in after], abs=0.02)


def test_the_skin_of_many_layers_has_a_picture_of_its_own() -> None:
    root = parsed(charts.carbon_profile(REPORT, 3, part="bottom"))
    assert len(seam_places(root)) == 11
    assert "at the bottom face, bottom to top, mm" in labels(root, "axis-name")
    assert charts.carbon_profile(REPORT, 1, part="bottom") == ""


def test_time_is_drawn_by_its_logarithm() -> None:
    curve = TimeCurve("oil", (0.1, 1.0, 10.0, 1000.0), (680.0, 600.0, 300.0, 150.0))
    root = parsed(charts.cooling_curves((curve,), (CriticalTime("dark", 10.0, 1.0, 1000.0),)))
    [line] = of_class(root, "curve")
    (x0, _), (x1, _), (x2, _), (x3, _) = points(line)
    assert x1 - x0 == pytest.approx(x2 - x1)
    assert x3 - x2 == pytest.approx(2 * (x1 - x0), abs=0.05)
    [band] = of_class(root, "gate-band")
    [gate] = of_class(root, "heat-fill")
    assert (float(band.attrib["x1"]), float(band.attrib["x2"])) == pytest.approx((x1, x3), abs=0.02)
    assert float(gate.attrib["cx"]) == pytest.approx(x2, abs=0.02)


def test_what_is_left_of_the_contrast_is_drawn_in_proportion() -> None:
    root = parsed(charts.alloy_contrast(REPORT))
    starts = [r[2] for r in rectangles(root, "bar-start")]
    now = [r[2] for r in rectangles(root, "bar-now")]
    assert [b / a for a, b in zip(starts, now, strict=True)] == pytest.approx([0.75, 0.5], abs=1e-3)
    assert starts[1] / starts[0] == pytest.approx(0.2, abs=1e-3)


def test_lines_on_the_bevel_stand_at_the_named_scale() -> None:
    root = parsed(charts.bevel_lines(REPORT))
    [scale] = [words for words in labels(root, "small-label") if words.startswith("scale")]
    ratio = int(scale.removeprefix("scale ").removesuffix(":1"))
    boxes = rectangles(root, "layer")[:-1]
    mean = sum(box[3] for box in boxes[:40]) / len(boxes[:40])
    assert mean == pytest.approx(0.5 * ratio * PX_PER_MM, rel=0.03)


def test_no_two_steels_share_a_hatch() -> None:
    hatches = [hatch_of(index) for index in range(16)]
    assert len(set(hatches)) == 16
    for one, two in itertools.combinations(hatches[:8], 2):
        turned = abs(math.sin(math.radians(one.angle_deg - two.angle_deg))) > 0.5
        denser = max(one.spacing, two.spacing) / min(one.spacing, two.spacing) >= 1.4
        assert turned or denser or one.weight != two.weight or one.crossed != two.crossed


def test_the_scale_is_a_standard_one_and_the_largest_that_fits() -> None:
    assert drawing_scale(8.0, 40.0)[0] == "1:2"
    assert drawing_scale(2.0, 6.0)[0] == "5:1"
    assert drawing_scale(300.0, 200.0)[0] == "1:10"


@pytest.mark.parametrize(
    ("low", "high", "about", "wanted"),
    [
        (0.0, 1.0, 5, [0.0, 0.2, 0.4, 0.6, 0.8, 1.0]),
        (762.0, 848.0, 4, [800.0]),
        (-3.0, 3.0, 3, [-2.0, 0.0, 2.0]),
    ],
)
def test_ticks_are_round(low: float, high: float, about: int, wanted: list[float]) -> None:
    assert round_values(low, high, about) == wanted


def test_a_scale_maps_its_ends() -> None:
    linear, logarithmic = Scale(0, 10, 100, 0), Scale(0.1, 1000, 0, 400, logarithmic=True)
    assert [linear(0), linear(5), linear(10)] == [100, 50, 0]
    assert [logarithmic(v) for v in (0.1, 1.0, 10.0, 1000.0)] == pytest.approx([0, 100, 200, 400])
    assert logarithmic.ticks(5) == pytest.approx([0.1, 1, 10, 100, 1000])


def test_labels_are_kept_apart_in_order() -> None:
    placed = spread([50.0, 52.0, 51.0, 98.0], 16, 0, 100)
    assert sorted(placed) == [placed[0], placed[2], placed[1], placed[3]]
    gaps = [b - a for a, b in itertools.pairwise(sorted(placed))]
    assert min(gaps) >= 16 - 1e-9 and max(placed) <= 100


def test_long_words_are_cut_and_say_so() -> None:
    assert shorten("short", 100) == "short"
    assert shorten("a very long name of a source indeed", 80).endswith("…")
