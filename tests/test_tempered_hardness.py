"""Tempered hardness on arrays: smooth in everything, never above as quenched, blind to names."""

import itertools

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from billet.formulas.tempering import martensite_hv, one_hour_temperature_c, tempered_martensite_hv
from billet.hardening.temper_range import temper_limits
from billet.hardening.tempered_hardness import band_hrc, is_told, near_curves, tempered_hrc
from billet.tables.steels import find_steel
from billet.tables.tempering import temper_curves, temper_numbers

TWICE_TWO_HOURS = 240.0
CARBON = st.floats(0.35, 1.2)
TEMPERATURE = st.floats(100.0, 370.0)


def analysis(**wt: float) -> dict[str, np.ndarray]:
    return {element: np.array([value]) for element, value in wt.items()}


def of(name: str) -> dict[str, np.ndarray]:
    return analysis(**find_steel(name).nominal.wt)


def hrc(wt: dict[str, np.ndarray], quenched: float, temperature_c: float, minutes: float = 60.0) -> float:
    return float(tempered_hrc(wt, np.array([quenched]), temperature_c, minutes)[0])


def test_twice_two_hours_at_200_is_one_hour_at_214() -> None:
    assert float(one_hour_temperature_c(200.0, TWICE_TWO_HOURS)) == pytest.approx(214.24, abs=0.01)
    wt = of("1095")
    assert hrc(wt, 65.0, 200.0, TWICE_TWO_HOURS) == pytest.approx(hrc(wt, 65.0, 214.2431), abs=1e-4)


def test_a_layer_thinned_to_054_tempers_like_a_steel_of_054() -> None:
    thinned = of("1095") | analysis(C=0.54)
    own = analysis(C=0.54, Si=0.22, Mn=0.4)
    for temperature_c in (150.0, 200.0, 260.0):
        assert hrc(thinned, 62.7, temperature_c) == hrc(own, 62.7, temperature_c)
    assert hrc(thinned, 62.7, 200.0, TWICE_TWO_HOURS) < hrc(of("1095"), 64.0, 200.0, TWICE_TWO_HOURS) - 3.0


def test_5160_stays_harder_than_plain_steel_of_its_carbon_when_hot() -> None:
    plain = analysis(C=0.6, Si=0.22, Mn=0.75)
    assert hrc(of("5160"), 63.0, 300.0) > hrc(plain, 63.0, 300.0) + 1.0


@given(CARBON, TEMPERATURE, st.floats(20.0, 900.0), st.floats(40.0, 66.0))
def test_never_harder_than_as_quenched(c: float, t: float, minutes: float, quenched: float) -> None:
    assert hrc(analysis(C=c, Mn=0.6), quenched, t, minutes) <= quenched


@given(CARBON, st.floats(0.0, 2.0), st.floats(0.0, 1.6), TEMPERATURE)
@example(0.375, 2.0, 1.5, 260.0)
def test_bare_model_falls_with_temperature_and_never_jumps(c: float, si: float, cr: float, t: float) -> None:
    wt = analysis(C=c, Si=si, Cr=cr, Mn=0.5)
    here, hotter = (float(tempered_martensite_hv(wt, x)[0]) for x in (t, t + 1.0))
    assert hotter <= here + 1e-9
    assert here - hotter < 8.0
    assert here <= float(martensite_hv(wt["C"])[0]) + 1e-9


NEAR = [
    dict(C=0.84, Si=0.22, Mn=0.75),
    dict(C=1.0, Si=0.25, Mn=0.35, Cr=1.45),
    dict(C=0.75, Si=0.25, Mn=0.4, Ni=1.95),
    dict(C=0.6, Si=0.85, Mn=0.3, Cr=1.05, V=0.15, W=1.95),
    dict(C=0.31, Si=0.5, Mn=0.5, Cr=13.0),
    dict(C=1.0, Si=0.3, Mn=0.7, Cr=4.2, Mo=1.1),
]


@pytest.mark.parametrize("base", NEAR, ids=lambda wt: " ".join(f"{k}{v}" for k, v in wt.items()))
@pytest.mark.parametrize("element", ["C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W"])
def test_a_hundredth_of_an_element_moves_it_little(base: dict[str, float], element: str) -> None:
    """A step of one hundredth from nought upward: no line is crossed where the answer jumps."""
    size = {"C": 0.01, "V": 0.01, "Mo": 0.02, "W": 0.02}.get(element, 0.05)
    values = [base.get(element, 0.0) + size * step for step in range(40)]
    answers = [hrc(analysis(**{**base, element: value}), 66.0, 200.0) for value in values]
    assert max(abs(b - a) for a, b in itertools.pairwise(answers)) < 0.65


def test_many_bars_are_as_many_single_ones() -> None:
    carbon, quenched = np.linspace(0.5, 1.0, 7), np.linspace(60.0, 65.0, 7)
    together = tempered_hrc({"C": carbon, "Mn": np.full(7, 0.5)}, quenched, np.linspace(150, 300, 7), 240.0)
    for place in range(7):
        single = analysis(C=float(carbon[place]), Mn=0.5)
        alone = hrc(single, float(quenched[place]), float(np.linspace(150, 300, 7)[place]), 240.0)
        assert together[place] == pytest.approx(alone, abs=1e-12)


def test_every_low_alloy_steel_is_told_and_a_lone_high_alloy_one_is_not() -> None:
    for name in ("1045", "1084", "5160", "9260", "51CrV4", "75Ni8", "80CrV2", "52100", "O1", "L6", "115CrV3"):
        assert bool(is_told(of(name))[0]), name
    for name in ("420", "440A", "440B", "440C", "D2", "A2"):
        assert bool(is_told(of(name))[0]), name
    assert not bool(is_told(analysis(C=0.85, W=6.3, Mo=5.0, V=1.9, Cr=4.2))[0])


def test_band_is_wider_where_nothing_is_printed() -> None:
    assert float(band_hrc(of("W2"))[0]) == pytest.approx(1.65, abs=0.05)
    assert 2.3 < float(band_hrc(of("51CrV4"))[0]) <= 3.5
    assert temper_numbers("band") == {"near_hrc": 1.6, "far_hrc": 3.5, "basis": "own"}


def test_which_curves_count_goes_by_analysis() -> None:
    assert {c.name for c in near_curves({"C": 1.0, "Si": 0.25, "Mn": 0.35, "Cr": 1.45})} == {"100Cr6"}
    assert "1075" in {c.name for c in near_curves(find_steel("75Ni8").nominal.wt)}
    assert {c.name for c in near_curves({"C": 0.51, "Cr": 1.05, "V": 0.18, "Mn": 0.9, "Si": 0.25})} == {
        "6145"
    }
    assert near_curves({"C": 0.6, "Cr": 1.1, "V": 0.15, "W": 2.0, "Mn": 0.3, "Si": 0.9}) == ()


def test_no_curve_falls_out_of_order() -> None:
    for curve in temper_curves():
        assert [t for t, _ in curve.points] == sorted({t for t, _ in curve.points})
        assert [h for _, h in curve.points] == sorted((h for _, h in curve.points), reverse=True)
        assert curve.quenched_hrc is None or curve.points[0][1] <= curve.quenched_hrc


@pytest.mark.parametrize(
    ("name", "top_c", "brittle_c"),
    [
        ("1084", 230.0, (230.0, 370.0)),
        ("9260", 298.0, (298.0, 438.0)),
        ("440C", 370.0, (425.0, 565.0)),
        ("O1", 260.0, (260.0, 370.0)),
        ("100Cr6", 300.0, (300.0, 370.0)),
    ],
)
def test_where_it_may_be_tempered(name: str, top_c: float, brittle_c: tuple[float, float]) -> None:
    limits = temper_limits(of(name))
    assert float(limits.top_c[0]) == pytest.approx(top_c, abs=3.0)
    assert float(limits.brittle_low_c[0]) == pytest.approx(brittle_c[0], abs=3.0)
    assert float(limits.brittle_high_c[0]) == pytest.approx(brittle_c[1], abs=3.0)


def test_silicon_moves_the_brittle_range_as_a_ramp() -> None:
    tops = [
        float(temper_limits(analysis(C=0.6, Si=si, Mn=0.8)).top_c[0]) for si in (0.3, 0.31, 0.8, 1.3, 2.3)
    ]
    assert tops == pytest.approx([230.0, 230.4, 250.0, 270.0, 310.0], abs=0.5)
