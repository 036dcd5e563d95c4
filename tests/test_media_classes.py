"""The class curves of the media against the probe by which oils are classed.

The probe is a cylinder of 12.5 mm in a nickel-chromium alloy, cooled from 850 C. Its properties here
and the bands of the classes are from memory; the test shows that one curve serves ball and probe.
"""

import numpy as np
import pytest
from numpy.typing import NDArray

from billet.tables.media import Medium, media

ALLOY_DENSITY_KG_M3 = 8420.0
RADIUS_M = 0.00625
CELLS = 14
CLASSED = [m for m in media() if m.probe_largest_rate_k_s is not None]


def probe_curve(medium: Medium) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Seconds and centre temperature of the probe, explicit rings, down to 400 C."""
    width_m = RADIUS_M / CELLS
    edges_m = np.linspace(0.0, RADIUS_M, CELLS + 1)
    rings = (edges_m[1:] ** 2 - edges_m[:-1] ** 2) / 2.0
    nodes = np.array(medium.film)
    t = np.full(CELLS, 850.0)
    step_s = 0.2 * width_m**2 / 6e-6
    seconds, middle_c = [0.0], [850.0]
    while t[0] > 400.0:
        conductivity, heat = 12.4 + 0.0164 * t, 430.0 + 0.2 * t
        inside = 2.0 * conductivity[-1] / width_m
        face_c = t[-1]
        for _ in range(4):
            film = np.interp(face_c, nodes[:, 0], nodes[:, 1])
            face_c = (inside * t[-1] + film * medium.film_bath_c) / (inside + film)
        between = 0.5 * (conductivity[1:] + conductivity[:-1]) * np.diff(t) / width_m * edges_m[1:-1]
        gained = np.zeros(CELLS)
        gained[:-1] += between
        gained[1:] -= between
        gained[-1] -= film * (face_c - medium.film_bath_c) * RADIUS_M
        t = t + step_s * gained / (ALLOY_DENSITY_KG_M3 * heat * rings)
        seconds.append(seconds[-1] + step_s)
        middle_c.append(float(t[0]))
    return np.array(seconds), np.array(middle_c)


@pytest.mark.parametrize("medium", CLASSED, ids=lambda m: m.name)
def test_class_curve_gives_the_largest_rate_of_its_class(medium: Medium) -> None:
    seconds, middle_c = probe_curve(medium)
    largest_k_s = float((-np.gradient(middle_c, seconds)).max())
    assert medium.probe_largest_rate_k_s is not None
    low, high = medium.probe_largest_rate_k_s
    assert low <= largest_k_s <= high


def test_all_liquids_are_classed() -> None:
    assert [m.name for m in CLASSED] == [m.name for m in media()][:7]
