"""Where melting begins: every element lowers it, pieces meet."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import solidus
from billet.published import outside_fit


@given(st.floats(0.18, 1.5), st.sampled_from(["C", "Si", "Mn", "Cr", "Ni", "P", "S"]))
def test_every_element_lowers_it(carbon: float, element: str) -> None:
    base = {"C": carbon, "Si": 0.25, "Mn": 0.6}
    more = {**base, element: base.get(element, 0.0) + 0.02}
    assert solidus.solidus_c(Composition(more)) < solidus.solidus_c(Composition(base))


def test_pieces_meet() -> None:
    def plain(carbon: float) -> float:
        return solidus.solidus_c(Composition({"C": carbon}))

    assert plain(0.17) == pytest.approx(plain(0.1700001), abs=0.2)
    assert plain(0.09) == pytest.approx(plain(0.0899999), abs=0.05)
    assert plain(0.0) == 1538.0
    assert plain(0.09) == plain(0.13) == plain(0.17) == 1495.0
    assert plain(0.0899) == pytest.approx(1538.0 - 478.0 * 0.0899)


@given(st.floats(0.4, 1.5))
def test_chosen_formula_lies_on_the_safe_side_of_the_iron_carbon_line(carbon: float) -> None:
    """At most 15 K under it."""
    line = solidus.solidus_iron_carbon_c(carbon)
    steel = Composition({"C": carbon})
    assert line - 15.0 < solidus.solidus_c(steel) <= line + 0.5


def test_refuses_what_cannot_exist() -> None:
    for bad in (-0.1, math.nan, math.inf):
        with pytest.raises(OutOfDomain):
            solidus.solidus_iron_carbon_c(bad)


def test_says_that_nickel_and_stainless_lie_outside_the_fit() -> None:
    assert [f.name for f in outside_fit(solidus.solidus_c, {"Ni": 99.5})] == ["Ni"]
    names = {f.name for f in outside_fit(solidus.solidus_c, {"C": 0.05, "Cr": 18.0, "Ni": 9.0})}
    assert names == {"Cr", "Ni"}
