"""ASTM numbers there and back; growth with heat and time."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import grain
from billet.published import outside_fit

STEEL = Composition({"C": 0.4, "Mn": 0.85, "Cr": 0.95, "Mo": 0.2})


@given(st.floats(0.0, 14.0))
def test_numbers_there_and_back(number: float) -> None:
    by_intercept = grain.grain_size_from_intercept(grain.mean_intercept_um(number))
    by_diameter = grain.grain_size_from_diameter(grain.mean_diameter_um(number))
    assert by_intercept == pytest.approx(number, abs=1e-9)
    assert by_diameter == pytest.approx(number, abs=1e-9)


@given(st.floats(0.0, 12.0))
def test_two_numbers_more_halve_the_grain(number: float) -> None:
    ratio = grain.mean_diameter_um(number + 2.0) / grain.mean_diameter_um(number)
    assert ratio == pytest.approx(0.5)
    assert grain.mean_diameter_um(number) / grain.mean_intercept_um(number) == pytest.approx(1.122, abs=0.003)


@given(st.floats(800.0, 1200.0), st.floats(60.0, 7200.0))
def test_grain_grows_with_heat_and_time_and_alloy_holds_it(temperature_c: float, seconds: float) -> None:
    here = grain.austenite_grain_um(STEEL, temperature_c, seconds)
    assert grain.austenite_grain_um(STEEL, temperature_c + 10.0, seconds) > here
    assert grain.austenite_grain_um(STEEL, temperature_c, seconds * 1.1) > here
    more = Composition({**STEEL.wt, "Mo": 0.4})
    assert grain.austenite_grain_um(more, temperature_c, seconds) < here


def test_refuses_what_cannot_exist() -> None:
    for bad in (0.0, -1.0, math.nan):
        with pytest.raises(OutOfDomain):
            grain.grain_size_from_intercept(bad)
        with pytest.raises(OutOfDomain):
            grain.grain_size_from_diameter(bad)
    for bad in (math.nan, math.inf):
        with pytest.raises(OutOfDomain):
            grain.mean_diameter_um(bad)
        with pytest.raises(OutOfDomain):
            grain.mean_intercept_um(bad)
    with pytest.raises(OutOfDomain):
        grain.austenite_grain_um(STEEL, -300.0, 60.0)
    with pytest.raises(OutOfDomain):
        grain.austenite_grain_um(STEEL, 900.0, -1.0)


def test_says_when_it_lies_outside_the_fit() -> None:
    found = outside_fit(grain.austenite_grain_um, {"C": 0.8, "temperature_c": 1150.0})
    assert {f.name for f in found} == {"C", "temperature_c"}
