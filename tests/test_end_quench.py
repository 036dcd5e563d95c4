"""The end-quench curve: falls from the end, rises with the ideal diameter, never runs away."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.errors import OutOfDomain
from billet.formulas import end_quench
from billet.formulas.hardenability import initial_hardness_hrc
from billet.published import outside_fit

STATIONS = list(end_quench.DIVISOR)


@given(st.floats(25.4, 150.0))
def test_hardness_falls_along_the_bar(ideal_mm: float) -> None:
    """Two polynomials cross by a hundredth or so where both are near 1."""
    factors = [end_quench.dividing_factor(d, ideal_mm) for d in STATIONS]
    assert all(later > earlier - 0.03 for earlier, later in pairwise(factors))
    assert factors[-1] > factors[0]


@given(st.sampled_from(STATIONS), st.floats(25.4, 150.0))
def test_deeper_hardening_steel_is_harder_at_every_station(distance_mm: int, ideal_mm: float) -> None:
    here = end_quench.dividing_factor(distance_mm, ideal_mm)
    assert end_quench.dividing_factor(distance_mm, ideal_mm + 5.0) <= here + 1e-9


@pytest.mark.parametrize("distance_mm", STATIONS)
def test_full_hardness_begins_where_the_polynomial_reaches_one_or_its_lowest(distance_mm: int) -> None:
    """Found again from the polynomial; the step left there is under two hundredths."""
    diameters = [25.4 + 0.1 * i for i in range(2000)]
    limit_mm = end_quench.FULL_HARDNESS_FROM_MM[distance_mm]

    def raw(diameter_mm: float) -> float:
        return sum(a * diameter_mm**p for p, a in enumerate(end_quench.DIVISOR[distance_mm]))

    first = next(
        d for d, following in pairwise(diameters) if raw(d) <= 1.0 or (d > 30.0 and raw(following) > raw(d))
    )
    assert limit_mm == pytest.approx(first, abs=0.2)
    assert raw(limit_mm) == pytest.approx(1.0, abs=0.02)
    assert end_quench.dividing_factor(distance_mm, limit_mm) == 1.0
    assert end_quench.dividing_factor(distance_mm, 400.0) == 1.0


def test_polynomial_runs_away_beyond_its_range() -> None:
    raw = sum(a * 100.0**p for p, a in enumerate(end_quench.DIVISOR[3]))
    assert raw == pytest.approx(22.0, abs=1.0)
    assert end_quench.dividing_factor(3, 100.0) == 1.0


def test_hardness_is_the_initial_one_over_the_factor() -> None:
    hrc = end_quench.end_quench_hardness_hrc(20, 0.40, 80.0)
    assert hrc * end_quench.dividing_factor(20, 80.0) == pytest.approx(initial_hardness_hrc(0.40))


def test_refuses_what_cannot_exist() -> None:
    with pytest.raises(OutOfDomain, match="distance_mm"):
        end_quench.dividing_factor(4, 60.0)
    for bad in (0.0, -1.0, math.nan):
        with pytest.raises(OutOfDomain):
            end_quench.dividing_factor(5, bad)
    with pytest.raises(OutOfDomain):
        end_quench.end_quench_hardness_hrc(5, -0.1, 60.0)


def test_says_when_it_lies_outside_the_fit() -> None:
    found = outside_fit(end_quench.end_quench_hardness_hrc, {"carbon_wt": 0.8, "ideal_diameter_mm": 20.0})
    assert {f.name for f in found} == {"carbon_wt", "ideal_diameter_mm"}
