"""The rules of decision, each by what it promises."""

import itertools
from dataclasses import replace
from typing import Any

import pytest
from billet.hardening.plain_carbon_line import plain_carbon_range_c
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.contract.report import CarbonSpread
from billet.hardening.austenitising_window import AustenitisingWindow, WindowEnd, steel_window
from billet.hardening.critical_rate import hardenability
from billet.hardening.layer import LayerSteel, is_austenitic, judge_role
from billet.hardening.quench import choose_medium, layer_quench
from billet.hardening.set_point import least_bad, set_point
from billet.hardening.shared_window import shared_window
from billet.tables.plate_cooling import centre_rate_k_s
from billet.tables.practice import decision_numbers, plain_line
from billet.tables.steels import find_steel


def layer(
    designation: str, carbon_wt: float | None = None, spread_wt: float = 0.0, share: float = 0.5
) -> LayerSteel:
    grade = find_steel(designation)
    supplied = grade.nominal
    mean = supplied["C"] if carbon_wt is None else carbon_wt
    carbon = CarbonSpread(
        supplied["C"], mean, mean - spread_wt, mean + spread_wt, mean - spread_wt, mean + spread_wt
    )
    now = supplied.with_carbon(mean)
    role, why = judge_role(now, carbon)
    return LayerSteel(designation, grade, None, supplied, now, carbon, share, role, why)


def own(wt: dict[str, float], harden_c: tuple[float, float] | None = None) -> LayerSteel:
    analysis = Composition(wt)
    carbon = CarbonSpread(*([analysis["C"]] * 6))
    role, why = judge_role(analysis, carbon)
    return LayerSteel("own", None, harden_c, analysis, analysis, carbon, 0.5, role, why)


def agreed(*layers: LayerSteel) -> Any:
    return shared_window(layers, tuple(steel_window(one) for one in layers))


def test_the_plain_line_falls_and_is_held_at_its_ends() -> None:
    rows = plain_line()
    assert all(a[1] > b[1] and a[2] > b[2] for a, b in itertools.pairwise(rows))
    assert plain_carbon_range_c(0.1) == plain_carbon_range_c(rows[0][0])
    assert plain_carbon_range_c(2.0) == plain_carbon_range_c(rows[-1][0])


@given(st.floats(0.3, 1.2))
def test_the_plain_line_has_no_jump(carbon_wt: float) -> None:
    here, there = plain_carbon_range_c(carbon_wt), plain_carbon_range_c(carbon_wt + 0.01)
    assert abs(here[0] - there[0]) < 3.0 and abs(here[1] - there[1]) < 3.0


@pytest.mark.parametrize(
    ("pair", "expected"),
    [
        (("1084", "75Ni8"), "shared"),
        (("1075", "75Ni8"), "shared"),
        (("C75S", "75Ni8"), "shared"),
        (("52100", "5160"), "shared"),
        (("O1", "75Ni8"), "shared"),
        (("51CrV4", "80CrV2"), "shared"),
        (("X46Cr13", "440C"), "shared"),
        (("1095", "440C"), "none"),
        (("1084", "X46Cr13"), "none"),
        (("1095", "A2"), "none"),
        (("80CrV2", "X50CrMoV15"), "none"),
    ],
)
def test_pairs_of_the_trade_before_carbon_moves(pair: tuple[str, str], expected: str) -> None:
    """Common practice, no source: which usual pairs harden together at their own analysis."""
    assert agreed(*(layer(name) for name in pair)).verdict == expected


def test_a_gap_is_told_in_kelvins_with_the_steels_that_make_it() -> None:
    found = agreed(layer("1095"), layer("440C"))
    assert found.none_because == "gap"
    assert found.low_set_by == "440C" and found.high_set_by == "1095"
    hull_1095, hull_440c = find_steel("1095").published_envelope_c, find_steel("440C").published_envelope_c
    assert hull_1095 is not None and hull_440c is not None
    assert found.gap_k == pytest.approx(hull_440c[0] - hull_1095[1])


def test_a_mild_layer_gaining_carbon_never_closes_the_window() -> None:
    verdicts = []
    for step in range(33):
        gained = 0.01 * step
        verdicts.append(agreed(layer("1095", 0.95 - gained), layer("1018", 0.18 + gained)).verdict)
    assert verdicts[0] == "shared" and verdicts[-1] == "shared"
    assert "none" not in verdicts


def test_soft_layers_limit_nothing() -> None:
    alone, beside = agreed(layer("1095")), agreed(layer("1095"), layer("304"))
    assert alone.window is not None and beside.window is not None
    assert alone.window.range_c == beside.window.range_c


def test_nothing_hardens_where_all_is_soft() -> None:
    found = agreed(layer("1008"), layer("304"))
    assert (found.verdict, found.none_because, found.window) == ("none", "soft", None)


def test_high_chromium_without_a_published_range_asks_for_one() -> None:
    analysis = {"C": 1.4, "Cr": 14.0, "V": 3.0}
    assert agreed(own(analysis)).none_because == "unknown"
    assert agreed(own(analysis, (1040.0, 1070.0))).verdict == "shared"


def test_a_stainless_layer_that_has_drunk_its_neighbours_carbon_has_no_window() -> None:
    found = agreed(layer("440C", 1.72), layer("1095", 0.23))
    assert (found.verdict, found.none_because) == ("none", "unknown")
    assert agreed(layer("440C", 1.10)).verdict == "shared"


def test_a_tungsten_steel_keeps_its_published_range_when_it_gives_carbon_away() -> None:
    assert agreed(layer("142WV13", 1.1), layer("75Ni8", 0.85)).verdict == "shared"


def test_a_steel_without_publication_can_be_taken_lower_than_it_likes() -> None:
    silicon = own({"C": 0.70, "Mn": 0.8, "Si": 1.6, "Cr": 0.5})
    found = agreed(silicon, layer("75Ni8"))
    assert found.verdict == "narrow" and found.off_preferred == ("own",)


def test_the_start_decides_between_two_published_rows() -> None:
    fine = layer("100Cr6")
    coarse = replace(fine, start="spheroidised")
    lows = [w.low.c for one in (fine, coarse) if (w := steel_window(one).preferred) is not None]
    assert lows == [pytest.approx(802.0, abs=5.0), pytest.approx(830.0, abs=5.0)]


def test_more_carbon_lowers_the_window_of_a_plain_steel() -> None:
    windows = [steel_window(layer("1095", c)).preferred for c in (0.7, 0.8, 0.9, 1.0)]
    lows = [w.low.c for w in windows if w is not None]
    assert lows == sorted(lows, reverse=True) and len(lows) == 4


def test_carbide_steels_keep_their_low_end() -> None:
    published = find_steel("52100").working
    assert published is not None and published.window_c is not None
    for carbon_wt in (0.80, 0.95, 1.05):
        window = steel_window(layer("52100", carbon_wt)).preferred
        assert window is not None
        assert (
            abs(window.low.c - published.window_c[0])
            <= decision_numbers("window")["carbide_low_moves_k"] + 1e-9
        )
        assert window.width_k >= decision_numbers("window")["carbide_least_width_k"] - 1e-9


@given(st.floats(0.30, 1.05), st.floats(0.0, 0.15))
def test_preferred_lies_inside_possible(carbon_wt: float, spread_wt: float) -> None:
    for name in ("1095", "75Ni8", "52100"):
        found = steel_window(layer(name, carbon_wt, min(spread_wt, carbon_wt / 3)))
        assert found.preferred is not None and found.possible is not None
        assert found.possible.low.c <= found.preferred.low.c + 1e-9
        assert found.possible.high.c >= found.preferred.high.c - 1e-9
        assert found.preferred.width_k > 0.0


windows = st.tuples(st.floats(750.0, 1000.0), st.floats(1.0, 120.0)).map(
    lambda w: AustenitisingWindow(WindowEnd(w[0], "low"), WindowEnd(w[0] + w[1], "high"))
)


@given(windows, st.floats(0.0, 60.0), st.floats(0.0, 60.0))
def test_the_set_point_never_rises_with_the_half_width(
    window: AustenitisingWindow, one: float, other: float
) -> None:
    narrow, wide = sorted((one, other))
    assert set_point(window, wide).c <= set_point(window, narrow).c + 1e-9


@given(windows, st.floats(0.0, 60.0))
def test_the_set_point_lies_inside(window: AustenitisingWindow, half_width_k: float) -> None:
    point = set_point(window, half_width_k)
    assert window.low.c <= point.c <= window.high.c
    assert point.fits == (window.width_k >= 2.0 * half_width_k)


def test_the_least_bad_point_belongs_to_the_larger_hardening_layer() -> None:
    layers = (layer("1095", share=0.7), layer("440C", share=0.3))
    found_windows = tuple(steel_window(one) for one in layers)
    found = least_bad(layers, found_windows, shared_window(layers, found_windows), 10.0)
    assert found is not None and found_windows[0].preferred is not None
    assert found.c <= found_windows[0].preferred.high.c
    assert [row.steel for row in found.per_steel] == ["1095", "440C"]
    assert "under its range" in found.per_steel[1].suffers


@pytest.mark.parametrize(
    ("wt", "low_k_s", "high_k_s"),
    [
        ({"C": 0.84, "Mn": 0.75, "Si": 0.22}, 90.0, 190.0),
        ({"C": 0.85, "Mn": 0.40, "Si": 0.22}, 150.0, 300.0),
        ({"C": 0.75, "Mn": 0.40, "Si": 0.25, "Ni": 1.95}, 60.0, 120.0),
        ({"C": 0.60, "Mn": 0.875, "Si": 0.225, "Cr": 0.8}, 15.0, 35.0),
        ({"C": 0.65, "Mn": 0.35, "Si": 0.22, "Cr": 1.0}, 20.0, 55.0),
        ({"C": 0.75, "Mn": 1.2, "Si": 0.3, "Cr": 0.45}, 8.0, 17.0),
    ],
)
def test_critical_rates_against_remembered_ones(
    wt: dict[str, float], low_k_s: float, high_k_s: float
) -> None:
    """From memory: ranges of the rate for 1084, 1095, 75Ni8, 5160, 52100 and O1, K/s."""
    assert low_k_s <= hardenability(Composition(wt), cycled=True).critical_rate_k_s.value <= high_k_s


def test_the_eutectoid_steel_gets_its_published_rate_back() -> None:
    limits = decision_numbers("quench")
    rate = hardenability(Composition(limits["eutectoid_wt"]), cycled=True).critical_rate_k_s.value
    assert limits["eutectoid_all_pearlite_k_s"] < rate < limits["eutectoid_all_martensite_k_s"]


def test_uncycled_blades_harden_deeper() -> None:
    steel = find_steel("1084").nominal
    assert (
        hardenability(steel, cycled=False).critical_rate_k_s.value
        < hardenability(steel, cycled=True).critical_rate_k_s.value
    )


def asked(name: str, thickness_mm: float, dissolved_c_wt: float | None = None) -> Any:
    one = layer(name)
    carbon = dissolved_c_wt if dissolved_c_wt is not None else one.composition["C"]
    return layer_quench(one, one.composition.with_carbon(carbon), thickness_mm, cycled=True)


def test_plain_carbon_steel_needs_fast_oil_and_does_not_harden_in_medium() -> None:
    for name in ("1084", "1095"):
        found = asked(name, 4.0)
        assert found.slowest == "fast oil"
        assert centre_rate_k_s("medium oil", 4.0).value < found.hardenability.critical_rate_k_s.value


def test_a_steel_of_08_carbon_and_05_chromium_hardens_in_medium_oil() -> None:
    found = asked("80CrV2", 3.0)
    assert found.slowest == "medium oil" and found.through_hardens_to_mm is None
    assert found.fastest == "medium oil"


def test_stainless_takes_medium_or_slower() -> None:
    found = layer_quench(layer("440C"), None, 3.0, cycled=False)
    assert found.hardenability is None
    assert found.slowest in {"slow oil", "plates", "air"} and found.fastest == "medium oil"


def test_no_blade_of_this_carbon_goes_into_water() -> None:
    for name in ("1045", "1084", "1095", "C105U"):
        assert asked(name, 6.0).slowest not in {"water", "brine"}


def test_the_bar_takes_the_slowest_medium_that_hardens_every_layer() -> None:
    verdict, name, pays = choose_medium((asked("52100", 3.0, 0.7), asked("5160", 3.0)))
    assert (verdict, name, pays) == ("shared", "medium oil", ())


def test_a_layer_that_pays_is_named() -> None:
    verdict, name, pays = choose_medium((asked("1084", 3.0), asked("O1", 3.0, 0.75)))
    assert (verdict, name) == ("compromise", "fast oil")
    assert [row.steel for row in pays] == ["O1"]


def test_nickel_and_304_are_austenitic_and_440c_is_not() -> None:
    assert is_austenitic(find_steel("2.4066").nominal) and is_austenitic(find_steel("304").nominal)
    assert not is_austenitic(find_steel("440C").nominal)


@pytest.mark.parametrize("pair", [("C45U", "45NiCrMo16"), ("1018", "L6"), ("1018", "1045")])
@pytest.mark.parametrize("thickness_mm", [3.0, 5.0, 12.0])
def test_no_hardening_layer_asks_for_water(pair: tuple[str, str], thickness_mm: float) -> None:
    """Poor in carbon and thick is where the rate alone would call for water, even beside an air hardener."""
    rows = []
    for name in pair:
        one = layer(name, 0.32)
        rows.append(layer_quench(one, one.composition.with_carbon(0.28), thickness_mm, cycled=True))
    _, medium, _ = choose_medium(tuple(rows))
    assert medium not in {"water", "brine"}


def test_an_air_hardener_in_fast_oil_is_likely_to_crack() -> None:
    _, medium, pays = choose_medium((asked("1084", 5.0), asked("45NiCrMo16", 5.0, 0.45)))
    assert medium == "fast oil"
    assert any(row.steel == "45NiCrMo16" and "crack" in row.how for row in pays)


def test_a_grade_without_an_upper_carbon_bound_can_be_left_too() -> None:
    assert agreed(layer("420", 1.12), layer("1095", 0.25)).none_because == "unknown"


def test_a_partly_hardening_stainless_out_of_its_grade_is_not_passed_over() -> None:
    stainless = replace(layer("420", 0.57, 0.20), role="partly")
    found = agreed(layer("1095"), stainless)
    assert found.verdict == "narrow" and "420" in found.because


def test_windows_that_miss_with_no_full_hardener_have_no_least_bad_heat() -> None:
    layers = tuple(replace(layer(name), role="partly") for name in ("60WCrV8", "X46Cr13"))
    found_windows = tuple(steel_window(one) for one in layers)
    found = shared_window(layers, found_windows)
    assert found.none_because == "gap"
    assert least_bad(layers, found_windows, found, 10.0) is None
