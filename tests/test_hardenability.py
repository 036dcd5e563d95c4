"""The factors of ASTM A255: pieces that meet, the worked example, and what each element does."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import hardenability as a255
from billet.published import outside_fit

EXAMPLE = {"C": 0.22, "Mn": 0.80, "Si": 0.18, "Ni": 0.10, "Cr": 0.43, "Mo": 0.25, "Cu": 0.10, "V": 0.05}


@pytest.mark.parametrize("joint", [0.39, 0.55, 0.65, 0.75])
def test_pieces_of_the_carbon_factor_meet(joint: float) -> None:
    assert a255.carbon_factor_in(joint) == pytest.approx(a255.carbon_factor_in(joint + 1e-9), abs=0.0012)


def test_pieces_of_manganese_and_nickel_meet() -> None:
    assert a255.manganese_factor(1.2) == pytest.approx(a255.manganese_factor(1.2 + 1e-9), abs=0.001)
    assert a255.nickel_factor(1.5) == pytest.approx(a255.nickel_factor(1.5 + 1e-9), abs=0.003)


def test_pieces_change_over_where_the_standard_says() -> None:
    """Each joint belongs to the piece below it; just above, the next piece holds."""
    assert a255.carbon_factor_in(0.39) == pytest.approx(0.54 * 0.39, rel=1e-12)
    assert a255.carbon_factor_in(0.55) == pytest.approx(0.171 + 0.001 * 0.55 + 0.265 * 0.55**2, rel=1e-12)
    assert a255.carbon_factor_in(0.65) == pytest.approx(0.115 + 0.268 * 0.65 - 0.038 * 0.65**2, rel=1e-12)
    assert a255.carbon_factor_in(0.75) == pytest.approx(0.143 + 0.2 * 0.75, rel=1e-12)
    assert a255.manganese_factor(1.2) == pytest.approx(3.3333 * 1.2 + 1.0, rel=1e-12)
    assert a255.nickel_factor(1.5) == pytest.approx(0.363 * 1.5 + 1.0, rel=1e-12)
    above = 1.0001
    c = 0.39 * above
    assert a255.carbon_factor_in(c) == pytest.approx(0.171 + 0.001 * c + 0.265 * c**2, rel=1e-12)
    c = 0.55 * above
    assert a255.carbon_factor_in(c) == pytest.approx(0.115 + 0.268 * c - 0.038 * c**2, rel=1e-12)
    c = 0.65 * above
    assert a255.carbon_factor_in(c) == pytest.approx(0.143 + 0.2 * c, rel=1e-12)
    c = 0.75 * above
    assert a255.carbon_factor_in(c) == pytest.approx(0.062 + 0.409 * c - 0.135 * c**2, rel=1e-12)
    assert a255.manganese_factor(1.2 * above) == pytest.approx(5.10 * 1.2 * above - 1.12, rel=1e-12)
    ni = 1.5 * above
    cubic = 0.3211 + 1.4501 * ni - 0.6119 * ni**2 + 0.1253 * ni**3
    assert a255.nickel_factor(ni) == pytest.approx(cubic, rel=1e-12)


def test_worked_example_needs_the_rounded_factors_of_the_standard() -> None:
    """The standard prints 1.95 in: its factors rounded as printed give it, unrounded ones do not."""
    rounded = [
        round(a255.carbon_factor_in(0.22), 3),
        round(a255.manganese_factor(0.80), 3),
        round(a255.silicon_factor(0.18), 3),
        round(a255.nickel_factor(0.10), 3),
        round(a255.chromium_factor(0.43), 3),
        round(a255.molybdenum_factor(0.25), 2),
        round(a255.copper_factor(0.10), 2),
        round(a255.vanadium_factor(0.05), 2),
    ]
    assert rounded == [0.119, 3.667, 1.126, 1.036, 1.929, 1.75, 1.04, 1.09]
    assert round(math.prod(rounded), 2) == 1.95
    assert round(a255.ideal_diameter_in(Composition(EXAMPLE)), 3) == 1.932


@given(st.sampled_from(["C", "Mn", "Si", "Ni", "Cr", "Mo", "Cu", "V"]), st.floats(0.01, 0.5))
def test_every_factor_raises_the_ideal_diameter(element: str, more: float) -> None:
    base = a255.ideal_diameter_in(Composition(EXAMPLE))
    assert a255.ideal_diameter_in(Composition({**EXAMPLE, element: EXAMPLE[element] + more})) > base


def test_a_finer_grain_hardens_less_deep_by_about_eight_per_cent_a_number() -> None:
    steel = Composition(EXAMPLE)
    at_seven = a255.ideal_diameter_in(steel, 7.0)
    assert a255.ideal_diameter_in(steel, 8.0) / at_seven == pytest.approx(0.925, abs=0.002)
    assert a255.ideal_diameter_in(steel, 6.0) / at_seven == pytest.approx(1.08, abs=0.001)
    assert a255.ideal_diameter_in(steel) == at_seven


@given(st.floats(0.10, 0.69))
def test_hardness_rises_with_carbon_and_half_martensite_is_softer(carbon: float) -> None:
    assert a255.initial_hardness_hrc(carbon + 0.005) > a255.initial_hardness_hrc(carbon)
    assert a255.half_martensite_hardness_hrc(carbon) < a255.initial_hardness_hrc(carbon) - 8.0


FACTORS = (
    a255.carbon_factor_in,
    a255.manganese_factor,
    a255.silicon_factor,
    a255.nickel_factor,
    a255.chromium_factor,
    a255.molybdenum_factor,
    a255.copper_factor,
    a255.vanadium_factor,
    a255.initial_hardness_hrc,
    a255.half_martensite_hardness_hrc,
)


@pytest.mark.parametrize("factor", FACTORS, ids=lambda f: f.__name__)
def test_refuses_what_cannot_exist(factor) -> None:  # type: ignore[no-untyped-def]
    for bad in (-0.01, math.nan, math.inf):
        with pytest.raises(OutOfDomain):
            factor(bad)


def test_refuses_a_grain_size_that_is_no_number() -> None:
    with pytest.raises(OutOfDomain):
        a255.ideal_diameter_in(Composition(EXAMPLE), math.nan)


def test_says_that_tungsten_and_cobalt_have_no_factor() -> None:
    oil_hardening = {"C": 0.95, "Mn": 1.2, "Si": 0.3, "Cr": 0.5, "W": 0.5, "V": 0.1}
    assert {f.name for f in outside_fit(a255.ideal_diameter_in, oil_hardening)} == {"C", "W"}
