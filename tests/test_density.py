"""Density by class and by analysis; hot austenite is lighter."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import density
from billet.tables.reading import read_toml


@pytest.mark.parametrize(
    ("wt", "expected"),
    [
        ({"C": 0.84, "Mn": 0.75}, "low_alloy"),
        ({"C": 0.75, "Ni": 2.0}, "low_alloy"),
        ({"C": 0.1, "Ni": 9.0}, "low_alloy"),
        ({"C": 0.05, "Cr": 18.0, "Ni": 8.5}, "austenitic"),
        ({"C": 0.05, "Cr": 15.9, "Ni": 6.0}, "chromium"),
        ({"C": 0.05, "Cr": 16.0, "Ni": 6.0}, "austenitic"),
        ({"C": 0.05, "Cr": 17.0, "Ni": 5.9}, "chromium"),
        ({"C": 0.05, "Ni": 36.0}, "austenitic"),
        ({"C": 0.05, "Ni": 20.0}, "austenitic"),
        ({"C": 0.05, "Ni": 19.9}, "low_alloy"),
        ({"Ni": 50.0}, "nickel"),
        ({"Ni": 49.9}, "austenitic"),
        ({"C": 0.3, "Cr": 13.0}, "chromium"),
        ({"C": 0.3, "Cr": 11.0}, "chromium"),
        ({"C": 0.3, "Cr": 10.9}, "low_alloy"),
    ],
)
def test_class_by_analysis(wt: dict[str, float], expected: str) -> None:
    assert density.density_class(Composition(wt)) == expected


def test_every_class_has_its_figure_in_the_data() -> None:
    assert set(read_toml("densities.toml")) == {"low_alloy", "austenitic", "chromium", "nickel"}


@given(st.floats(727.0, 1390.0))
def test_hot_iron_swells_and_weighs_less(temperature_c: float) -> None:
    volume = density.austenite_molar_volume_m3_mol(temperature_c)
    assert density.austenite_molar_volume_m3_mol(temperature_c + 1.0) > volume
    density_here = density.austenite_iron_density_kg_m3(temperature_c)
    assert density_here * volume == pytest.approx(55.845e-3)
    assert density_here < 7850.0


def test_ferrite_takes_more_room_than_austenite_at_the_change() -> None:
    ratio = density.ferrite_molar_volume_m3_mol(912.0) / density.austenite_molar_volume_m3_mol(912.0)
    assert 1.005 < ratio < 1.015


def test_refuses_what_cannot_exist() -> None:
    for formula in (density.austenite_molar_volume_m3_mol, density.ferrite_molar_volume_m3_mol):
        for bad in (-273.15, math.nan):
            with pytest.raises(OutOfDomain):
                formula(bad)
