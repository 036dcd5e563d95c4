"""Hardness scales there and back; martensite against carbon; what retained austenite takes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.errors import OutOfDomain
from billet.formulas import hardness
from billet.formulas.hardenability import initial_hardness_hrc
from billet.published import outside_fit


@given(st.floats(20.0, 68.0))
def test_scales_there_and_back(hrc: float) -> None:
    assert hardness.hv_to_hrc(hardness.hrc_to_hv(hrc)) == pytest.approx(hrc, abs=1e-9)


@given(st.floats(20.0, 67.0))
def test_scales_rise_together(hrc: float) -> None:
    assert hardness.hrc_to_hv(hrc + 0.5) > hardness.hrc_to_hv(hrc)


@given(st.floats(0.1, 1.5))
def test_martensite_never_softens_with_carbon_and_stays_under_67(carbon: float) -> None:
    here = hardness.martensite_hardness_hrc(carbon)
    assert here <= hardness.martensite_hardness_hrc(carbon + 0.01) + 1e-12
    assert here < 66.0


def test_martensite_is_held_at_the_highest_point_of_the_line() -> None:
    held = hardness.martensite_hardness_hrc(1.2)
    around = [initial_hardness_hrc(0.6 + 0.001 * i) for i in range(200)]
    assert held == pytest.approx(max(around), abs=1e-3)
    assert hardness.martensite_hardness_hrc(0.45) == initial_hardness_hrc(0.45)


@given(st.floats(45.0, 67.0), st.floats(0.0, 0.9))
def test_retained_austenite_softens(martensite_hrc: float, share: float) -> None:
    mixed = hardness.hardness_with_retained_austenite(martensite_hrc, share)
    assert hardness.hardness_with_retained_austenite(martensite_hrc, share + 0.05) < mixed
    assert mixed <= martensite_hrc + 1e-9


def test_ends_of_the_mixture_are_its_parts() -> None:
    assert hardness.hardness_with_retained_austenite(65.0, 0.0) == pytest.approx(65.0)
    whole = hardness.hardness_with_retained_austenite(65.0, 1.0)
    assert hardness.hrc_to_hv(whole) == pytest.approx(250.0)


def test_a_tenth_of_austenite_costs_about_one_and_a_half_rockwell() -> None:
    assert 65.8 - hardness.hardness_with_retained_austenite(65.8, 0.10) == pytest.approx(1.9, abs=0.5)


def test_refuses_what_cannot_exist() -> None:
    for bad in (0.0, -1.0, math.nan, math.inf):
        with pytest.raises(OutOfDomain):
            hardness.hv_to_hrc(bad)
    for bad in (100.0, -66.0, math.nan):
        with pytest.raises(OutOfDomain):
            hardness.hrc_to_hv(bad)
    for bad in (-0.01, 1.01, math.nan):
        with pytest.raises(OutOfDomain):
            hardness.hardness_with_retained_austenite(65.0, bad)
    with pytest.raises(OutOfDomain):
        hardness.martensite_hardness_hrc(-0.1)
    with pytest.raises(OutOfDomain):
        hardness.martensite_hardness_hrc(math.nan)


def test_says_when_it_lies_outside_the_fit() -> None:
    assert [f.name for f in outside_fit(hardness.hrc_to_hv, {"hardness_hrc": 20.0})] == ["hardness_hrc"]
    assert [f.high for f in outside_fit(hardness.martensite_hardness_hrc, {"carbon_wt": 1.0})] == [0.70]
