"""The quench for edge and spine: figures held by literals, one bath an interval of every sweep."""

import math
from itertools import groupby, pairwise

import numpy as np
import pytest

from billet.composition import Composition
from billet.contract.values import Estimate
from billet.errors import OutOfDomain
from billet.formulas.hardenability import factors_of, ideal_diameter_in, ideal_diameters_in
from billet.formulas.plate_cooling import Film, Plate, cool_plates
from billet.hardening.austenite_state import austenitised_state
from billet.hardening.core_hardness import hrc_at, martensite_share
from billet.hardening.critical_rate import critical_rates, hardenability, plainness_of
from billet.hardening.layer import is_austenitic
from billet.hardening.media_cooling import ball_bath, class_bath, nearest_class
from billet.hardening.media_ranking import LADDER, bar_quenches, medium_name, section_factor
from billet.hardening.quench import BarQuench, each_alone, quench_plan
from billet.hardening.quench_grades import LayerAsk, crack_index, decades_lost, graded, layer_ask
from billet.hardening.quench_reasons import slower_by_rate
from billet.hardening.residuals import printed_residuals, with_usual_residuals
from billet.hardening.shop_oils import OwnOil, oil_by_bar
from billet.report.words import said
from billet.tables.media import medium
from billet.tables.steels import find_steel
from tests.quench_samples import PLATE, ask, given, samples, section, swept, whole

THICKNESSES_MM = np.arange(1.0, 8.001, 0.05)


def plan(
    *names: tuple[str, float | None],
    thickness_mm: float = 3.0,
    edge_mm: float = 1.0,
    oils: tuple[OwnOil, ...] = (),
) -> BarQuench:
    inputs = [given(name, carbon) for name, carbon in names]
    return quench_plan(inputs, section(thickness_mm, edge_mm), True, True, oils)


def intervals(words: list[str]) -> list[str]:
    """The words of a sweep, each once for every interval it holds."""
    return [word for word, _ in groupby(words)]


# critical rate


@pytest.mark.parametrize(
    ("name", "carbon_wt", "rate_k_s"),
    [
        ("1084", 0.84, 121.5), ("1095", 0.85, 269.4), ("75Ni8", 0.75, 102.0), ("5160", 0.60, 24.96),
        ("52100", 0.65, 32.5), ("O1", 0.75, 13.9),
    ],
)  # fmt: skip
def test_critical_rates_stay_where_they_are(name: str, carbon_wt: float, rate_k_s: float) -> None:
    """Drawn from A255 with the usual residuals; remembered: 140, 200, 90, 30, 30, 12 K/s."""
    assert ask(name, carbon_wt).rates.value[0] == pytest.approx(rate_k_s, rel=0.01)


@pytest.mark.parametrize(
    ("name", "carbon_wt", "remembered_k_s"),
    [("1084", 0.84, 140.0), ("1095", 0.85, 200.0), ("75Ni8", 0.75, 90.0), ("80CrV2", 0.75, 70.0),
     ("5160", 0.60, 30.0), ("52100", 0.65, 30.0), ("O1", 0.75, 12.0)],
)  # fmt: skip
def test_critical_rates_against_remembered_ones(name: str, carbon_wt: float, remembered_k_s: float) -> None:
    """From memory, and weak: every one within the stated factor of 1.6."""
    found = ask(name, carbon_wt).rates.value[0]
    assert remembered_k_s / 1.6 <= found <= remembered_k_s * 1.6


def test_the_eutectoid_steel_gets_its_published_rate_back() -> None:
    """35 K/s all pearlite, 140 all martensite: 95 % at 35 x 4^0.95."""
    eutectoid = Composition(with_usual_residuals({"C": 0.80, "Mn": 0.75, "Si": 0.20}, ()))
    rate = hardenability(eutectoid, cycled=True).critical_rate_k_s
    assert rate.value == pytest.approx(35.0 * 4.0**0.95)
    assert (rate.low, rate.high) == (pytest.approx(rate.value / 1.6), pytest.approx(rate.value * 1.6))


def test_uncycled_blades_harden_deeper() -> None:
    """Three grain numbers of 8 % of the diameter, so 1.08^-6 of the rate."""
    steel = Composition(whole("1084"))
    rates = [hardenability(steel, cycled).critical_rate_k_s.value for cycled in (False, True)]
    assert rates[0] / rates[1] == pytest.approx(1.08**-6)


def test_arrays_give_what_single_analyses_give() -> None:
    grades = [whole(n) for n in ("1084", "75Ni8", "O1", "5160", "90MnCrV8")]
    elements = ("C", "Mn", "Si", "Ni", "Cr", "Mo", "Cu", "V")
    wt = {e: np.array([g.get(e, 0.0) for g in grades]) for e in elements}
    singles = [ideal_diameter_in(Composition({e: g.get(e, 0.0) for e in elements}), 9.0) for g in grades]
    assert ideal_diameters_in(wt, 9.0) == pytest.approx(singles)
    with pytest.raises(OutOfDomain):
        factors_of({"C": np.array([0.8, -0.1])})


def test_the_rate_asked_for_is_the_safe_end_for_plain_and_the_middle_for_alloyed_steel() -> None:
    assert plainness_of(np.array([1.0, 1.3, math.sqrt(2.6), 2.0, 9.0])) == pytest.approx([1, 1, 0.5, 0, 0])
    plain, alloyed = ask("1084", 0.84).rates, ask("75Ni8", 0.75).rates
    assert plain.asked[0] / plain.value[0] == pytest.approx(1.6)
    assert alloyed.asked[0] == alloyed.value[0]
    assert plain.alloy_factor[0] == pytest.approx(1.279, abs=0.001)


def test_chromium_and_molybdenum_are_carried_on_and_the_rest_is_held() -> None:
    def rate(**wt: float) -> float:
        base = {"C": 0.7, "Mn": 0.5, "Si": 0.3, "Cr": 1.0, "Mo": 0.1} | wt
        arrays = {e: np.array([v]) for e, v in base.items()}
        return float(critical_rates(arrays, np.ones(1), True).value[0])

    assert rate(Cr=5.0) / rate(Cr=2.5) == pytest.approx((6.4 / 11.8) ** 2)
    assert rate(Mo=1.1) / rate(Mo=0.55) == pytest.approx((2.65 / 4.3) ** 2)
    assert rate(Si=2.5) == rate(Si=2.0) and rate(V=0.4) == rate(V=0.2) and rate(C=1.2) == rate(C=0.9)


def test_nickel_and_304_are_austenitic_and_440c_is_not() -> None:
    assert is_austenitic(find_steel("2.4066").nominal) and is_austenitic(find_steel("304").nominal)
    assert not is_austenitic(find_steel("440C").nominal)


# residuals


def test_usual_residuals_come_where_an_analysis_is_silent() -> None:
    assert with_usual_residuals({"C": 0.8, "Mn": 0.7}, ()) == {
        "C": 0.8, "Mn": 0.7, "Cr": 0.08, "Ni": 0.08, "Mo": 0.02, "Cu": 0.10,
    }  # fmt: skip
    kept = with_usual_residuals({"C": 0.8, "Cr": 0.0, "Ni": 1.9}, ("Cr", "Ni"))
    assert kept == {"C": 0.8, "Cr": 0.0, "Ni": 1.9, "Mo": 0.02, "Cu": 0.10}
    nickel = with_usual_residuals({"Ni": 99.5}, ("Ni",))
    assert nickel["Cr"] == pytest.approx(0.0008)


def test_what_a_standard_asks_for_is_told_and_what_scrap_brings_is_not() -> None:
    def told(name: str) -> frozenset[str]:
        return printed_residuals(find_steel(name).nominal, find_steel(name))

    assert told("1084") == told("C75S") == told("W1") == told("C105U") == frozenset()
    assert told("80CrV2") == told("5160") == {"Cr"} and told("75Ni8") == {"Ni"}
    assert told("L6") == {"Cr", "Ni", "Mo"}


def test_a_melt_that_gives_its_residuals_is_believed_nought_included() -> None:
    grade = find_steel("1084")
    melt = Composition({**grade.nominal.wt, "Cr": 0.0, "Cu": 0.03})
    assert printed_residuals(melt, grade) == {"Cr", "Cu"}
    assert printed_residuals(Composition({"C": 0.8, "Cr": 0.02}), None) == {"Cr"}


def test_equal_analyses_harden_equally_deep_whatever_their_name() -> None:
    """C75S and an American steel of its carbon, manganese and silicon."""
    own = with_usual_residuals({"C": 0.75, "Si": 0.25, "Mn": 0.75}, ())
    assert whole("C75S") == pytest.approx(own)


def test_assumed_residuals_widen_the_band_and_move_nothing() -> None:
    """From none to twice the usual in all four: a factor of 1.78 beside 1.6."""
    wt = {e: np.array([v]) for e, v in whole("1084").items()}
    told = critical_rates(wt, np.ones(1), True)
    assumed = critical_rates(wt, np.ones(1), True, ("Cr", "Ni", "Mo", "Cu"))
    assert (assumed.value[0], assumed.asked[0]) == (told.value[0], told.asked[0])
    assert told.high[0] / told.value[0] == pytest.approx(1.6)
    assert assumed.high[0] / assumed.value[0] == pytest.approx(1.78, abs=0.01)


# cooling


@pytest.mark.parametrize(
    ("name", "rates_k_s"),
    [("air", (7.77, 5.19, 2.57)), ("plates", (64.8, 43.1, 21.3)), ("slow oil", (121.5, 81.9, 42.5)),
     ("medium oil", (211.9, 146.0, 79.3)),
     ("vegetable oil", (262.4, 175.0, 86.5)),
     ("fast oil", (337.3, 231.1, 121.7))],
)  # fmt: skip
def test_cooling_at_two_three_and_six_mm(name: str, rates_k_s: tuple[float, ...]) -> None:
    found = [class_bath(name).rates_k_s(t, np.ones(1))[0] for t in (2.0, 3.0, 6.0)]
    assert found == pytest.approx(rates_k_s, rel=0.01)


def test_depth_and_rate_are_each_other_turned_round() -> None:
    film = np.array([0.6, 1.0, 1.4, 1.0])
    for name in ("air", "slow oil", "fast oil"):
        bath = class_bath(name)
        for thickness_mm in (0.5, 1.0, 3.3, 12.0, 28.0):
            rates = bath.rates_k_s(thickness_mm, film)
            assert bath.depths_mm(rates, film) == pytest.approx(thickness_mm, rel=0.02)


def test_an_own_oil_lies_between_the_classes_and_runs_on_beyond_them() -> None:
    one = np.ones(1)
    for seconds, name in ((9.0, "fast oil"), (12.5, "medium oil"), (17.5, "slow oil")):
        assert ball_bath(seconds).log_rate == pytest.approx(class_bath(name).log_rate)
    rates = [ball_bath(s).rates_k_s(3.0, one)[0] for s in np.arange(6.0, 26.0, 0.1)]
    assert all(0.0 < 1.0 - b / a < 0.03 for a, b in pairwise(rates))
    assert [nearest_class(s) for s in (8.0, 10.5, 11.0, 16.0)] == [
        "fast oil", "fast oil", "medium oil", "slow oil",
    ]  # fmt: skip


def test_an_own_oil_cools_as_its_interpolated_film_does() -> None:
    """Films of fast and medium oil mixed half and half in the logarithm, solved through."""
    fast, middling = medium("fast oil"), medium("medium oil")
    at = np.arange(50.0, 1001.0, 5.0)
    films = [np.log(np.interp(at, *zip(*m.film, strict=True))) for m in (fast, middling)]
    nodes = tuple(zip(at, np.exp(0.5 * (films[0] + films[1])), strict=True))
    cooled = cool_plates([Plate(3.0, Film(nodes, 55.0), 815.0, 530.0)], nodes=21)[0]
    own = ball_bath(math.sqrt(9.0 * 12.5)).rates_k_s(3.0, np.ones(1))[0]
    assert own == pytest.approx(cooled.mean_rate_k_s(), rel=0.05)


# grades and the bar


def test_a_layer_is_good_through_the_spine_works_at_the_edge_and_fails_under_it() -> None:
    """1095 with 0.85 % dissolved in fast oil: surely to 1.54 mm, likely to 2.54 mm."""
    one = ask("1095", 0.85)
    found = graded(one.in_bar, class_bath("fast oil"), PLATE)
    assert found.through_mm[0] == pytest.approx(1.54, abs=0.02)
    assert found.likely_mm[0] == pytest.approx(2.54, abs=0.02)
    grades = {
        (t, e): int(graded(one.in_bar, class_bath("fast oil"), section(t, e)).grade[0])
        for t, e in ((1.4, 0.5), (3.0, 1.0), (3.0, 2.0), (6.0, 2.7))
    }
    assert grades == {(1.4, 0.5): 2, (3.0, 1.0): 1, (3.0, 2.0): 1, (6.0, 2.7): 0}


@pytest.mark.parametrize(
    ("steels", "thickness_mm", "expected"),
    [
        ((("1084", 0.84),), 1.0, ("medium oil", "good")),
        ((("1084", 0.84),), 2.0, ("fast oil", "good")),
        ((("1084", 0.84), ("75Ni8", 0.75)), 3.0, ("fast oil", "good")),
        ((("1084", 0.84),), 4.0, ("fast oil", "works")),
        ((("1095", 0.85), ("75Ni8", 0.76)), 3.0, ("fast oil", "works")),
        ((("80CrV2", 0.70),), 3.0, ("medium oil", "good")),
        ((("52100", 0.70),), 3.0, ("medium oil", "good")),
        ((("5160", 0.60),), 3.0, ("medium oil", "good")),
        ((("O1", 0.75),), 3.0, ("slow oil", "good")),
        ((("90MnCrV8", 0.80),), 3.0, ("slow oil", "good")),
        ((("L6", 0.68),), 3.0, ("slow oil", "good")),
        ((("9260", 0.60),), 3.0, ("medium oil", "good")),
        ((("45NiCrMo16", 0.45),), 3.0, ("plates", "good")),
        ((("A2", None),), 6.0, ("plates", "good")),
        ((("A2", None),), 6.5, ("air", "good")),
        ((("D2", None),), 3.0, ("plates", "good")),
        ((("X46Cr13", None), ("440C", None)), 3.0, ("plates", "good")),
        ((("142WV13", None),), 3.0, ("fast oil", "works")),
        ((("60WCrV8", None),), 3.0, ("medium oil", "good")),
        ((("1084", 0.84), ("52100", 0.70)), 2.0, ("medium oil", "good")),
        ((("1084", 0.84), ("O1", 0.75)), 3.0, ("medium oil", "works")),
    ],
)  # fmt: skip
def test_the_bath_that_a_smith_would_take(
    steels: tuple[tuple[str, float | None], ...], thickness_mm: float, expected: tuple[str, str]
) -> None:
    found = plan(*steels, thickness_mm=thickness_mm, edge_mm=0.5)
    assert (found.medium, found.grade) == expected
    assert found.verdict == ("shared" if expected[1] == "good" else "compromise")


def test_a_core_that_stays_softer_is_told_with_both_depths_and_that_it_may_be_welcome() -> None:
    found = plan(("1095", 0.85), ("75Ni8", 0.75))
    assert [p.steel for p in found.pays] == ["1095"]
    assert "often welcome in a knife" in said(found.pays[0].how)
    assert found.pays[0].how.values["bevel_mm"] == pytest.approx(3.88, abs=0.05)
    near = plan(("1095", 0.85), edge_mm=2.0)
    assert near.grade == "works" and near.pays[0].how.code == "quench-edge-near"
    short = plan(("1095", 0.85), edge_mm=2.8)
    assert short.grade == "no" and short.pays[0].how.code == "quench-edge-short"


def test_a_slower_bath_spares_the_deep_layer_while_the_edge_is_sure() -> None:
    gentle = plan(("1084", 0.84), ("O1", 0.75), edge_mm=2.0)
    assert gentle.medium == "medium oil" and [p.steel for p in gentle.pays] == ["1084"]
    thick = plan(("1084", 0.84), ("O1", 0.75), edge_mm=2.3)
    assert thick.medium == "fast oil" and [p.steel for p in thick.pays] == ["O1"]
    assert "crack" in said(thick.pays[0].how)


def test_air_hardeners_in_fast_oil_are_likely_to_crack() -> None:
    found = plan(("1095", 0.85), ("D2", None), edge_mm=1.4)
    assert found.medium == "fast oil"
    assert {p.steel: p.how.values.get("likely") for p in found.pays}["D2"] is True


def test_no_layer_that_hardens_goes_into_water() -> None:
    for name, carbon in (("1045", 0.45), ("C45U", 0.28), ("1018", 0.30), ("C105U", 0.9)):
        for thickness_mm in (1.0, 3.0, 12.0):
            assert plan((name, carbon), thickness_mm=thickness_mm).medium == "fast oil"
    stands = {c: plan(("1045", c)).per_steel[0].fastest for c in (0.44, 0.46)}
    assert stands == {0.44: "water", 0.46: "fast oil"}


def test_plates_and_air_are_both_told() -> None:
    found = plan(("A2", None))
    assert (found.medium, found.also) == ("plates", ("air",))
    told = " ".join(said(r) for r in found.reasons)
    assert "still air" in told and "aluminium" in told


def test_without_a_window_each_steel_is_told_its_own() -> None:
    found = quench_plan([given("1084", 0.84), given("O1", 0.75)], PLATE, True, False)
    assert (found.verdict, found.medium, found.grade) == ("none", None, None)
    assert [s.slowest for s in found.per_steel] == ["fast oil", "slow oil"]
    assert {t.medium for t in found.by_thickness} == {None}
    assert quench_plan([], PLATE, True, True).reasons[0].code == "quench-nothing-hardens"


def test_a_layer_fades_by_a_decade_and_then_to_nothing() -> None:
    lost = decades_lost(np.array([1.0, 0.5, 0.05, 0.025, 0.0]))
    assert lost == pytest.approx([0.0, 0.5, 0.95, 0.975 + 1.5, 4.0])

    def place(weight: float) -> int:
        full, faint = given("90MnCrV8", 0.8), given("1095", 0.85, weight)
        asks = [layer_ask(i.layer, i.dissolved_wt, PLATE) for i in (full, faint)]
        return int(bar_quenches(asks, section(3.0, 1.4)).place[0])

    places = [place(w) for w in np.linspace(0.0, 1.0, 41)]
    assert places == sorted(places)
    assert (LADDER[places[0]], LADDER[places[-1]]) == ("slow oil", "fast oil")


def test_crack_index_and_section() -> None:
    rates, carbon = np.array([100.0, 31.62, 10.0, 1.0, 10.0, 10.0]), np.array([0.8, 0.8, 0.8, 0.8, 0.4, 0.55])
    assert crack_index(rates, carbon) == pytest.approx([0.0, 0.5, 1.0, 1.0, 0.3, 0.65], abs=0.001)
    assert [section_factor(t) for t in (0.3, 3.0, 8.0, 100.0)] == pytest.approx([0.85, 1.0, 1.1, 1.2])


def test_many_samples_give_what_each_gives_alone() -> None:
    contents = np.linspace(0.2, 1.5, 14)
    wt = swept({"C": 0.7, "Mn": 0.6, "Si": 0.25, "Ni": 0.08, "Mo": 0.02, "Cu": 0.1}, "Cr", contents)
    together = bar_quenches([layer_ask(samples("x", wt), wt, PLATE)], PLATE)
    for i in range(len(contents)):
        one = {e: v[i : i + 1] for e, v in wt.items()}
        alone = bar_quenches([layer_ask(samples("x", one), one, PLATE)], PLATE)
        assert (alone.place[0], alone.grade[0]) == (together.place[i], together.grade[i])


# one bath, one interval


PAIRS = [
    (("1084", 0.84), ("75Ni8", 0.75)), (("1095", 0.85), ("5160", 0.60)),
    (("1084", 0.84), ("52100", 0.65)),
    (("80CrV2", 0.70), ("75Ni8", 0.75)), (("1084", 0.84), ("45NiCrMo16", 0.46)),
    (("O1", 0.75), ("1084", 0.8)),
    (("90MnCrV8", 0.8), ("75Ni8", 0.75)), (("L6", 0.68), None), (("A2", None), None),
    (("45NiCrMo16", 0.45), None),
]  # fmt: skip


@pytest.mark.parametrize("pair", PAIRS, ids=str)
@pytest.mark.parametrize("edge_mm", [0.5, 1.5])
def test_no_bath_comes_back_as_the_blade_grows_thicker(
    pair: tuple[tuple[str, float | None] | None, ...], edge_mm: float
) -> None:
    names = []
    for thickness_mm in THICKNESSES_MM:
        at = section(float(thickness_mm), edge_mm)
        asks = [ask(*steel, at) for steel in pair if steel is not None]
        names.append(medium_name(int(bar_quenches(asks, at).place[0]), float(thickness_mm)))
    found = intervals(names)
    assert len(found) == len(set(found))


LEAN = {"C": 0.75, "Si": 0.25, "Mn": 0.5, "Cr": 0.08, "Ni": 0.08, "Mo": 0.02, "Cu": 0.10, "V": 0.0, "W": 0.0}


@pytest.mark.parametrize(
    ("element", "low_wt", "high_wt"),
    [("C", 0.3, 1.3), ("Mn", 0.1, 2.2), ("Cr", 0.0, 6.0), ("Ni", 0.0, 5.0), ("Mo", 0.0, 2.0), ("V", 0.0, 0.6),
     ("W", 0.0, 4.0), ("Si", 0.0, 2.5)],
)  # fmt: skip
@pytest.mark.parametrize("thickness_mm", [1.2, 2.0, 3.0, 5.0, 8.0])
@pytest.mark.parametrize("partner", [None, "1084"])
@pytest.mark.parametrize("estimated", [False, True])
def test_no_bath_comes_back_as_an_element_grows(
    element: str, low_wt: float, high_wt: float, thickness_mm: float, partner: str | None, estimated: bool
) -> None:
    contents = np.linspace(low_wt, high_wt, 401)
    wt, at = swept(LEAN, element, contents), section(thickness_mm)
    asks: list[LayerAsk] = [layer_ask(samples("x", wt), None if estimated else wt, at)]
    if partner is not None:
        other = {e: np.full(401, v) for e, v in whole(partner).items()}
        asks.append(layer_ask(samples(partner, other), other, at))
    found = intervals([LADDER[i] for i in bar_quenches(asks, at).place])
    assert len(found) == len(set(found))


@pytest.mark.parametrize(
    ("name", "element", "contents_wt"),
    [("115W8", "W", np.linspace(1.94, 2.06, 7)), ("9260", "Si", np.linspace(1.6, 2.2, 7)),
     ("80CrV2", "V", np.linspace(0.0, 0.3, 7)), ("60WCrV8", "W", np.linspace(1.7, 2.0, 7))],
)  # fmt: skip
def test_a_grade_keeps_its_bath_inside_its_limits(name: str, element: str, contents_wt: list[float]) -> None:
    """From what is dissolved where that is computed, from the whole analysis beyond."""
    baths = set()
    for content in contents_wt:
        wt = whole(name) | {element: float(content)}
        heavy = sum(wt.get(e, 0.0) for e in ("W", "Mo", "V"))
        state = austenitised_state(Composition(wt), 815.0 if name != "60WCrV8" else 900.0)
        arrays = {e: np.array([v]) for e, v in wt.items()}
        dissolved = None
        if heavy <= 2.0:
            assert state.after_soak is not None
            dissolved = {e: np.array([v]) for e, v in state.after_soak.austenite.wt.items()}
            dissolved |= {"Cu": arrays["Cu"]}
        place = bar_quenches([layer_ask(samples(name, arrays), dissolved, PLATE)], PLATE).place
        baths.add(LADDER[int(place[0])])
    assert len(baths) == 1


# own oils


HRC = Estimate(65.0, 63.0, 66.5)


def test_own_oils_get_grade_depth_and_hardness_at_edge_and_spine() -> None:
    oils = (
        OwnOil("tank 1", "medium oil", None), OwnOil("tank 2", None, 9.0),
        OwnOil("rape", "vegetable oil", None),
        OwnOil("drain", "engine oil", None),
    )  # fmt: skip
    asks = [ask("1084", 0.84)]
    found = {o.name: oil_by_bar(o, asks, PLATE, {"1084": HRC}) for o in oils}
    assert [found[n].grade for n in ("tank 1", "tank 2", "rape", "drain")] == [1, 2, 1, 0]
    assert found["tank 2"].medium == "fast oil"
    assert found["tank 1"].hardens_to_mm == pytest.approx(2.18, abs=0.04)
    edge, spine = found["tank 1"].edge_hrc["1084"], found["tank 1"].spine_hrc["1084"]
    assert edge is not None and spine is not None
    assert (edge.value, edge.low) == (pytest.approx(65.0), pytest.approx(63.0))
    assert spine.value == pytest.approx(65.0, abs=1.0) and spine.low == pytest.approx(51.0, abs=0.5)
    assert found["drain"].hardens_to_mm is None and "never engine oil" in said(found["drain"].because[0])


def test_an_oil_too_fast_for_a_layer_is_told_so() -> None:
    found = oil_by_bar(OwnOil("quick", None, 8.0), [ask("O1", 0.75)], PLATE, {})
    assert [r.code for r in found.because] == ["quench-oil-good", "quench-oil-too-fast"]
    assert found.edge_hrc == {"O1": None}


def test_martensite_between_the_two_published_rates() -> None:
    crit = np.full(4, 35.0 * 4.0**0.95)
    assert martensite_share(np.array([30.0, 35.0, 70.0, 150.0]), crit) == pytest.approx([0.0, 0.0, 0.5, 1.0])


def test_a_core_of_fine_pearlite_is_told_as_such() -> None:
    """1095 at 6 mm in slow oil: all pearlite, 40 HRC with 4 either way; with 0.3 % carbon half of it."""
    core = hrc_at(ask("1095", 0.85), class_bath("slow oil"), 6.0, HRC)
    assert core is not None and (core.value, core.low) == (pytest.approx(40.0), pytest.approx(36.0))
    lean = hrc_at(ask("1018", 0.30), class_bath("slow oil"), 6.0, Estimate(50.0, 48.0, 52.0))
    assert lean is not None and lean.value == pytest.approx(20.0)
    assert hrc_at(ask("1095", 0.85), class_bath("slow oil"), 6.0, None) is None


def test_a_slower_oil_is_named_only_where_one_is_slower() -> None:
    (deep,) = each_alone([ask("O1", 0.7)], PLATE)
    told = {m: slower_by_rate(deep.grades, m) for m in ("fast oil", "medium oil", "slow oil", "air")}
    assert told == {"fast oil": "slow oil", "medium oil": "slow oil", "slow oil": None, "air": None}
