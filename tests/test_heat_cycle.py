"""The heats around hardening, read as a smith would, and that they move smoothly with the metal."""

import itertools
from functools import cache
from typing import Any

import pytest
from cycle_samples import alone, pair, sandwich

from billet import load, plan, written
from billet.composition import Composition
from billet.contract.report import Report
from billet.contract.values import Estimate
from billet.hardening.annealing import Cooling, anneal
from billet.hardening.cold_treatment import cold_treatment
from billet.hardening.cycle_layer import CycleLayer, cycle_layer, ramp
from billet.hardening.grain_size import Heat, grain_size
from billet.hardening.normalising import normalising
from billet.hardening.soak import soak
from billet.tables.heat_cycle import cycle_numbers
from billet.tables.steels import find_steel


def plan_of(recipe: dict[str, Any]) -> Report:
    return plan(load(recipe)).report


@cache
def report_of(dark: str, bright: str | None = None) -> Report:
    return plan_of(alone(dark) if bright is None else pair(dark, bright))


def layer(name: str, weight: float = 1.0, **wt: float) -> CycleLayer:
    steel = find_steel(name)
    return cycle_layer(name, steel, Composition({**steel.nominal.wt, **wt}), weight, 0.5, "normalised")


def test_the_numbers_of_the_cycle() -> None:
    """Pinned: common practice and own ramps, changed only on purpose."""
    rule = cycle_numbers("normalising")
    assert (rule["above_top_k"], rule["above_acm_k"], rule["at_most_c"]) == (30.0, 15.0, 930.0)
    assert (rule["last_above_ae1_k"], rule["hard_from_air_hrc"]) == (40.0, [45.0, 60.0])
    rule = cycle_numbers("annealing")
    assert (rule["subcritical_c"], rule["at_most_k_h"]) == ([650.0, 690.0], 20.0)
    assert rule["high_alloy_left_hrc"] == [30.0, 36.0]
    assert cycle_numbers("bearing_anneal")["slower_k_h"] == [6.0, 10.0]
    assert cycle_numbers("cold_treatment")["retained_over_frac"] == 0.15
    assert cycle_numbers("cold_treatment")["to_c"] == -75.0
    times = cycle_numbers("soaking")
    assert (times["plain_min"], times["alloyed_min"], times["high_alloy_min"]) == (4.0, 12.0, 20.0)


def test_a_ramp_runs_both_ways_and_is_level_beyond() -> None:
    assert [ramp(x, (1.0, 3.0)) for x in (0.0, 1.0, 2.0, 3.0, 9.0)] == [0.0, 0.0, 0.5, 1.0, 1.0]
    assert [ramp(x, (3.0, 1.0)) for x in (0.0, 2.0, 4.0)] == [1.0, 0.5, 0.0]


@pytest.mark.parametrize(
    ("dark", "bright"), [("1084", "75Ni8"), ("1095", "75Ni8"), ("52100", "75Ni8"), ("1095", "1018")]
)
def test_shallow_steels_are_normalised_in_three_falling_heats(dark: str, bright: str) -> None:
    h = report_of(dark, bright).hardening
    assert h.window_c is not None and len(h.normalise_c) == 3
    first, second, last = h.normalise_c
    assert 930.0 >= first >= second > last
    assert second == pytest.approx(h.window_c[1] + 30.0, abs=2.6)
    assert 745.0 < last < 785.0
    assert "black" in h.normalise_because


@pytest.mark.parametrize(
    ("steel", "published_c"), [("AISI-O1", 871.0), ("AISI-O2", 845.0), ("AISI-L6", 870.0), ("51CrV4", 865.0)]
)
def test_oil_hardening_steels_are_normalised_at_their_published_figure(
    steel: str, published_c: float
) -> None:
    """Once, then straight to the anneal: they come hard out of still air."""
    told = normalising((layer(steel),), 830.0, 4.0)
    assert len(told.temperatures_c) == 1
    assert told.temperatures_c[0] == pytest.approx(published_c, abs=7.6)
    assert told.because.values["low_hrc"] == 45.0 and told.because.values["high_hrc"] == 60.0


@pytest.mark.parametrize("steel", ["AISI-D2", "AISI-A2", "AISI-440C", "X46Cr13", "45NiCrMo16"])
def test_air_hardening_steels_are_not_normalised(steel: str) -> None:
    told = normalising((layer(steel),), 900.0, 3.0)
    assert told.temperatures_c == () and not told.cycled
    assert told.because.code == "normalise-never"


@pytest.mark.parametrize("steel", ["142WV13", "115W8"])
def test_tungsten_without_chromium_is_normalised_and_asks_for_no_cold(steel: str) -> None:
    """Shallow-hardening steels: still air leaves them soft and they retain little austenite."""
    h = report_of(steel, "75Ni8").hardening
    assert len(h.normalise_c) == 3 and (h.cold_treatment is None or h.cold_treatment.steel == "b")


def test_tungsten_fades_in_as_a_reason_not_to_normalise_with_chromium() -> None:
    shares = [layer("60WCrV8", W=2.5, Cr=chromium).never_normalised for chromium in (0.5, 0.75, 1.0)]
    assert shares == pytest.approx([0.0, 0.5, 1.0])


def test_a_bar_hard_from_the_air_is_cautioned() -> None:
    for name in ("AISI-O1", "AISI-D2"):
        notices = {n.code: n for n in report_of(name).notices}
        assert notices["hard-from-air"].level == "caution"
        assert "never straighten it cold" in notices["hard-from-air"].text
    assert "hard-from-air" not in {n.code for n in report_of("1084", "75Ni8").notices}


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ({"Cr": 0.0}, {"Cr": 0.05}),
        ({"Cr": 4.45}, {"Cr": 4.5}),
        ({"Mn": 1.18}, {"Mn": 1.20}),
        ({"C": 0.88}, {"C": 0.89}),
        ({"V": 0.19}, {"V": 0.21}),
    ],
)
def test_heats_and_soak_move_little_with_the_analysis(
    first: dict[str, float], second: dict[str, float]
) -> None:
    """What feeds back into the carbon of the blade: temperatures, minutes and the soak."""
    heats, soaks = [], []
    for wt in (first, second):
        metal = (layer("AISI-O1", **wt), layer("75Ni8"))
        heats.append(normalising(metal, 820.0, 5.5).heats)
        soaks.append(soak(metal, 800.0))
    for (c, minutes), (other_c, other_minutes) in zip(*heats, strict=True):
        assert abs(c - other_c) < 4.0 and abs(minutes - other_minutes) < 0.6
    assert soaks[0] is not None and soaks[1] is not None
    assert abs(soaks[0].minutes - soaks[1].minutes) < 1.2


def test_a_layer_fades_in() -> None:
    """Between nothing and all of O1 in the bar no step of its weight jumps."""
    minutes = [soak((layer("75Ni8"), layer("AISI-O1", weight=w / 20.0)), 800.0) for w in range(21)]
    told = [one.minutes for one in minutes if one is not None]
    assert told[0] == pytest.approx(4.0, abs=0.2) and told[-1] > 9.0
    assert max(abs(b - a) for a, b in itertools.pairwise(told)) < 0.75


@pytest.mark.parametrize(
    ("steel", "at_c", "least", "most"),
    [
        ("1084", 815.0, 3.0, 5.0),
        ("1095", 800.0, 3.0, 5.0),
        ("75Ni8", 815.0, 3.0, 5.0),
        ("80CrV2", 830.0, 4.0, 8.0),
        ("AISI-O1", 800.0, 10.0, 15.0),
        ("SAE52100", 830.0, 10.0, 15.0),
        ("AISI-D2", 1010.0, 20.0, 20.0),
    ],
)
def test_soaks_of_practice(steel: str, at_c: float, least: float, most: float) -> None:
    told = soak((layer(steel),), at_c)
    assert told is not None and least <= told.minutes <= most


def test_a_spheroidised_start_soaks_longer_and_time_to_heat_through_stands_beside() -> None:
    slow = plan_of(alone("52100", start="spheroidised")).hardening
    fine = report_of("52100").hardening
    assert slow.soak_min == pytest.approx(1.5 * (fine.soak_min or 0.0), rel=0.05)
    assert fine.heat_through_min is not None and 1.0 < fine.heat_through_min < 5.0


def told_anneal(*layers: CycleLayer, mm: float = 5.0, cooling: Cooling | None = None) -> Any:
    return anneal(layers, mm, 0.0, cooling or Cooling())


@pytest.mark.parametrize(
    ("steel", "low_c", "high_c", "rate_k_h"),
    [
        ("AISI-D2", 871.0, 898.0, 20.0),
        ("AISI-A2", 843.0, 871.0, 20.0),
        ("AISI-O1", 760.0, 788.0, 20.0),
        ("AISI-440C", 850.0, 900.0, 20.0),
        ("SAE52100", 795.0, 795.0, 8.0),
    ],
)
def test_rich_steels_are_annealed_at_the_published_figure_on_a_falling_ramp(
    steel: str, low_c: float, high_c: float, rate_k_h: float
) -> None:
    a = told_anneal(layer(steel))
    assert a.kind == "controlled" and a.needs_controller
    assert low_c <= a.temperature_c <= high_c
    assert a.cool_k_h == rate_k_h and a.until_c is not None and 500.0 <= a.until_c <= 650.0


@pytest.mark.parametrize("steel", ["1084", "75Ni8", "80CrV2", "AISI-L6", "51CrV4", "1095"])
def test_lean_steels_are_annealed_below_the_critical_temperature(steel: str) -> None:
    a = told_anneal(layer(steel))
    assert (a.kind, a.temperature_c, a.needs_controller) == ("subcritical", 670.0, False)


def test_thin_layers_of_chromium_beside_plain_stay_below_the_critical_temperature() -> None:
    thin = told_anneal(layer("SAE52100"), layer("75Ni8"), mm=0.3)
    assert (thin.kind, thin.because.code) == ("subcritical", "anneal-carbon-would-drift")
    assert told_anneal(layer("SAE52100"), layer("75Ni8"), mm=4.0).kind == "controlled"
    assert told_anneal(layer("X46Cr13"), layer("AISI-440C"), mm=0.3).kind == "controlled"


def test_without_a_controller_d2_stays_hard_and_is_told_so() -> None:
    cannot = told_anneal(layer("AISI-D2"), cooling=Cooling(False, None))
    assert (cannot.kind, cannot.because.code) == ("subcritical", "anneal-furnace-cannot")
    assert cannot.because.values["hard_hrc"] == (30.0, 36.0)
    quick = told_anneal(layer("AISI-D2"), cooling=Cooling(True, 40.0))
    assert quick.because.code == "anneal-furnace-too-quick"
    assert told_anneal(layer("AISI-D2"), cooling=Cooling(True, 15.0)).kind == "controlled"
    words = report_of("AISI-D2").hardening.anneal.because
    assert "puts heat back" in words and "30 to 36" in words and "drills badly" in words


def test_nothing_that_hardens_needs_no_anneal() -> None:
    assert told_anneal(layer("1018", weight=0.0)).kind == "none"


def test_cold_is_offered_where_much_austenite_is_retained() -> None:
    metal = (layer("75Ni8"), layer("1018", weight=0.0))
    much, little = Estimate(0.22, 0.15, 0.30), Estimate(0.14, 0.08, 0.22)
    offered = cold_treatment(metal, {"75Ni8": much, "1018": much})
    assert offered is not None and (offered.steel, offered.to_c) == ("75Ni8", -75.0)
    assert offered.retained == much
    assert cold_treatment(metal, {"75Ni8": little, "1018": much}) is None
    remembered = cold_treatment((layer("AISI-440C"),), {})
    assert remembered is not None and remembered.because.code == "cold-remembered"
    assert cold_treatment((layer("X46Cr13"),), {}) is None


def test_cold_is_told_with_its_danger_and_after_a_first_temper() -> None:
    report = report_of("AISI-D2")
    cold = report.hardening.cold_treatment
    assert cold is not None and "after a first temper" in cold.because
    notice = next(n for n in report.notices if n.code == "deep-cold")
    assert notice.level == "caution" and "gloves" in notice.text
    temper = next(p for p in report.programmes if p.job == "temper")
    assert "−75" in temper.segments[1].note


def test_grain_is_coarse_after_the_fire_and_fine_after_the_cycles() -> None:
    for steel in ("1084", "52100", "AISI-D2"):
        grain = report_of(steel).hardening.grain
        assert grain.after_forging is not None and grain.after_cycles is not None
        assert 2.0 < grain.after_forging.value < 7.0 < grain.after_cycles.value < 11.0
        assert grain.after_forging.high - grain.after_forging.low >= 3.0


def test_each_cycle_refines_and_too_hot_a_heat_coarsens() -> None:
    metal, fire = (layer("1084"),), Heat(1080.0, 4.0)
    fine = [grain_size(metal, fire, n, Heat(815.0, 4.0)).after_cycles for n in (0.0, 1.0, 3.0)]
    values = [one.value for one in fine if one is not None]
    assert values == sorted(values) and values[0] < values[-1] - 1.0
    hot = grain_size(metal, fire, 3.0, Heat(1000.0, 20.0)).after_cycles
    assert hot is not None and hot.value < values[-1] - 2.0
    assert grain_size(metal, None, 3.0, None).after_cycles is None


def test_programmes_follow_the_work() -> None:
    report = report_of("1084", "75Ni8")
    h = report.hardening
    jobs = {p.job: p.segments for p in report.programmes}
    assert list(jobs) == ["normalise", "anneal", "harden", "temper"]
    assert tuple(s.to_c for s in jobs["normalise"]) == h.normalise_c
    assert [s.to_c for s in jobs["harden"]] == [h.set_point_c]
    assert h.soak_min is not None and h.heat_through_min is not None
    parts_min = written.in_minutes(h.soak_min) + written.in_minutes(h.heat_through_min)
    assert parts_min <= jobs["harden"][0].hold_min < parts_min + 1.0
    assert jobs["harden"][0].hold_min.is_integer()
    holds = [s for s in jobs["temper"] if s.hold_min > 0.0]
    assert [(s.to_c, s.hold_min) for s in holds] == [(200.0, 120.0)] * 2
    assert 200.0 in [step.temperature_c for step in report.temper.table if step.advised]


def test_a_hot_hardening_heat_is_stepped() -> None:
    jobs = {p.job: p.segments for p in report_of("AISI-D2").programmes}
    assert "normalise" not in jobs
    assert [s.to_c for s in jobs["harden"]][:2] == [650.0, 820.0]
    fall = next(s for s in jobs["anneal"] if s.rate_k_h is not None)
    assert fall.rate_k_h == 20.0 and fall.to_c < 600.0


def test_a_core_between_stainless_sides_keeps_its_own_cycle() -> None:
    report = plan_of(sandwich("80CrV2", "X5CrNi18-10"))
    assert len(report.hardening.normalise_c) == 3
    assert report.hardening.anneal.kind == "subcritical"
    assert report.hardening.skin.hardening_mm == 0.0
