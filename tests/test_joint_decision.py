"""Window, set point and verdict: what the rules promise."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import billet
from billet.hardening.loss import WorstLoss
from billet.hardening.samples import CellCarbon
from billet.hardening.set_point import grade_of, set_point, widest_half_width_k
from tests.joint_samples import decided, layer


@pytest.mark.parametrize(
    ("pair", "expected"),
    [
        (("1084", "75Ni8"), "shared"),
        (("1075", "75Ni8"), "shared"),
        (("C75S", "75Ni8"), "shared"),
        (("O1", "75Ni8"), "shared"),
        (("51CrV4", "80CrV2"), "shared"),
        (("52100", "5160"), "shared"),
        (("X46Cr13", "440C"), "shared"),
        (("1095", "440C"), "none"),
        (("1084", "X46Cr13"), "none"),
        (("1095", "A2"), "none"),
        (("80CrV2", "X50CrMoV15"), "none"),
    ],
)
def test_pairs_of_the_trade_before_carbon_moves(pair: tuple[str, str], expected: str) -> None:
    """Common practice, no source: which usual pairs harden together at their own analysis."""
    assert decided(*(layer(name) for name in pair)).verdict() == expected


def test_layers_of_two_starts_are_not_decided_on_as_one() -> None:
    with pytest.raises(ValueError, match="one structure"):
        decided(layer("1084"), layer("75Ni8", start="spheroidised"))


@pytest.mark.parametrize(
    ("steel", "low_c", "high_c"),
    [
        ("1075", 798, 834),
        ("1084", 797, 829),
        ("1095", 785, 810),
        ("75Ni8", 797, 830),
        ("80CrV2", 815, 846),
        ("5160", 816, 847),
        ("52100", 803, 846),
        ("O1", 786, 818),
        ("L6", 818, 845),
        ("A2", 952, 980),
        ("D2", 1008, 1027),
        ("X46Cr13", 956, 1050),
        ("440C", 1008, 1064),
    ],
)
def test_good_ranges_of_the_library(steel: str, low_c: float, high_c: float) -> None:
    """Our own earlier output, read against the published rows of each grade: no end moves unseen."""
    found = decided(layer(steel)).ranges[0]
    assert found.good_low_c[0] == pytest.approx(low_c, abs=4.0)
    assert found.good_high_c[0] == pytest.approx(high_c, abs=4.0)


def test_one_analysis_has_one_range_whatever_it_is_called() -> None:
    analysis = {"C": 1.0, "Mn": 0.30, "Si": 0.22}
    lows = []
    for name in ("W1", "C105U", "W2", "C100S"):
        one = layer(name, 1.0, Mn=0.30, Si=0.22, Cr=0.0, Ni=0.0, Mo=0.0, V=0.0, W=0.0)
        lows.append(float(decided(one).ranges[0].good_low_c[0]))
    lows.append(float(decided(layer(analysis)).ranges[0].good_low_c[0]))
    assert max(lows) - min(lows) < 1e-9


def test_soft_layers_limit_nothing() -> None:
    alone, beside = decided(layer("1095")), decided(layer("1095"), layer("304"))
    assert beside.window.low_c[0] == pytest.approx(alone.window.low_c[0])
    assert beside.window.high_c[0] == pytest.approx(alone.window.high_c[0])


def test_declared_cladding_decides_nothing() -> None:
    core = decided(layer("80CrV2", share=0.3))
    clad = decided(layer("80CrV2", share=0.3), layer("420", share=0.7, cladding=True))
    assert clad.point.c[0] == core.point.c[0] and clad.verdict() == "shared"
    assert decided(layer("80CrV2", share=0.3), layer("420", share=0.7)).verdict() == "none"


def test_nothing_hardens_where_all_is_soft() -> None:
    found = decided(layer("1008"), layer("304"))
    assert (found.verdict(), found.none_because()) == ("none", "soft")
    assert np.isnan(found.heat_c[0])


def test_high_chromium_without_a_range_near_it_asks_for_one() -> None:
    analysis = {"C": 2.4, "Cr": 14.0, "V": 6.0}
    assert decided(layer(analysis)).none_because() == "unknown"
    assert decided(layer(analysis, harden_c=(1040.0, 1070.0))).verdict() == "shared"


def test_a_foreign_metal_asks_for_a_range() -> None:
    assert decided(layer({"C": 0.8, "Mn": 0.5, "Cu": 3.0})).none_because() == "unknown"
    assert decided(layer({"C": 0.8, "Mn": 0.5, "Cu": 0.2})).verdict() == "shared"


def test_stainless_that_drank_its_neighbours_carbon_has_no_range() -> None:
    assert decided(layer("440C", 1.9), layer("1095", 0.23)).none_because() == "unknown"
    assert decided(layer("440C", 1.10)).verdict() == "shared"


def test_a_gap_is_told_between_the_possible_ranges() -> None:
    found = decided(layer("1095"), layer("440C"))
    cold, hot = found.ranges
    assert found.window.gap_k[0] == pytest.approx(hot.possible_low_c[0] - cold.possible_high_c[0])
    assert found.none_because() == "gap" and found.window.gap_k[0] > 100.0


def test_far_apart_the_steel_of_the_edge_gets_its_own_heat() -> None:
    core = decided(layer("1095", share=0.7), layer("440C", share=0.3))
    own = decided(layer("1095"))
    assert core.heat_c[0] == pytest.approx(own.point.exact_c[0], abs=5.0)


def test_a_mild_layer_gaining_carbon_never_closes_the_window() -> None:
    gained = np.linspace(0.0, 0.33, 67)
    found = decided(layer("1095", 0.95 - gained), layer("1018", 0.18 + gained))
    assert found.has_window.all()


def test_a_core_that_hardens_in_the_middle_hardens() -> None:
    """A core of 80CrV2 drained at its rims: what holds 0.68 % carbon in the middle decides."""
    one = layer("80CrV2", 0.5)
    cells = np.array([[0.10, 0.32, 0.68, 0.68, 0.32, 0.10]])
    share = np.full(6, 1.0 / 6.0)
    drained = replace(one, edge=CellCarbon(cells, share), blade=CellCarbon(cells, share))
    found = decided(drained, layer("304"))
    assert found.verdict() == "shared"
    assert found.layers[0].wt["C"][0] == pytest.approx(0.65, abs=0.04)


ends = st.tuples(
    st.floats(700.0, 1000.0), st.floats(10.0, 60.0), st.floats(5.0, 60.0), st.floats(5.0, 60.0),
    st.floats(0.05, 1.0),
)  # fmt: skip


def scale_of(rows: list[tuple[float, float, float, float, float]]) -> WorstLoss:
    columns = [np.array([[row[i]] for row in rows]) for i in range(5)]
    return WorstLoss(*columns)


@given(st.lists(ends, min_size=1, max_size=4), st.floats(0.0, 50.0))
@settings(max_examples=60, deadline=None)
def test_the_least_worst_loss_is_what_a_fine_search_finds(
    rows: list[tuple[float, float, float, float, float]], half_width_k: float
) -> None:
    worst = scale_of(rows)
    fine = np.arange(600.0, 1150.0, 0.05)
    wide = WorstLoss(
        *(np.broadcast_to(getattr(worst, n), (len(rows), len(fine)))
          for n in ("middle_c", "half_k", "under_k", "over_k", "weight"))
    )  # fmt: skip
    searched = float(wide.over(fine, half_width_k).min())
    assert float(worst.least(half_width_k)[0]) == pytest.approx(searched, abs=0.03)


@given(st.lists(ends, min_size=1, max_size=3), st.floats(0.0, 50.0))
@settings(max_examples=60, deadline=None)
def test_the_set_point_costs_hardly_more_than_the_best(
    rows: list[tuple[float, float, float, float, float]], half_width_k: float
) -> None:
    """At most the quarter that being low may cost, and what rounding to five degrees does."""
    worst = scale_of(rows)
    found = set_point(worst, half_width_k)
    steepest = max(w / min(h, u, o) for _, h, u, o, w in rows)
    least = float(worst.least(half_width_k)[0])
    assert float(found.loss[0]) <= least + 0.25 + 0.1 + 2.5 * steepest + 1e-9
    assert float(found.c[0]) % 5.0 == 0.0


def test_a_rougher_fire_hardly_moves_the_set_point() -> None:
    for first in ("1084", "1095", "O1", "80CrV2", "52100"):
        pair = (layer(first), layer("75Ni8"))
        exact = [float(decided(*pair, half_width_k=k).point.exact_c[0]) for k in (0, 5, 13, 22)]
        assert max(exact) - min(exact) < 12.0, first


def test_grades_change_where_the_loss_passes_one_and_two() -> None:
    assert [grade_of(x) for x in (0.0, 1.0, 1.01, 2.0, 2.01)] == ["good", "good", "works", "works", "no"]


def test_the_roughest_fire_is_where_the_grade_changes() -> None:
    found = decided(layer("1084"), layer("75Ni8"))
    good_k = float(widest_half_width_k(found.worst, found.point.c, 1.0)[0])
    assert grade_of(float(found.worst.over(found.point.c, good_k - 0.01)[0])) == "good"
    assert grade_of(float(found.worst.over(found.point.c, good_k + 0.01)[0])) == "works"
    assert 10.0 < good_k < 20.0


def test_the_start_decides_between_rows_that_hold_for_one_structure() -> None:
    fine, coarse = (decided(layer("100Cr6", start=s)).ranges[0] for s in ("normalised", "spheroidised"))
    assert fine.good_low_c[0] == pytest.approx(808.0, abs=6.0)
    assert coarse.good_low_c[0] == pytest.approx(828.0, abs=6.0)


def test_more_carbon_lowers_the_window_of_a_plain_steel() -> None:
    found = decided(layer("1095", np.array([0.6, 0.7, 0.8, 0.9, 1.0]))).ranges[0]
    assert (np.diff(found.good_low_c) < 0.0).all() and (np.diff(found.good_high_c) < 0.0).all()


@given(st.floats(0.35, 1.3), st.floats(0.2, 2.0), st.floats(0.0, 1.8), st.floats(0.0, 3.0))
@settings(max_examples=40, deadline=None)
def test_good_lies_inside_possible(c: float, mn: float, cr: float, ni: float) -> None:
    found = decided(layer({"C": c, "Mn": mn, "Si": 0.25, "Cr": cr, "Ni": ni})).ranges[0]
    assert found.possible_low_c[0] <= found.good_low_c[0] - 5.0 + 1e-9
    assert found.good_high_c[0] - found.good_low_c[0] >= 20.0 - 1e-9
    assert found.possible_high_c[0] >= found.good_high_c[0] + 12.0


def test_the_zone_of_the_edge_is_the_middle_or_the_face() -> None:
    bar = {
        "format": 1,
        "title": "Core and sides",
        "steels": {"core": "1095", "side": "1018"},
        "stack": {
            "width_mm": 40,
            "length_mm": 100,
            "plates": [{"steel": name, "thickness_mm": 2.0} for name in ("side", "core", "side")],
        },
        "steps": [
            {"do": "weld", "temperature_c": 1100, "minutes": 0.2, "atmosphere": "sealed", "height_mm": 5.5}
        ],
        "blade": {"thickness_mm": 5.5, "edge_mm": 0.5, "edge_at": "middle"},
    }
    shares = {}
    for place in ("middle", "face"):
        planned = billet.plan({**bar, "blade": {**bar["blade"], "edge_at": place}})
        layers = {layer.name: layer for layer in planned.treatment.judged.joint.layers}
        shares[place] = {name: float(layer.edge.share.sum()) for name, layer in layers.items()}
    assert shares["middle"]["core"] > 0.9 and shares["middle"]["side"] < 0.1
    assert shares["face"]["core"] < 0.1 and shares["face"]["side"] > 0.9
