"""Diffusivities: limits, order, and agreement between independent sources."""

import math

import pytest

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import diffusion

RIVALS = [
    diffusion.carbon_diffusivity_slycke_m2_s,
    diffusion.carbon_diffusivity_liu_m2_s,
    diffusion.carbon_diffusivity_tibbetts_m2_s,
]


@pytest.mark.parametrize("temperature_c", [900.0, 1000.0, 1100.0, 1200.0])
@pytest.mark.parametrize("rival", RIVALS)
def test_agren_agrees_with_independent_sources_at_eutectoid_carbon(rival, temperature_c):
    # Spread of the four sources at 0.8 % carbon as tabulated when they were compared: 12 %.
    steel = Composition({"C": 0.8})
    ratio = diffusion.carbon_diffusivity_agren_m2_s(steel, temperature_c) / rival(steel, temperature_c)
    assert ratio == pytest.approx(1.0, abs=0.12)


def test_agrens_factor_is_the_interaction_of_carbon_and_vacancies():
    # Gustafson 1985: -34671 J/mol, so the factor is 2 x 34671 / R.
    assert pytest.approx(2 * 34671 / diffusion.GAS_CONSTANT, abs=0.1) == diffusion.AGREN_FACTOR_K


def test_agrens_dilute_limit_is_the_textbook_constant():
    # Algebra on the formula: D0 2.343e-5 m2/s, Q 147.72 kJ/mol.
    empty = Composition({})
    values = {t: diffusion.carbon_diffusivity_agren_m2_s(empty, t) for t in (900.0, 1200.0)}
    span = 1 / 1173.15 - 1 / 1473.15
    energy = diffusion.GAS_CONSTANT * math.log(values[1200.0] / values[900.0]) / span
    assert energy == pytest.approx(147.72e3, abs=50)
    d0 = values[900.0] * math.exp(energy / (diffusion.GAS_CONSTANT * 1173.15))
    assert d0 == pytest.approx(2.343e-5, rel=0.001)


def test_carbon_moves_faster_when_hotter_and_richer():
    agren = diffusion.carbon_diffusivity_agren_m2_s
    by_heat = [agren(Composition({"C": 0.8}), t) for t in range(750, 1351, 50)]
    by_carbon = [agren(Composition({"C": c / 10}), 1100.0) for c in range(0, 16)]
    assert by_heat == sorted(by_heat)
    assert by_carbon == sorted(by_carbon)


def test_carbon_is_some_hundred_thousand_times_faster_than_nickel():
    carbon = diffusion.carbon_diffusivity_agren_m2_s(Composition({"C": 0.8}), 1100.0)
    nickel = diffusion.substitutional_diffusivity_m2_s("Ni", 1100.0)
    assert 0.5e5 < carbon / nickel < 3e5


def test_chromium_is_several_times_faster_in_stainless_austenite():
    # "About seven times": the ratio of the two published formulas at 1100 C.
    stainless = diffusion.chromium_diffusivity_stainless_m2_s(1100.0)
    assert 5 < stainless / diffusion.substitutional_diffusivity_m2_s("Cr", 1100.0) < 9


def test_two_sources_for_chromium_agree():
    # Physical spread of such measurements: a factor of 1.5.
    for temperature_c in (950.0, 1100.0, 1200.0):
        first = diffusion.substitutional_diffusivity_m2_s("Cr", temperature_c)
        assert 1 / 1.5 < first / diffusion.chromium_tracer_diffusivity_m2_s(temperature_c) < 1.5


def test_nickel_dissolves_a_quarter_percent_at_1000_c():
    # Solubility of graphite in nickel is some 0.27 wt% at 1000 C (from memory, a second recollection).
    assert diffusion.carbon_solubility_nickel(1000.0) == pytest.approx(0.27, abs=0.03)


def test_mobility_and_diffusivity_are_one_formula():
    steel, t_c = Composition({"C": 0.6}), 1050.0
    log_mobility, slope = diffusion.agren_mobility(t_c)
    y = steel.carbon_ratio
    factor = 1 + diffusion.AGREN_FACTOR_K / (t_c + 273.15) * y * (1 - y)
    product = math.exp(log_mobility + slope * y) * factor
    assert product == pytest.approx(diffusion.carbon_diffusivity_agren_m2_s(steel, t_c), rel=1e-12)


@pytest.mark.parametrize("temperature_c", [-300.0, math.nan, math.inf])
def test_refuses_temperatures_that_cannot_exist(temperature_c):
    with pytest.raises(OutOfDomain):
        diffusion.carbon_diffusivity_agren_m2_s(Composition({"C": 0.8}), temperature_c)
    with pytest.raises(OutOfDomain):
        diffusion.substitutional_diffusivity_m2_s("Ni", temperature_c)
