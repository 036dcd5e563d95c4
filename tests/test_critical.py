"""Critical temperatures: which way each element pushes, what lies above what, what is refused."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import critical
from billet.published import outside_fit

BEGIN = (
    critical.ae1_andrews_c,
    critical.ae1_grange_c,
    critical.ae1_eldis_c,
    critical.ac1_trzaska_2016_c,
)
END = (
    critical.ae3_andrews_c,
    critical.ae3_grange_c,
    critical.ae3_eldis_c,
    critical.ac3_trzaska_2016_c,
)
LOW_ALLOY = st.fixed_dictionaries(
    {
        "C": st.floats(0.10, 0.45),
        "Mn": st.floats(0.2, 1.2),
        "Si": st.floats(0.1, 0.4),
        "Cr": st.floats(0.0, 1.2),
        "Ni": st.floats(0.0, 1.0),
        "Mo": st.floats(0.0, 0.3),
    }
)


def slope(formula, element: str) -> float:  # type: ignore[no-untyped-def]
    """Change for one more wt% of an element, at a middle analysis."""
    base = {"C": 0.4, "Mn": 0.8, "Si": 0.25}
    more = {**base, element: base.get(element, 0.0) + 0.01}
    return float(formula(Composition(more)) - formula(Composition(base))) / 0.01


@pytest.mark.parametrize("formula", BEGIN, ids=lambda f: f.__name__)
def test_nickel_and_manganese_lower_the_begin_and_silicon_and_chromium_raise_it(formula) -> None:  # type: ignore[no-untyped-def]
    assert slope(formula, "Ni") < 0.0
    assert slope(formula, "Mn") < 0.0
    assert slope(formula, "Cr") > 0.0
    assert slope(formula, "Si") > 0.0


@pytest.mark.parametrize("formula", END, ids=lambda f: f.__name__)
def test_carbon_and_nickel_lower_the_end_and_silicon_raises_it(formula) -> None:  # type: ignore[no-untyped-def]
    assert slope(formula, "C") < -100.0
    assert slope(formula, "Ni") < 0.0
    assert slope(formula, "Si") > 0.0


def test_signs_of_andrews_are_the_right_ones() -> None:
    expected = {"Mn": -30, "Cr": -11, "Cu": -20, "P": 700, "Al": 400, "As": 120, "Ti": 400}
    for element, value in expected.items():
        assert slope(critical.ae3_andrews_c, element) == pytest.approx(value, rel=1e-6)


@given(LOW_ALLOY)
def test_the_end_lies_above_the_begin_in_low_alloy_steel(wt: dict[str, float]) -> None:
    steel = Composition(wt)
    for begin, end in zip(BEGIN, END, strict=True):
        assert end(steel) > begin(steel)


@given(LOW_ALLOY)
def test_the_three_formulas_in_use_agree_within_their_error(wt: dict[str, float]) -> None:
    steel = Composition(wt)
    begins = [f(steel) for f in (BEGIN[0], BEGIN[1], BEGIN[3])]
    assert max(begins) - min(begins) < 30.0


def test_acm_rises_with_carbon_and_meets_the_eutectoid() -> None:
    carbons = [0.77 + 0.01 * i for i in range(74)]
    values = [critical.acm_iron_carbon_c(c) for c in carbons]
    assert all(b > a for a, b in pairwise(values))
    assert values[0] == pytest.approx(727.0, abs=5.0)


@given(st.floats(0.80, 1.30))
def test_the_two_fits_of_the_acm_line_are_each_others_inverse(carbon: float) -> None:
    temperature = critical.acm_iron_carbon_c(carbon)
    assert critical.saturated_carbon_iron_wt(temperature) == pytest.approx(carbon, abs=0.004)


def test_refuses_what_cannot_exist() -> None:
    for bad in (-0.1, math.nan, math.inf):
        with pytest.raises(OutOfDomain):
            critical.acm_iron_carbon_c(bad)
    for bad in (-273.15, -300.0, math.nan):
        with pytest.raises(OutOfDomain):
            critical.saturated_carbon_iron_wt(bad)


def test_says_when_an_analysis_lies_outside_the_fit() -> None:
    tool_steel = Composition({"C": 1.5, "Cr": 12.0})
    found = {f.name: (f.low, f.high) for f in outside_fit(critical.ae1_andrews_c, tool_steel.wt)}
    assert found == {"C": (0.0, 0.6), "Cr": (0.0, 2.5)}
    assert outside_fit(critical.ae1_andrews_c, {"C": 0.4, "Cr": 1.0}) == []
