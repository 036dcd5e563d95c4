"""The model of Li: its integral, its C-curves, and critical rates against a cooling stepped in time."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import transformation
from billet.formulas.critical import ae1_andrews_c, ae3_andrews_c
from billet.formulas.martensite import ms_kung_rayment_andrews_c
from billet.published import outside_fit

CHROMIUM_MOLYBDENUM = Composition({"C": 0.38, "Mn": 0.81, "Si": 0.28, "Ni": 0.11, "Cr": 0.98, "Mo": 0.22})
EUTECTOID = Composition({"C": 0.80, "Mn": 0.75, "Si": 0.20})


def critical(steel: Composition, grain: float = 8.0) -> transformation.CriticalRate:
    ae3_c, ae1_c = ae3_andrews_c(steel), ae1_andrews_c(steel)
    return transformation.critical_cooling_rate_k_s(steel, grain, ae3_c, ae1_c)


@pytest.mark.parametrize("fraction", [1e-4, 0.01, 0.2, 0.5, 0.6, 0.9, 0.999])
def test_reaction_integral_agrees_with_adaptive_quadrature(fraction: float) -> None:
    def integrand(x: float) -> float:
        return float(1.0 / (x ** (0.4 * (1.0 - x)) * (1.0 - x) ** (0.4 * x)))

    by_other_means = integrate.quad(integrand, 0.0, fraction, limit=200)[0]
    assert transformation.reaction_integral(fraction) == pytest.approx(by_other_means, rel=1e-6)


def test_reaction_integral_has_its_ends_and_the_ratio_of_the_paper_within_two_per_cent() -> None:
    assert transformation.reaction_integral(0.0) == 0.0
    ratio = transformation.reaction_integral(1.0) / transformation.reaction_integral(0.01)
    assert ratio == pytest.approx(19.66, abs=0.005)
    assert ratio == pytest.approx(19.9, rel=0.02)


@given(st.floats(0.0, 0.99))
def test_reaction_integral_rises(fraction: float) -> None:
    step = transformation.reaction_integral(fraction + 0.01) - transformation.reaction_integral(fraction)
    assert step > 0.0


def test_each_product_has_a_nose_below_its_limit() -> None:
    for kind, limit_c in (("ferrite", 780.0), ("pearlite", 735.0), ("bainite", 546.0)):
        temperatures = np.linspace(limit_c - 300.0, limit_c - 1.0, 200)
        times = [
            transformation.start_time_s(kind, CHROMIUM_MOLYBDENUM, float(t), 8.0, limit_c=limit_c)
            for t in temperatures
        ]
        nose = int(np.argmin(times))
        assert 0 < nose < 199
        assert times[-1] > 100.0 * times[nose]


def test_nothing_forms_at_or_above_the_limit() -> None:
    for temperature_c in (735.0, 900.0):
        time = transformation.start_time_s("pearlite", CHROMIUM_MOLYBDENUM, temperature_c, 8.0, limit_c=735.0)
        assert math.isinf(time)


def test_more_of_the_product_takes_longer_and_a_coarser_grain_too() -> None:
    def time(grain: float, fraction: float) -> float:
        return transformation.start_time_s("pearlite", EUTECTOID, 550.0, grain, fraction, limit_c=721.0)

    assert time(8.0, 0.01) < time(8.0, 0.5) < time(8.0, 0.99)
    assert time(5.0, 0.01) == pytest.approx(time(8.0, 0.01) * 2.0 ** (0.32 * 3.0), rel=1e-12)


def test_curve_for_the_picture_is_the_same_as_the_single_times() -> None:
    temperatures = np.array([450.0, 600.0, 700.0])
    curve = transformation.start_curve(CHROMIUM_MOLYBDENUM, 8.0, temperatures, ae3_c=780.0, ae1_c=735.0)
    bs_c = transformation.bainite_start_li_c(CHROMIUM_MOLYBDENUM)
    limits = {"ferrite": 780.0, "pearlite": 735.0, "bainite": bs_c}
    for kind, limit_c in limits.items():
        singles = [
            transformation.start_time_s(kind, CHROMIUM_MOLYBDENUM, float(t), 8.0, limit_c=limit_c)
            for t in temperatures
        ]
        assert list(getattr(curve, f"{kind}_s")) == pytest.approx(singles, rel=1e-12)


def test_curve_leaves_ferrite_out_where_the_steel_has_none() -> None:
    curve = transformation.start_curve(EUTECTOID, 8.0, np.array([600.0, 690.0]), ae3_c=715.0, ae1_c=721.0)
    assert np.all(np.isinf(curve.ferrite_s))
    assert np.all(np.isfinite(curve.pearlite_s))


def spent(steel: Composition, kind: str, rate_k_s: float, limit_c: float, end_c: float) -> float:
    """Share of the start time used up in a cooling stepped by 0.05 K."""
    temperatures = np.arange(limit_c - 0.025, end_c, -0.05)
    times = [
        transformation.start_time_s(kind, steel, float(t), 8.0, limit_c=limit_c)  # type: ignore[arg-type]
        for t in temperatures
    ]
    return float(np.sum(0.05 / rate_k_s / np.array(times)))


def test_critical_rate_uses_the_start_time_up_exactly() -> None:
    rates = critical(CHROMIUM_MOLYBDENUM)
    bs_c = transformation.bainite_start_li_c(CHROMIUM_MOLYBDENUM)
    ms_c = ms_kung_rayment_andrews_c(CHROMIUM_MOLYBDENUM)
    ae1_c, ae3_c = ae1_andrews_c(CHROMIUM_MOLYBDENUM), ae3_andrews_c(CHROMIUM_MOLYBDENUM)
    for kind, rate, limit_c, end_c in (
        ("ferrite", rates.ferrite_k_s, ae3_c, bs_c),
        ("pearlite", rates.pearlite_k_s, ae1_c, bs_c),
        ("bainite", rates.bainite_k_s, bs_c, ms_c),
    ):
        assert spent(CHROMIUM_MOLYBDENUM, kind, rate, limit_c, end_c) == pytest.approx(1.0, rel=1e-3)


def test_the_product_that_limits_is_named() -> None:
    alloyed = critical(CHROMIUM_MOLYBDENUM)
    assert (alloyed.product, alloyed.rate_k_s) == ("bainite", alloyed.bainite_k_s)
    plain = critical(EUTECTOID)
    assert (plain.product, plain.rate_k_s) == ("pearlite", plain.pearlite_k_s)
    assert plain.ferrite_k_s == 0.0
    assert plain.high_k_s > plain.rate_k_s


@given(st.sampled_from(["Mn", "Ni", "Cr"]), st.floats(0.05, 0.5))
def test_alloy_slows_everything(element: str, more: float) -> None:
    base = {"C": 0.6, "Mn": 0.6, "Si": 0.25, "Cr": 0.3, "Ni": 0.2}
    fixed = {"grain": 8.0, "ae3_c": 760.0, "ae1_c": 725.0, "bs_c": 550.0, "ms_c": 280.0}
    less = transformation.critical_cooling_rate_k_s(Composition(base), **fixed)
    alloyed = Composition({**base, element: base[element] + more})
    slowed = transformation.critical_cooling_rate_k_s(alloyed, **fixed)
    assert slowed.ferrite_k_s < less.ferrite_k_s
    assert slowed.pearlite_k_s < less.pearlite_k_s
    assert slowed.bainite_k_s < less.bainite_k_s


def test_a_finer_grain_asks_for_faster_cooling() -> None:
    assert critical(EUTECTOID, 10.0).rate_k_s == pytest.approx(
        critical(EUTECTOID, 7.0).rate_k_s * 2.0 ** (0.32 * 3.0), rel=1e-9
    )


def test_a_steel_without_room_for_bainite_has_no_rate_for_it() -> None:
    rates = transformation.critical_cooling_rate_k_s(EUTECTOID, 8.0, 715.0, 721.0, bs_c=300.0, ms_c=320.0)
    assert rates.bainite_k_s == 0.0


def test_martensite_that_never_begins_leaves_bainite_the_whole_range() -> None:
    def rate(ms_c: float) -> float:
        return transformation.critical_cooling_rate_k_s(EUTECTOID, 8.0, 715.0, 721.0, ms_c=ms_c).bainite_k_s

    assert rate(-500.0) == rate(-272.15) > rate(200.0)


def test_refuses_what_cannot_exist() -> None:
    with pytest.raises(OutOfDomain, match="fraction"):
        transformation.reaction_integral(1.1)
    with pytest.raises(OutOfDomain, match="kind"):
        transformation.start_time_s("cementite", EUTECTOID, 600.0, 8.0, limit_c=721.0)  # type: ignore[arg-type]
    with pytest.raises(OutOfDomain):
        transformation.start_time_s("pearlite", EUTECTOID, -300.0, 8.0, limit_c=721.0)
    with pytest.raises(OutOfDomain):
        transformation.start_time_s("pearlite", EUTECTOID, 600.0, math.nan, limit_c=721.0)
    for bad in (
        {"grain": math.nan},
        {"ae3_c": math.inf},
        {"ae1_c": math.nan},
        {"bs_c": -400.0},
        {"ms_c": math.nan},
    ):
        with pytest.raises(OutOfDomain):
            arguments = {"grain": 8.0, "ae3_c": 715.0, "ae1_c": 721.0, **bad}
            transformation.critical_cooling_rate_k_s(EUTECTOID, **arguments)


def test_says_when_carbon_lies_outside_what_was_validated() -> None:
    found = outside_fit(transformation.critical_cooling_rate_k_s, EUTECTOID.wt)
    assert [(f.name, f.low, f.high) for f in found] == [("C", 0.20, 0.41)]
