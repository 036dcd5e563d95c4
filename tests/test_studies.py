"""The study of a plan agrees with the plan, with the state of its steels and with the forged bar."""

import copy
import json
import math
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from recipe_samples import changed, good, with_steps

from billet import austenitised_state, find_steel, heat_curve, parse_recipe, plan, study
from billet.composition import Composition
from billet.contract.report import Estimate
from billet.contract.study import Study
from billet.diffusion.simulation import simulate_diffusion
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.formulas.equilibrium import critical_lines
from billet.formulas.transformation import critical_cooling_rate_k_s, start_curve
from billet.hardening.heat_treatment import answer
from billet.studies.cooling import start_of_transformation, timed_cooling
from billet.studies.skin import restack_seams

WELD = {"do": "weld", "temperature_c": 1150, "minutes": 12, "height_mm": 28}
DRAW = {"do": "draw", "temperature_c": 1100, "minutes": 20, "heats": 5, "height_mm": 12}
LAST = {"do": "draw", "temperature_c": 1080, "minutes": 24, "heats": 6, "height_mm": 8}


def restack(order: str, pieces: int = 4) -> dict[str, Any]:
    return {"do": "restack", "pieces": pieces, "trim_mm": 10, "order": order}


@cache
def of_good() -> Study:
    return study(parse_recipe(good()))


def stainless() -> dict[str, Any]:
    """A pair with a high-chromium grade, which no low-alloy formula covers."""
    recipe = changed("steels.bright", "440C")
    recipe["stack"] |= {"count": 11, "thickness_mm": {"dark": 2.5, "bright": 2.5}}
    recipe["steps"] = [{**WELD, "atmosphere": "sealed", "height_mm": 22}]
    return recipe


def mild() -> dict[str, Any]:
    """Two steels that never harden."""
    recipe = good()
    recipe["steels"] = {
        "dark": {"name": "lean", "wt": {"C": 0.08, "Mn": 0.4}},
        "bright": {"name": "leaner", "wt": {"C": 0.05, "Mn": 0.3}},
    }
    return recipe


def estimates(value: Any) -> Iterator[Estimate]:
    """Every estimate anywhere inside."""
    if isinstance(value, Estimate):
        yield value
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from estimates(getattr(value, field.name))
    elif isinstance(value, tuple | list):
        for item in value:
            yield from estimates(item)


@pytest.mark.parametrize("recipe", [good(), stainless(), mild()], ids=["good", "stainless", "mild"])
def test_every_estimate_is_in_order_and_every_number_is_json(recipe: dict[str, Any]) -> None:
    found = study(parse_recipe(recipe))
    for estimate in estimates(found):
        assert estimate.low <= estimate.value <= estimate.high
    plain = json.loads(json.dumps(found.to_dict(), allow_nan=False))
    assert set(plain) == {field.name for field in fields(Study)}


def test_the_heat_is_the_plan_s() -> None:
    report = plan(good()).report
    found = of_good()
    assert (found.heat_c, found.heat_is) == (report.hardening.set_point_c, "set point")
    assert found.window_c == report.hardening.window_c
    assert found.recipe_id == report.recipe_id
    assert found.cooling.medium == report.quench.medium


def test_curves_pass_through_what_the_report_tells_at_the_set_point() -> None:
    report = plan(good()).report
    told = {row.steel: row for row in report.hardening.per_steel}
    assert of_good().hardness
    for curve in of_good().hardness:
        heat_c = of_good().heat_c
        assert heat_c is not None
        below = max((p for p in curve.points if p.temperature_c <= heat_c), key=lambda p: p.temperature_c)
        above = min((p for p in curve.points if p.temperature_c >= heat_c), key=lambda p: p.temperature_c)
        row = told[curve.steel]
        for name in ("hrc", "retained_austenite", "austenite_carbon_wt", "carbide"):
            ends = sorted(getattr(p, name).value for p in (below, above))
            assert ends[0] - 1e-6 <= getattr(row, name).value <= ends[1] + 1e-6


@pytest.mark.parametrize("grade", ["1084", "52100", "O1", "75Ni8"])
def test_a_curve_begins_over_ae1_and_ends_at_930(grade: str) -> None:
    composition = find_steel(grade).nominal
    curve = heat_curve(grade, composition, "spheroidised")
    at_c = [point.temperature_c for point in curve.points]
    ae1_c = critical_lines(composition).ae1_c
    assert ae1_c is not None
    assert ae1_c + 10.0 <= at_c[0] < ae1_c + 20.0
    assert at_c[-1] == 930.0
    assert np.allclose(np.diff(at_c), 10.0)
    middle = curve.points[len(at_c) // 2]
    state = austenitised_state(composition, middle.temperature_c, "spheroidised")
    assert state.hrc is not None and state.retained_austenite is not None
    assert middle.hrc.value == pytest.approx(state.hrc.value, abs=1e-6)
    assert middle.retained_austenite.value == pytest.approx(state.retained_austenite.value, abs=1e-6)


def test_carbide_dissolves_and_carbon_rises_with_the_heat() -> None:
    points = heat_curve("52100", find_steel("52100").nominal).points
    carbon = [p.austenite_carbon_wt.value for p in points]
    carbide = [p.carbide.value for p in points]
    assert all(b >= a - 1e-6 for a, b in pairwise(carbon))
    assert all(b <= a + 1e-6 for a, b in pairwise(carbide))
    assert carbon[-1] - carbon[0] > 0.2


def test_over_five_percent_chromium_only_printed_hardness_is_told() -> None:
    found = study(parse_recipe(stainless()))
    curve = next(c for c in found.hardness if c.steel == "bright")
    assert curve.points == ()
    assert curve.because is not None and "5\u202f% chromium" in curve.because
    printed = [
        (hrc, at) for row in find_steel("440C").hardening if not row.outlier for hrc, at in row.hardness
    ]
    assert printed
    assert [(p.hrc, p.temper_c) for p in curve.published] == printed
    cooling = next(c for c in found.cooling.steels if c.steel == "bright")
    assert cooling.critical_rate_k_s is None and cooling.start is None and cooling.because


def test_printed_figures_of_a_grade_whose_carbon_left_it_are_marked() -> None:
    """440C that lay beside 1084 for two hours at welding heat is 440C no longer."""
    recipe = stainless()
    kept = next(c for c in study(parse_recipe(recipe)).hardness if c.steel == "bright")
    recipe["steps"][0]["minutes"] = 240
    moved = next(c for c in study(parse_recipe(recipe)).hardness if c.steel == "bright")
    assert kept.carbon_wt is not None and moved.carbon_wt is not None
    assert moved.carbon_wt > kept.carbon_wt
    assert moved.because is not None and "outside its grade" in moved.because


def test_an_austenitic_analysis_has_no_curve() -> None:
    curve = heat_curve("304", Composition({"C": 0.05, "Cr": 18.0, "Ni": 9.0}))
    assert curve.points == () and curve.because


def test_ends_of_the_window_are_states_at_those_ends_in_words() -> None:
    found = of_good()
    assert found.window_c is not None
    assert [(e.steel, e.end) for e in found.ends] == [
        (name, end) for name in ("dark", "bright") for end in ("low", "high")
    ]
    for end in found.ends:
        assert end.of == "bar"
        assert end.temperature_c == found.window_c[end.end == "high"]
        assert end.austenite_carbon_wt is not None and end.hrc is not None
        assert f"{end.austenite_carbon_wt.value:.2f}\u202f%" in end.words
        assert f"{end.hrc.low:.0f} to {end.hrc.high:.0f}\u202fHRC" in end.words
    assert len(found.ends_told) == 2


def test_reasons_of_the_window_are_those_of_the_report() -> None:
    report = plan(good()).report
    told = {row.steel: row for row in report.hardening.per_steel}
    low, high = of_good().reasons
    assert low.set_by == report.hardening.low_set_by and high.set_by == report.hardening.high_set_by
    assert low.set_by is not None and low.because == told[low.set_by].low_because
    assert high.set_by is not None and high.because == told[high.set_by].high_because


def test_without_a_shared_window_each_steel_is_told_at_its_own() -> None:
    found = study(parse_recipe(stainless()))
    assert found.window_c is None and found.reasons == ()
    assert {end.of for end in found.ends} == {"own"}
    assert found.heat_is == "least bad"


def test_one_sentence_tells_what_changes_between_the_ends() -> None:
    recipe = changed("steels.dark", "52100")
    recipe["steels"]["bright"] = "O1"
    found = study(parse_recipe(recipe))
    first = found.ends[0]
    assert first.austenite_carbon_wt is not None and first.steel == "dark"
    assert "dissolved carbon rises from" in found.ends_told[0]
    assert f"{first.austenite_carbon_wt.value:.2f}" in found.ends_told[0]


def test_cooling_tells_the_rates_that_decided() -> None:
    report = plan(good()).report
    decided = {row.steel: row for row in report.quench.per_steel}
    for row in of_good().cooling.steels:
        assert row.critical_rate_k_s == decided[row.steel].critical_rate_k_s
        assert row.ideal_diameter_mm == decided[row.steel].ideal_diameter_mm
        assert row.grossmann_plate_mm is not None and row.ideal_diameter_mm is not None
        assert row.grossmann_plate_mm.low < row.grossmann_plate_mm.value < row.grossmann_plate_mm.high
        assert row.grossmann_plate_mm.value < row.ideal_diameter_mm.value
        assert row.critical_rate_k_s is not None and row.within_s is not None
        assert row.within_s.value * row.critical_rate_k_s.value == pytest.approx(150.0)
        assert row.within_s.low * row.critical_rate_k_s.high == pytest.approx(150.0)
        for medium in of_good().cooling.media:
            ratio = medium.rate_k_s.value / row.critical_rate_k_s.value
            assert medium.times_needed[row.steel] == pytest.approx(ratio)


def test_the_chosen_medium_cools_as_fast_as_every_steel_needs() -> None:
    found = of_good().cooling
    chosen = next(row for row in found.media if row.medium == found.medium)
    assert min(chosen.times_needed.values()) >= 1.0


def test_a_quicker_medium_is_sooner_at_550() -> None:
    def at_550(name: str) -> float:
        line = timed_cooling(name, 3.0)
        return float(np.interp(-550.0, [-c for c in line.temperature_c], line.time_s))

    names = ["brine", "water", "fast oil", "medium oil", "slow oil", "air"]
    times = [at_550(name) for name in names]
    assert times == sorted(times) and times[0] > 0.0
    rate = next(row.rate_k_s.value for row in of_good().cooling.media if row.medium == "fast oil")
    assert 150.0 / at_550("fast oil") == pytest.approx(rate, rel=0.03)


def test_without_a_blade_three_millimetres_are_assumed_and_said() -> None:
    found = study(parse_recipe(with_steps(WELD)))
    assert (found.cooling.thickness_mm, found.cooling.thickness_assumed) == (3.0, True)
    assert not of_good().cooling.thickness_assumed


def test_the_start_line_is_the_soonest_of_the_three_products() -> None:
    steel = Composition({"C": 0.38, "Mn": 0.8, "Si": 0.25})
    lines = critical_lines(steel)
    start = start_of_transformation("steel", steel, 7.0, lines)
    assert start is not None and lines.ae1_c is not None and lines.ae3_c is not None
    at_c = np.array(start.line.temperature_c)
    curve = start_curve(steel, 7.0, at_c, ae3_c=lines.ae3_c, ae1_c=lines.ae1_c)
    soonest = np.minimum(np.minimum(curve.ferrite_s, curve.pearlite_s), curve.bainite_s)
    assert np.allclose(start.line.time_s, soonest)
    assert start.nose_s == min(start.line.time_s)
    for seconds, product, row in zip(start.line.time_s, start.product, range(len(at_c)), strict=True):
        assert seconds == getattr(curve, f"{product}_s")[row]


def test_inside_and_outside_the_range_that_li_fitted() -> None:
    inside = Composition({"C": 0.38, "Mn": 0.8, "Si": 0.25})
    outside = inside.with_carbon(0.75)
    told = start_of_transformation("steel", inside, 7.0, critical_lines(inside))
    warned = start_of_transformation("steel", outside, 7.0, critical_lines(outside))
    assert told is not None and told.outside == () and "inside" in told.note
    assert warned is not None and "factor of 3" in warned.note
    assert warned.outside == ("C 0.75\u202f% lies outside 0.20\u202f% to 0.41\u202f%",)


def test_the_band_of_li_s_rate_is_a_factor_of_three_outside_its_range() -> None:
    row = of_good().cooling.steels[0]
    assert row.critical_rate_li_k_s is not None and row.start is not None and row.start.outside
    austenite = Composition(row.dissolved_wt)
    lines = critical_lines(austenite)
    assert lines.ae1_c is not None and lines.ae3_c is not None
    rate = critical_cooling_rate_k_s(austenite, row.grain, lines.ae3_c, lines.ae1_c).rate_k_s
    assert row.critical_rate_li_k_s.value == pytest.approx(rate, rel=0.1)
    assert row.critical_rate_li_k_s.low == pytest.approx(row.critical_rate_li_k_s.value / 3.0)
    assert row.critical_rate_li_k_s.high >= 3.0 * row.critical_rate_li_k_s.value * (1.0 - 1e-9)


def test_every_fire_stands_against_the_limit_the_decision_knows() -> None:
    recipe = parse_recipe(good())
    metal = simulate_diffusion(recipe, forge(recipe, build_stack(recipe)), 1)
    rows = of_good().forging.fires
    assert [row.step for row in rows] == [1, 2, 5, 6]
    for row in rows:
        assert row.limit_c == metal.burning[row.step].limit_c
        assert row.margin_k == row.limit_c - row.temperature_c
        assert row.limit_c < row.solidus_c
    assert rows[0].highest_carbon_wt["dark"] == pytest.approx(find_steel("1084").nominal["C"], abs=0.03)
    assert [row.in_forging_range is None for row in rows] == [True, False, True, False]


def test_a_draw_over_the_forging_range_is_outside_it() -> None:
    found = study(parse_recipe(changed("steps.1.temperature_c", 1190))).forging
    assert found.range_c is not None and found.range_c[1] < 1190
    assert next(row for row in found.fires if row.step == 2).in_forging_range is False


ORDERS = [("same", 4), ("turned", 4), ("folded", 3), ("folded", 2)]


@pytest.mark.parametrize(("order", "pieces"), ORDERS)
def test_the_replay_of_heights_ends_at_the_height_of_the_bar(order: str, pieces: int) -> None:
    first = [WELD, DRAW, {"do": "grind", "per_face_mm": 0.4}, restack(order, pieces)]
    then = [{**WELD, "height_mm": 20}, DRAW, restack(order, 2), {**WELD, "height_mm": 15}, LAST]
    recipe = parse_recipe(with_steps(*first, *then))
    forged = forge(recipe, build_stack(recipe))
    seams, height_mm = restack_seams(forged.events)
    assert height_mm == pytest.approx(simulate_diffusion(recipe, forged, 1).bar.height_mm, rel=1e-9)
    assert len(seams) == 2 * (pieces - 1) + 1
    places = [seam.position_mm for seam in seams]
    assert places == sorted(places) and places[0] > 0.0 and places[-1] < height_mm
    middle = next(seam for seam in seams if seam.step == 7)
    assert middle.position_mm == pytest.approx(0.5 * height_mm, abs=0.02 * height_mm)
    assert seams[pieces - 1] == middle


def lean(atmosphere: str) -> dict[str, Any]:
    """Restacked with its skin on."""
    steps = [WELD, DRAW, restack("same"), {**WELD, "height_mm": 36}, LAST]
    return with_steps(*({**s, "atmosphere": atmosphere} if "minutes" in s else s for s in steps))


def test_a_skin_that_was_not_ground_off_is_found_as_a_pale_seam() -> None:
    recipe = parse_recipe(lean("air"))
    forged = forge(recipe, build_stack(recipe))
    bar = simulate_diffusion(recipe, forged, 1).bar
    found = study(recipe).skin
    assert found.seams == 3 and len(found.pale_seams) == 3
    edges = np.concatenate([[0.0], np.cumsum(bar.thickness_mm)])
    middles = 0.5 * (edges[:-1] + edges[1:])
    for seam in found.pale_seams:
        own = bar.steel == bar.metals.index(seam.steel)
        away_mm = np.abs(middles - seam.position_mm)
        at_seam = np.min(bar.carbon_wt[own & (away_mm < 0.1)])
        beside = np.min(bar.carbon_wt[own & (away_mm > 0.6) & (away_mm < 1.4)])
        assert seam.least_wt == at_seam < beside - 0.05
        assert seam.inside_wt - seam.least_wt > 0.05


def test_sealed_faces_keep_their_carbon_and_leave_no_pale_seam() -> None:
    found = study(parse_recipe(lean("sealed"))).skin
    assert found.pale_seams == () and found.seams == 3
    assert max(found.bottom_mm, found.top_mm) < 0.01


def test_grinding_before_the_restack_takes_the_pale_seams_away() -> None:
    recipe = lean("air")
    dirty = study(parse_recipe(recipe)).skin
    clean = copy.deepcopy(recipe)
    clean["steps"].insert(2, {"do": "grind", "per_face_mm": 1.2})
    found = study(parse_recipe(clean)).skin
    least = max(p.inside_wt - p.least_wt for p in dirty.pale_seams)
    assert all(p.inside_wt - p.least_wt < 0.5 * least for p in found.pale_seams)


def test_plates_of_the_first_stack_leave_no_seam_of_a_restack() -> None:
    assert study(parse_recipe(with_steps(WELD))).skin.seams == 0


def test_skin_is_held_against_what_is_ground_off() -> None:
    found = of_good().skin
    assert found.grind_per_face_mm == pytest.approx(0.5 * (5.5 - 3.0), rel=1e-6)
    assert found.short_mm == 0.0 and "takes it away" in found.words
    recipe = lean("air")
    recipe["blade"] = {"thickness_mm": 7.9}
    short = study(parse_recipe(recipe)).skin
    deepest = max(short.bottom_mm, short.top_mm)
    assert short.short_mm == pytest.approx(deepest - short.grind_per_face_mm) and short.short_mm > 0.0
    assert "short of it" in short.words


def test_the_magnet_s_point_and_the_heat_over_it() -> None:
    found = of_good().holding
    assert found.heat_c is not None
    assert [row.steel for row in found.magnet] == ["dark", "bright"]
    for row in found.magnet:
        assert row.magnet_c is not None and row.above_k is not None
        assert row.above_k.value == pytest.approx(found.heat_c - row.magnet_c.value)
        assert row.above_k.low == pytest.approx(found.heat_c - row.magnet_c.high)
    assert found.colour is not None and found.colour.from_c <= found.heat_c < found.colour.to_c


def test_a_magnet_says_nothing_of_high_chromium_steel() -> None:
    row = next(r for r in study(parse_recipe(stainless())).holding.magnet if r.steel == "bright")
    assert row.magnet_c is None and row.above_k is None and "chromium" in row.words


def test_the_edge_is_too_cold_before_the_spine() -> None:
    found = of_good().holding
    spine, edge = found.air
    assert (spine.where, edge.where) == ("thickest section", "edge")
    assert spine.window_s is not None and spine.turns_s is not None
    assert edge.window_s is not None and edge.turns_s is not None
    assert edge.first_rate_k_s > 2.0 * spine.first_rate_k_s
    assert edge.window_s < spine.window_s < spine.turns_s
    assert edge.turns_s < spine.turns_s
    assert found.turns_c is not None and found.low_c is not None and found.turns_c < found.low_c


def test_still_air_cools_three_millimetres_at_about_ten_kelvins_a_second() -> None:
    """10 K/s at 3 mm by hand with the same constants; a thin plate cools inversely with its thickness."""
    for thickness_mm, rate in ((2.0, 15.0), (3.0, 10.0), (4.0, 7.5), (6.0, 5.0)):
        recipe = changed("blade.thickness_mm", thickness_mm)
        recipe["steps"][-1]["height_mm"] = 7
        spine = study(parse_recipe(recipe)).holding.air[0]
        assert spine.thickness_mm == thickness_mm
        assert spine.first_rate_k_s == pytest.approx(rate, rel=0.15)


def test_a_thin_edge_is_reported_as_outside_the_formula_s_range() -> None:
    spine, edge = study(parse_recipe(changed("blade.edge_mm", 0.6))).holding.air
    assert edge.outside and not spine.outside


def test_nothing_hardens_so_nothing_is_held() -> None:
    found = study(parse_recipe(mild()))
    assert (found.heat_c, found.heat_is, found.window_c) == (None, None, None)
    assert found.hardness == () and found.ends == () and found.cooling.steels == ()
    assert found.holding.magnet == () and found.holding.colour is None and found.holding.air == ()
    assert found.holding.words


def test_the_study_uses_the_very_decision_of_the_plan() -> None:
    """The carbon of a curve is what hardens in the blade, after the heats that were advised."""
    recipe = parse_recipe(good())
    forged = forge(recipe, build_stack(recipe))
    answered = answer(recipe, forged, simulate_diffusion(recipe, forged, 1))
    for curve in of_good().hardness:
        assert curve.carbon_wt is not None
        own = next(one for one in answered.judged.joint.layers if one.name == curve.steel)
        assert math.isclose(curve.carbon_wt, float(own.wt["C"][0]), abs_tol=1e-9)
