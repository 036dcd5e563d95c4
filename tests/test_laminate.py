"""The closed series: limits, symmetry, agreement with each other."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.errors import OutOfDomain
from billet.formulas import laminate


@given(tau=st.floats(2e-4, 2.0))
def test_centres_of_the_general_series_give_the_amplitude_of_equal_layers(tau):
    time_s = tau * (100e-6) ** 2 / 1e-10
    at_a, at_b = (laminate.laminate_content(1.0, 0.0, 0.5, 100.0, x, 1e-10, time_s) for x in (0.0, 100.0))
    assert at_a - at_b == pytest.approx(laminate.centre_amplitude(tau), abs=1e-9)


@given(share=st.floats(0.001, 0.999))
def test_tau_and_amplitude_are_inverse(share):
    tau = laminate.tau_for_amplitude(share)
    assert laminate.centre_amplitude(tau) == pytest.approx(share, abs=1e-9)


def test_short_times_join_the_series_without_a_step():
    below, above = laminate.mean_contrast(0.000999999), laminate.mean_contrast(0.001000001)
    assert below == pytest.approx(above, abs=1e-6)
    assert laminate.centre_amplitude(0.0) == 1.0
    assert laminate.centre_amplitude(1.01e-4) == pytest.approx(1.0, abs=1e-9)


def test_contrast_only_falls():
    for series in (laminate.centre_amplitude, laminate.mean_contrast):
        values = [series(k / 100) for k in range(0, 200)]
        assert values == sorted(values, reverse=True)
        assert values[0] == 1.0
        assert values[-1] < 1e-8


def test_mean_of_the_laminate_is_kept():
    positions = [(k + 0.5) * 4.0 for k in range(100)]
    contents = [laminate.laminate_content(1.0, 0.1, 0.25, 400.0, x, 5e-11, 120.0) for x in positions]
    assert sum(contents) / 100 == pytest.approx(0.25 * 1.0 + 0.75 * 0.1, abs=1e-4)


def test_scaling_without_recession_is_the_held_surface():
    depth = laminate.held_surface_depth_um(0.7, 1e-10, 900.0)
    assert laminate.scaling_surface_content(0.8, 0.0, depth, 0.0, 1e-10, 900.0) == pytest.approx(0.56)


def test_hour_needed_gives_the_content_wanted():
    hours = laminate.held_surface_time_h(0.2, 1.0, 0.6, 0.75, 1e-11)
    reach = 2 * math.sqrt(1e-11 * hours * 3600)
    assert 1.0 - 0.8 * math.erf(0.75e-3 / reach) == pytest.approx(0.6, abs=1e-6)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.2, math.nan])
def test_refuses_shares_that_cannot_exist(share):
    with pytest.raises(OutOfDomain):
        laminate.tau_for_amplitude(share)
    with pytest.raises(OutOfDomain):
        laminate.laminate_content(1.0, 0.0, share, 100.0, 0.0, 1e-10, 1.0)
    with pytest.raises(OutOfDomain):
        laminate.held_surface_depth_um(share, 1e-10, 1.0)


def test_refuses_negative_time():
    with pytest.raises(OutOfDomain):
        laminate.centre_amplitude(-0.1)
    with pytest.raises(OutOfDomain):
        laminate.mean_contrast(-0.1)
