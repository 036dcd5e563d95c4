"""Every drawing is sound SVG that can be read without sight, and things lie where their values say."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import pytest
from drawn_report import APART, REPORT, SOFT

from billet import CriticalTime, HardnessCurve, TimeCurve, find_steel, wording
from web import charts
from web.charts.axes import Scale
from web.charts.svg import drawing
from web.charts.window import range_bar

SVG = "{http://www.w3.org/2000/svg}"
CURVES = (
    HardnessCurve("dark", (750.0, 800.0, 850.0), (50.0, 64.0, 65.0), (0.02, 0.06, 0.12)),
    HardnessCurve("bright", (750.0, 800.0, 850.0), (52.0, 63.0, 63.0), (0.03, 0.08, 0.15)),
)
COOLING = (
    TimeCurve("fast oil", (0.1, 1.0, 10.0), (680.0, 500.0, 100.0)),
    TimeCurve("air", (0.1, 1.0, 10.0, 1000.0), (699.0, 695.0, 600.0, 60.0)),
)
GATES = (CriticalTime("dark", 1.2, 0.8, 2.0), CriticalTime("bright", 500.0, 300.0, 2000.0))
STARTS = (TimeCurve("dark", (5.0, 0.8, 20.0), (680.0, 540.0, 350.0)),)

DRAWINGS: dict[str, Callable[..., str]] = {
    "window": partial(charts.window_axis, REPORT),
    "gap": partial(charts.window_axis, APART),
    "steel windows": partial(charts.steel_windows, REPORT),
    "steel windows apart": partial(charts.steel_windows, APART),
    "stack": partial(charts.bar_drawing, REPORT, 0),
    "bar": partial(charts.bar_drawing, REPORT, 1),
    "fine bar": partial(charts.bar_drawing, REPORT, 3),
    "cut": partial(charts.cut_drawing, REPORT, 2),
    "carbon": partial(charts.carbon_profile, REPORT, 1),
    "fine carbon": partial(charts.carbon_profile, REPORT, 3),
    "hardness": partial(charts.hardness_against_temperature, CURVES, (790.0, 820.0), 805.0),
    "cooling": partial(charts.cooling_curves, COOLING, GATES, "fast oil", starts=STARTS),
    "layers": partial(charts.layers_along_schedule, REPORT),
    "bevel": partial(charts.bevel_lines, REPORT),
    "contrast": partial(charts.alloy_contrast, REPORT),
    "temper": partial(charts.temper_bands, REPORT),
    "key": partial(charts.steel_key, REPORT),
    "ranges": partial(charts.steel_ranges, find_steel("1084")),
}


def test_end_and_side_of_the_step_looked_at_have_one_scale() -> None:
    row = REPORT.schedule[1]
    end, side = (parsed(draw(REPORT, 1, "k1")) for draw in (charts.chosen_end, charts.chosen_side))
    [end_box], [side_box] = (of_class(root, "outline") for root in (end, side))
    high, wide = float(end_box.attrib["height"]), float(end_box.attrib["width"])
    assert wide / high == pytest.approx(row.width_mm / row.height_mm, rel=2e-3)
    assert float(side_box.attrib["height"]) == high and side_box.attrib["y"] == end_box.attrib["y"]
    assert [of_class(root, "dimension-label") and "".join(root.itertext()) for root in (end, side)].count(
        ""
    ) == 0


def test_an_inch_shop_reads_fahrenheit_where_the_curves_lie() -> None:
    root = parsed(charts.cooling_curves(COOLING, GATES, "fast oil", shop="inch"))
    up = {float(w): y for w, (x, y) in labels(root, "tick-label").items() if x < 56}
    [gate] = [float(e.attrib["y1"]) for e in of_class(root, "limit-line")]
    assert up.keys() == {400.0, 600.0, 800.0, 1200.0}  # 1000 is a label of the seconds too
    slope = (up[1200.0] - up[400.0]) / 800.0
    assert up[1200.0] - 178.0 * slope == pytest.approx(gate + 5.0, abs=0.02)  # 550 C is 1022 F
    told = "".join(root.itertext())
    assert "middle of the plate, °F" in told and "°C" not in told


def parsed(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def of_class(root: ET.Element, name: str) -> list[ET.Element]:
    return [e for e in root.iter() if name in (e.get("class") or "").split()]


def labels(root: ET.Element, name: str) -> dict[str, tuple[float, float]]:
    """Text of every label of a class with its place."""
    return {"".join(e.itertext()): (float(e.attrib["x"]), float(e.attrib["y"])) for e in of_class(root, name)}


def points(element: ET.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (p.split(",") for p in element.attrib["points"].split())]


def bottom_place(root: ET.Element, value: float) -> float:
    """Where a value lies, told by the first two ticks of the lowest Celsius axis alone."""
    ticks = [(float(k), x) for k, (x, _) in labels(root, "tick-label").items() if 700 <= float(k) <= 1100]
    (low, at_low), (high, at_high) = sorted(ticks)[:2]
    return at_low + (value - low) / (high - low) * (at_high - at_low)


@pytest.mark.parametrize("width", (700.0, 340.0))
@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_is_sound_and_told_in_words(name: str, width: float) -> None:
    svg = DRAWINGS[name](key="k1", width=width)
    root = parsed(svg)
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert root.get("role") == "img"
    assert title is not None and (title.text or "").strip()
    assert description is not None and (description.text or "").strip()
    assert (root.get("aria-labelledby") or "").split() == [title.get("id"), description.get("id")]
    assert "style" not in {e.tag.removeprefix(SVG) for e in root.iter()}
    assert not any("style" in e.attrib for e in root.iter())
    assert "nan" not in svg and "inf" not in svg.replace("infl", "")


@pytest.mark.parametrize("name", DRAWINGS)
def test_ids_bear_the_key_and_every_reference_is_met(name: str) -> None:
    svg = DRAWINGS[name](key="k7")
    ids = [e.attrib["id"] for e in parsed(svg).iter() if "id" in e.attrib]
    assert len(ids) == len(set(ids))
    assert all(i.startswith("k7-") for i in ids)
    assert set(re.findall(r"url\(#([^)]+)\)", svg)) <= set(ids)


@pytest.mark.parametrize("name", DRAWINGS)
@pytest.mark.parametrize("width", (700.0, 340.0))
def test_labels_stay_on_the_paper(name: str, width: float) -> None:
    """Counting 6.2 units a character, less than the lettering takes on average."""
    root = parsed(DRAWINGS[name](key="k", width=width))
    for e in root.iter(f"{SVG}text"):
        if e.get("transform") or "big" in (e.get("class") or ""):
            continue
        x, long = float(e.attrib["x"]), 6.2 * len("".join(e.itertext()))
        left = x - {"start": 0.0, "middle": long / 2, "end": long}[e.get("text-anchor", "start")]
        assert left >= -8.0 and left + long <= width + 8.0, "".join(e.itertext())


@pytest.mark.parametrize("width", (700.0, 340.0))
def test_the_set_point_stands_where_the_axis_says(width: float) -> None:
    root = parsed(charts.window_axis(REPORT, width=width))
    [mark] = of_class(root, "datum")
    assert points(mark)[0][0] == pytest.approx(bottom_place(root, 805.0), abs=0.05)
    ends = sorted({float(e.attrib["x1"]) for e in of_class(root, "extension")})
    assert ends == pytest.approx([bottom_place(root, 790.0), bottom_place(root, 820.0)], abs=0.05)
    [swing] = of_class(root, "swing")
    assert float(swing.attrib["x1"]) == pytest.approx(bottom_place(root, 795.0), abs=0.05)
    assert float(swing.attrib["x2"]) == pytest.approx(bottom_place(root, 815.0), abs=0.05)


def test_celsius_and_fahrenheit_stand_over_one_another() -> None:
    root = parsed(charts.window_axis(REPORT))
    fahrenheit = {float(k): x for k, (x, _) in labels(root, "tick-label").items() if float(k) > 1100}
    for value, x in fahrenheit.items():
        assert x == pytest.approx(bottom_place(root, (value - 32.0) / 1.8), abs=0.05)


def test_the_window_says_its_figures_both_ways() -> None:
    svg = charts.window_axis(REPORT)
    assert wording.temperature(805.0) in svg
    assert wording.temperature_range(790.0, 820.0) in svg
    assert wording.plus_minus(10.0) in svg


def test_a_gap_is_dimensioned_between_the_two_windows() -> None:
    svg = charts.window_axis(APART)
    root = parsed(svg)
    ends = sorted({float(e.attrib["x1"]) for e in of_class(root, "extension")})
    assert ends == pytest.approx([bottom_place(root, 850.0), bottom_place(root, 950.0)], abs=0.05)
    assert wording.difference(100.0) in svg
    assert not of_class(root, "heat-fill")
    [least_bad] = of_class(root, "datum")
    assert points(least_bad)[0][0] == pytest.approx(bottom_place(root, 830.0), abs=0.05)


def test_every_range_of_every_steel_is_drawn_to_the_axis() -> None:
    root = parsed(charts.steel_windows(REPORT))
    drawn = [(float(e.attrib["x1"]), float(e.attrib["x2"])) for e in of_class(root, "range-possible")]
    wanted = [(bottom_place(root, a), bottom_place(root, b)) for a, b in ((780, 850), (760, 840))]
    for (left, right), (low, high) in zip(drawn, wanted, strict=True):
        assert (left, right) == pytest.approx((low, high), abs=0.05)


@pytest.mark.parametrize("ends", [(0.0, 30.0), (70.0, 100.0), (20.0, 80.0), (3.0, 97.0), (12.0, 85.0)])
def test_the_name_of_a_range_stands_inside_the_drawing_whatever_room_the_range_leaves(
    ends: tuple[float, float],
) -> None:
    width = 330.0
    parts = range_bar(Scale(0.0, 100.0, 26.0, width - 26.0), ends, 20.0, "possible", width)
    root = parsed(drawing("one", width, 40.0, "One range", "", parts))
    [named] = [e for e in root.iter(f"{SVG}text") if e.text == "possible"]
    x, long = float(named.attrib["x"]), 7.0 * len("possible")
    left = x - (long if named.get("text-anchor") == "end" else 0.0)
    assert left >= 0.0 and left + long <= width


def test_a_report_without_windows_draws_no_axis() -> None:
    assert charts.window_axis(SOFT) == ""
    assert charts.bevel_lines(replace(REPORT, blade=None)) == ""
    assert charts.carbon_profile(REPORT, 2) == ""
    assert charts.cut_drawing(REPORT, 1) == ""
    assert charts.cooling_curves(()) == ""
    assert charts.hardness_against_temperature(()) == ""
    assert charts.alloy_contrast(replace(REPORT, pattern=replace(REPORT.pattern, elements={}))) == ""
    assert charts.temper_bands(replace(REPORT, temper=replace(REPORT.temper, table=()))) == ""


def test_names_are_escaped_everywhere() -> None:
    """A name that would end a tag or an attribute comes back whole from the parsed drawing."""
    bad = "</text><script>\"'&"
    steels = (replace(REPORT.steels[0], designation=bad), REPORT.steels[1])
    root = parsed(charts.bar_drawing(replace(REPORT, steels=steels), 0))
    assert f"dark ({bad})" in ["".join(e.itertext()) for e in root.iter(f"{SVG}text")]
    assert not list(root.iter(f"{SVG}script"))
    curve = HardnessCurve(bad, (750.0, 800.0), (50.0, 60.0), (0.0, 0.1))
    root = parsed(charts.hardness_against_temperature((curve,)))
    assert bad in ["".join(e.itertext()) for e in root.iter(f"{SVG}text")]
    bound = replace(REPORT, hardening=replace(REPORT.hardening, low_set_by=bad))
    assert f"low end: {bad}" in ["".join(e.itertext()) for e in parsed(charts.window_axis(bound)).iter()]
