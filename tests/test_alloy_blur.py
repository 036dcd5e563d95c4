"""Spreading of the alloy over the seams, against the closed series."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.errors import OutOfDomain
from billet.formulas.alloy_blur import blurred_centres, difference_left, finest_layer_um
from billet.formulas.laminate import centre_amplitude, laminate_content


@pytest.mark.parametrize("tau", [0.01, 0.0947, 0.2578, 0.4911])
def test_equal_layers_follow_the_series(tau):
    # A stack of equal layers whose outer layers are half as thick is an endless laminate to its faces.
    layers, d = 21, 50.0
    thickness = np.full(layers, d)
    thickness[[0, -1]] = d / 2
    content = np.where(np.arange(layers) % 2 == 0, 2.0, 0.0)
    sigma = np.full(layers - 1, d * np.sqrt(2 * tau))
    centres = blurred_centres(thickness, content, sigma)
    assert np.abs(np.diff(centres[1:-1])) == pytest.approx(2.0 * centre_amplitude(tau), abs=2e-4)


def test_unequal_layers_follow_the_series():
    thickness = np.array([100.0, 600.0, 200.0, 600.0, 200.0, 600.0, 100.0])
    content = np.array([1.0, 0.1, 1.0, 0.1, 1.0, 0.1, 1.0])
    sigma = np.full(6, np.sqrt(2 * 5e-11 * 120.0) * 1e6)
    centres = blurred_centres(thickness, content, sigma)
    exact = [laminate_content(1.0, 0.1, 0.25, 400.0, x, 5e-11, 120.0) for x in (0.0, 400.0)]
    assert centres[2:4] == pytest.approx(exact, abs=1e-4)


@given(st.lists(st.floats(1.0, 80.0), min_size=2, max_size=30), st.floats(0.0, 60.0))
def test_blur_stays_between_the_contents(thickness, sigma):
    content = np.where(np.arange(len(thickness)) % 2 == 0, 2.0, 0.1)
    centres = blurred_centres(np.array(thickness), content, np.full(len(thickness) - 1, sigma))
    assert np.all(centres < 2.0 + 0.02)
    assert np.all(centres > 0.1 - 0.02)


def test_sharp_seams_leave_everything():
    start, now, left = difference_left(np.array([10.0, 20.0]), np.array([2.0, 0.0]), np.array([0.0]))
    assert (start, now, left) == (2.0, 2.0, 1.0)


def test_finest_layer_keeps_just_the_share():
    d = finest_layer_um(2.4, 0.3)
    assert centre_amplitude(2.4**2 / (2 * d**2)) == pytest.approx(0.3, abs=1e-6)


def test_published_blur_of_nickel_after_an_hour():
    # Layers in which nickel's difference falls to a half in 1 h: 5.1 um at 1100 C, 11.8 um at 1200 C;
    # computed from the published diffusivity and the series.
    from billet.formulas.diffusion import substitutional_diffusivity_m2_s

    for temperature_c, wanted in ((1100.0, 5.1), (1200.0, 11.8)):
        sigma = 1e6 * np.sqrt(2 * substitutional_diffusivity_m2_s("Ni", temperature_c) * 3600)
        assert finest_layer_um(float(sigma), 0.5) == pytest.approx(wanted, abs=0.06)


def test_refuses_seams_that_do_not_fit():
    with pytest.raises(OutOfDomain):
        blurred_centres(np.ones(3), np.ones(3), np.ones(3))
