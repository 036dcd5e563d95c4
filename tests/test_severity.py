"""From the ideal diameter to a real one: known limits, and the series against another library."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize, special

from billet.errors import OutOfDomain
from billet.formulas import severity

SIZES = st.floats(0.3, 6.0)
SEVERITIES = st.floats(0.05, 5.0)


def test_bessel_functions_agree_with_another_library() -> None:
    x = np.linspace(0.0, 11.9, 200)
    j0, j1 = severity._bessel_j0_j1(x)
    assert np.max(np.abs(j0 - special.j0(x))) < 1e-12
    assert np.max(np.abs(j1 - special.j1(x))) < 1e-12


@pytest.mark.parametrize("biot", [0.01, 0.3, 1.0, 7.0, 300.0])
def test_half_time_of_the_cylinder_agrees_with_twelve_modes_of_another_solver(biot: float) -> None:
    zeros0, zeros1 = special.jn_zeros(0, 12), np.concatenate([[0.0], special.jn_zeros(1, 11)])
    roots = np.array(
        [
            optimize.brentq(lambda x: x * special.j1(x) - biot * special.j0(x), low + 1e-12, high, xtol=1e-14)
            for low, high in zip(zeros1, zeros0, strict=True)
        ]
    )
    amplitude = 2.0 * special.j1(roots) / (roots * (special.j0(roots) ** 2 + special.j1(roots) ** 2))
    centre = float(np.sum(amplitude * np.exp(-(roots**2) * severity.half_fourier_cylinder(biot))))
    assert centre == pytest.approx(0.5, abs=1e-7)


@pytest.mark.parametrize("biot", [0.01, 0.3, 1.0, 7.0, 300.0])
def test_half_time_of_the_plate_agrees_with_twelve_modes_of_another_solver(biot: float) -> None:
    starts = math.pi * np.arange(12.0)
    roots = np.array(
        [
            optimize.brentq(lambda x: x * math.sin(x) - biot * math.cos(x), a + 1e-12, a + math.pi / 2)
            for a in starts
        ]
    )
    amplitude = 4.0 * np.sin(roots) / (2.0 * roots + np.sin(2.0 * roots))
    middle = float(np.sum(amplitude * np.exp(-(roots**2) * severity.half_fourier_plate(biot))))
    assert middle == pytest.approx(0.5, abs=1e-7)


def test_a_slow_bath_cools_a_piece_as_a_whole() -> None:
    """Without a gradient inside, the half time is ln 2 over the rate: Fo Bi = ln 2 / 2 and ln 2."""
    assert severity.half_fourier_cylinder(1e-5) * 1e-5 == pytest.approx(math.log(2.0) / 2.0, rel=1e-4)
    assert severity.half_fourier_plate(1e-5) * 1e-5 == pytest.approx(math.log(2.0), rel=1e-4)


@given(SIZES)
def test_an_endless_severity_gives_the_ideal_diameter_back(ideal: float) -> None:
    assert severity.critical_diameter_in(ideal, 1e6) == pytest.approx(ideal, rel=1e-4)


@given(SIZES, SEVERITIES)
def test_a_real_bath_hardens_less_and_a_faster_one_more(ideal: float, bath: float) -> None:
    size = severity.critical_diameter_in(ideal, bath)
    assert 0.0 < size < ideal
    assert severity.critical_diameter_in(ideal, bath * 1.1) > size
    assert severity.critical_diameter_in(ideal * 1.1, bath) > size


@given(SIZES, SEVERITIES)
def test_a_plate_hardens_through_at_between_half_and_three_quarters_of_the_bar(
    ideal: float, bath: float
) -> None:
    """A plate has half the surface a bar has for its volume, and in the ideal bath 0.728 of the bar."""
    ratio = severity.critical_plate_thickness_in(ideal, bath) / severity.critical_diameter_in(ideal, bath)
    assert 0.499 < ratio < 0.729


@given(SIZES, SEVERITIES)
def test_solution_fulfils_the_criterion(ideal: float, bath: float) -> None:
    target = severity.half_fourier_cylinder(1e9) * ideal**2
    bar = severity.critical_diameter_in(ideal, bath)
    plate = severity.critical_plate_thickness_in(ideal, bath)
    assert severity.half_fourier_cylinder(bath * bar) * bar**2 == pytest.approx(target, rel=1e-5)
    assert severity.half_fourier_plate(bath * plate) * plate**2 == pytest.approx(target, rel=1e-5)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_refuses_what_cannot_exist(bad: float) -> None:
    for solve in (severity.critical_diameter_in, severity.critical_plate_thickness_in):
        with pytest.raises(OutOfDomain):
            solve(bad, 1.0)
        with pytest.raises(OutOfDomain):
            solve(1.0, bad)
    for call in (severity.half_fourier_cylinder, severity.half_fourier_plate):
        with pytest.raises(OutOfDomain):
            call(bad)
    with pytest.raises(OutOfDomain):
        severity.severity_to_coefficient_w_m2_k(bad)
    with pytest.raises(OutOfDomain):
        severity.severity_to_coefficient_w_m2_k(1.0, bad)
