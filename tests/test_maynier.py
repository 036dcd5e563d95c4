"""The system of Maynier: order of its velocities, its heat parameter, and where it refuses."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import maynier
from billet.published import outside_fit

STEEL = Composition({"C": 0.38, "Mn": 0.81, "Si": 0.28, "Ni": 0.11, "Cr": 0.98, "Mo": 0.22})


def test_more_martensite_needs_faster_cooling() -> None:
    rates = [maynier.critical_velocity_k_s(s, STEEL, 850.0) for s in maynier.VELOCITY]
    martensite, bainite, soft = rates[:3], rates[3:6], rates[6:]
    assert martensite[0] > martensite[1] > martensite[2] > soft[0] > soft[1]
    assert bainite[0] > bainite[1] > bainite[2] > soft[0]


@given(st.sampled_from(list(maynier.VELOCITY)), st.sampled_from(["C", "Mn", "Ni", "Cr", "Mo"]))
def test_every_element_slows_every_product(structure: maynier.Structure, element: str) -> None:
    more = Composition({**STEEL.wt, element: STEEL[element] + 0.1})
    base = maynier.critical_velocity_k_s(structure, STEEL, 850.0)
    assert maynier.critical_velocity_k_s(structure, more, 850.0) < base


def test_hotter_austenitising_slows_every_product() -> None:
    for structure in maynier.VELOCITY:
        hot = maynier.critical_velocity_k_s(structure, STEEL, 950.0)
        assert hot < maynier.critical_velocity_k_s(structure, STEEL, 850.0)


@given(st.floats(750.0, 1200.0))
def test_an_hour_at_a_temperature_is_that_temperature(temperature_c: float) -> None:
    assert maynier.austenitising_parameter_c(temperature_c, 60.0) == pytest.approx(temperature_c, abs=1e-9)
    assert maynier.austenitising_parameter_c(temperature_c, 10.0) < temperature_c
    assert maynier.austenitising_parameter_c(temperature_c, 120.0) > temperature_c


@given(st.floats(0.15, 0.5), st.floats(5.0, 100.0))
def test_martensite_is_hardest_and_ferrite_with_pearlite_softest(carbon: float, rate: float) -> None:
    steel = STEEL.with_carbon(carbon)
    hard = maynier.martensite_hardness_hv(steel, rate)
    middle = maynier.bainite_hardness_hv(steel, rate)
    assert hard > middle > maynier.ferrite_pearlite_hardness_hv(steel, rate)


HARDNESSES = (
    maynier.martensite_hardness_hv,
    maynier.bainite_hardness_hv,
    maynier.ferrite_pearlite_hardness_hv,
)


@pytest.mark.parametrize("hardness", HARDNESSES, ids=lambda f: f.__name__)
def test_hardness_refuses_carbon_above_one_half(hardness) -> None:  # type: ignore[no-untyped-def]
    assert hardness(Composition({"C": 0.5, "Mn": 0.7}), 30.0) > 0.0
    with pytest.raises(OutOfDomain, match="carbon"):
        hardness(Composition({"C": 0.501, "Mn": 0.7}), 30.0)
    for bad in (0.0, -1.0, math.nan):
        with pytest.raises(OutOfDomain):
            hardness(STEEL, bad)


def test_refuses_what_cannot_exist() -> None:
    with pytest.raises(OutOfDomain, match="structure"):
        maynier.critical_velocity_k_s("80 martensite", STEEL, 850.0)  # type: ignore[arg-type]
    with pytest.raises(OutOfDomain):
        maynier.critical_velocity_k_s("100 martensite", STEEL, -300.0)
    with pytest.raises(OutOfDomain):
        maynier.austenitising_parameter_c(850.0, 0.0)
    with pytest.raises(OutOfDomain):
        maynier.austenitising_parameter_c(-300.0, 60.0)


def test_says_when_a_knife_steel_lies_outside_the_fit() -> None:
    found = outside_fit(maynier.critical_velocity_k_s, {"C": 0.84, "Mn": 0.75, "Si": 0.2})
    assert [f.name for f in found] == ["C"]
