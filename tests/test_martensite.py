"""Ms falls with every alloying element but cobalt and aluminium; retained austenite follows it."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import martensite
from billet.published import REGISTRY, outside_fit

FOR_HIGH_CARBON = (
    martensite.ms_van_bohemen_c,
    martensite.ms_barbier_c,
    martensite.ms_ingber_kunert_c,
    martensite.ms_capdevila_c,
)
ALL = [
    getattr(martensite, entry.name)
    for entry in list(REGISTRY.values())
    if entry.module == "martensite" and entry.name.startswith("ms_")
]


def at(formula, **more: float) -> float:  # type: ignore[no-untyped-def]
    return float(formula(Composition({"C": 0.4, "Mn": 0.8, "Si": 0.25, **more})))


@pytest.mark.parametrize("formula", ALL, ids=lambda f: f.__name__)
def test_falls_with_carbon_and_alloy_inside_its_range(formula) -> None:  # type: ignore[no-untyped-def]
    base = at(formula)
    assert at(formula, C=0.5) < base
    assert at(formula, Mn=1.8) < base
    assert at(formula, Ni=1.0) < base
    assert at(formula, Cr=1.0) < base


@pytest.mark.parametrize("formula", ALL, ids=lambda f: f.__name__)
def test_low_carbon_iron_begins_between_480_and_580(formula) -> None:  # type: ignore[no-untyped-def]
    assert 470.0 < formula(Composition({"C": 0.05})) < 580.0


def test_cobalt_raises_it() -> None:
    for formula in (martensite.ms_ingber_kunert_c, martensite.ms_capdevila_c, martensite.ms_barbier_c):
        assert at(formula, Co=1.0) > at(formula)


def test_formulas_for_high_carbon_agree_at_one_per_cent() -> None:
    steel = Composition({"C": 1.0, "Mn": 0.3, "Si": 0.2})
    values = [formula(steel) for formula in FOR_HIGH_CARBON]
    assert max(values) - min(values) < 7.0


def test_dissolved_carbon_decides_not_the_total() -> None:
    whole = Composition({"C": 1.0, "Mn": 0.35, "Si": 0.25, "Cr": 1.45})
    dissolved = Composition({"C": 0.62, "Mn": 0.35, "Si": 0.25, "Cr": 1.1})
    assert martensite.ms_van_bohemen_c(dissolved) > martensite.ms_van_bohemen_c(whole) + 80.0


def test_carbon_correction_joins_within_half_a_kelvin_and_only_adds() -> None:
    correction = martensite.steven_haynes_carbon_correction_k
    assert correction(0.5299) == 0.0
    assert abs(correction(0.53)) < 0.5
    values = [correction(0.53 + 0.01 * i) for i in range(68)]
    assert all(b > a for a, b in pairwise(values))


@given(st.floats(-200.0, 600.0), st.floats(-196.0, 400.0))
def test_retained_austenite_is_a_share_and_falls_with_a_colder_bath(ms_c: float, bath_c: float) -> None:
    share = martensite.retained_austenite_koistinen_marburger(ms_c, bath_c)
    assert 0.0 < share <= 1.0
    assert martensite.retained_austenite_koistinen_marburger(ms_c, bath_c - 10.0) <= share


@given(st.floats(0.1, 1.2), st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_retained_austenite_rises_with_what_is_dissolved(carbon: float, mn: float, cr: float) -> None:
    share = martensite.retained_austenite_van_bohemen
    less = share(Composition({"C": carbon, "Mn": mn, "Cr": cr}))
    more = share(Composition({"C": carbon + 0.1, "Mn": mn, "Cr": cr}))
    assert 0.0 < less < more <= 1.0


def test_nothing_turns_above_ms() -> None:
    steel = Composition({"C": 0.8, "Mn": 0.75})
    assert martensite.retained_austenite_van_bohemen(steel, quench_c=300.0) == 1.0
    assert martensite.retained_austenite_koistinen_marburger(200.0, quench_c=200.0) == 1.0


def test_refuses_what_cannot_exist() -> None:
    steel = Composition({"C": 0.8})
    for bad in (-273.15, math.nan):
        with pytest.raises(OutOfDomain):
            martensite.retained_austenite_van_bohemen(steel, quench_c=bad)
        with pytest.raises(OutOfDomain):
            martensite.retained_austenite_koistinen_marburger(200.0, quench_c=bad)
    with pytest.raises(OutOfDomain):
        martensite.retained_austenite_koistinen_marburger(math.nan)
    with pytest.raises(OutOfDomain):
        martensite.steven_haynes_carbon_correction_k(-0.1)
    with pytest.raises(OutOfDomain, match="rate of martensite"):
        martensite.alpha_van_bohemen_per_k(Composition({"C": 2.0, "Mn": 60.0}))


def test_says_when_an_analysis_lies_outside_the_fit() -> None:
    stainless = {"C": 0.08, "Cr": 18.0, "Ni": 9.0}
    names = {f.name for f in outside_fit(martensite.ms_van_bohemen_c, stainless)}
    assert names == {"C", "Cr", "Ni"}
