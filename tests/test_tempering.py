"""Time against temperature: what is equal stays equal, hours not minutes, refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.errors import OutOfDomain
from billet.formulas import tempering
from billet.published import outside_fit

TEMPERATURE = st.floats(100.0, 700.0)
MINUTES = st.floats(1.0, 1440.0)


@given(TEMPERATURE, MINUTES)
def test_parameter_rises_with_temperature_and_time(temperature_c: float, minutes: float) -> None:
    here = tempering.hollomon_jaffe(temperature_c, minutes)
    assert tempering.hollomon_jaffe(temperature_c + 1.0, minutes) > here
    assert tempering.hollomon_jaffe(temperature_c, minutes * 1.1) > here


@given(TEMPERATURE, MINUTES, MINUTES, st.floats(14.0, 21.0))
def test_equivalent_temper_has_the_same_parameter(
    temperature_c: float, minutes: float, reference: float, constant: float
) -> None:
    other = tempering.equivalent_temperature_c(temperature_c, minutes, reference, constant)
    expected = tempering.hollomon_jaffe(temperature_c, minutes, constant)
    assert tempering.hollomon_jaffe(other, reference, constant) == pytest.approx(expected, rel=1e-12)


@given(TEMPERATURE, MINUTES)
def test_the_same_time_is_the_same_temperature(temperature_c: float, minutes: float) -> None:
    same = tempering.equivalent_temperature_c(temperature_c, minutes, minutes)
    assert same == pytest.approx(temperature_c, abs=1e-9)


def test_one_hour_counts_as_one_in_the_parameter() -> None:
    assert tempering.hollomon_jaffe(226.85, 60.0) == pytest.approx(500.0 * 20.0)


@given(st.floats(0.0, 1.2))
def test_constant_falls_with_carbon(carbon: float) -> None:
    assert tempering.hollomon_jaffe_constant(carbon + 0.1) < tempering.hollomon_jaffe_constant(carbon)


def test_refuses_what_cannot_exist() -> None:
    for bad in (0.0, -5.0, math.nan):
        with pytest.raises(OutOfDomain):
            tempering.hollomon_jaffe(200.0, bad)
        with pytest.raises(OutOfDomain):
            tempering.hollomon_jaffe(200.0, 60.0, bad)
        with pytest.raises(OutOfDomain):
            tempering.equivalent_temperature_c(200.0, 60.0, bad)
    with pytest.raises(OutOfDomain):
        tempering.hollomon_jaffe(-273.15, 60.0)
    with pytest.raises(OutOfDomain, match="together"):
        tempering.equivalent_temperature_c(200.0, 60.0, 1e-30, 20.0)
    with pytest.raises(OutOfDomain):
        tempering.hollomon_jaffe_constant(-0.1)


def test_says_when_it_lies_outside_the_fit() -> None:
    assert [f.low for f in outside_fit(tempering.hollomon_jaffe, {"temperature_c": 20.0})] == [100.0]
