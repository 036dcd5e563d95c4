"""Formulas that circulate and are wrong where a smith would use them, each shown to be so.

They are written out here because the product does not offer them, or only inside their range.
"""

import math

import pytest

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import critical, hardenability, hardness, martensite, maynier
from billet.published import outside_fit

W1 = Composition({"C": 1.00, "Mn": 0.30, "Si": 0.20})
SAE_1080 = Composition({"C": 0.80, "Mn": 0.75, "Si": 0.20})


@pytest.mark.parametrize(("carbon", "short_k"), [(0.8, 22), (0.9, 41), (1.0, 68), (1.2, 145), (1.5, 323)])
def test_acm_polynomial_of_lee_and_lee_falls_short_of_the_iron_carbon_line(
    carbon: float, short_k: float
) -> None:
    polynomial = critical.acm_lee_lee_c(Composition({"C": carbon}))
    assert critical.acm_iron_carbon_c(carbon) - polynomial == pytest.approx(short_k, abs=1.0)


def test_acm_polynomial_of_lee_and_lee_turns_down_where_acm_rises() -> None:
    peak = 992.4 / (2.0 * 465.1)
    assert peak == pytest.approx(1.067, abs=0.001)
    at_peak = critical.acm_lee_lee_c(Composition({"C": peak}))
    assert at_peak == pytest.approx(754.0, abs=1.0)
    assert critical.acm_lee_lee_c(Composition({"C": 1.3})) < at_peak
    assert critical.acm_iron_carbon_c(1.3) > critical.acm_iron_carbon_c(peak)


def andrews_ae3_with_wrong_signs(wt: Composition) -> float:
    """The copy in circulation: the last eight terms with their signs turned round."""
    right = critical.ae3_andrews_c(wt)
    turned = -30.0 * wt["Mn"] - 11.0 * wt["Cr"] - 20.0 * wt["Cu"] + 700.0 * wt["P"]
    turned += 400.0 * wt["Al"] + 120.0 * wt["As"] + 400.0 * wt["Ti"]
    return right - 2.0 * turned


def test_wrong_signs_of_andrews_cost_22_k_for_each_per_cent_of_chromium() -> None:
    def error(chromium: float) -> float:
        steel = Composition({"C": 0.4, "Cr": chromium})
        return andrews_ae3_with_wrong_signs(steel) - critical.ae3_andrews_c(steel)

    assert error(1.0) - error(0.0) == pytest.approx(22.0)


def test_wrong_signs_of_andrews_contradict_an_independent_regression() -> None:
    """Grange, on other steels, has manganese lower Ae3; the copy has it raise Ae3."""
    less, more = Composition({"C": 0.4, "Mn": 0.3}), Composition({"C": 0.4, "Mn": 1.3})
    assert critical.ae3_grange_c(more) < critical.ae3_grange_c(less)
    assert critical.ae3_andrews_c(more) < critical.ae3_andrews_c(less)
    assert andrews_ae3_with_wrong_signs(more) > andrews_ae3_with_wrong_signs(less)


def test_martensite_line_of_maynier_is_impossible_at_high_carbon_and_refused() -> None:
    """The conversion table ends at 68 HRC, 940 HV; no martensite gets there by carbon alone."""

    def line(wt: Composition, log_velocity: float) -> float:
        alloy = 27.0 * wt["Si"] + 11.0 * wt["Mn"] + 8.0 * wt["Ni"] + 16.0 * wt["Cr"]
        return 127.0 + 949.0 * wt["C"] + alloy + 21.0 * log_velocity

    assert line(SAE_1080, 5.0) > 940.0
    assert line(W1, 5.0) > 1150.0
    assert hardness.hrc_to_hv(hardness.martensite_hardness_hrc(1.0)) < 900.0
    for steel in (SAE_1080, W1):
        with pytest.raises(OutOfDomain):
            maynier.martensite_hardness_hv(steel, 30.0)


AC3 = (
    (critical.ae3_andrews_c, critical.ae1_andrews_c),
    (critical.ae3_grange_c, critical.ae1_grange_c),
    (critical.ae3_eldis_c, critical.ae1_eldis_c),
    (critical.ac3_trzaska_2016_c, critical.ac1_trzaska_2016_c),
)


@pytest.mark.parametrize(("end", "begin"), AC3, ids=lambda f: f.__name__)
def test_no_ac3_formula_means_anything_at_one_per_cent_carbon(end, begin) -> None:  # type: ignore[no-untyped-def]
    """It leaves no room above Ac1, 100 K under where the carbide is gone; its fitted range says so."""
    assert end(W1) < begin(W1) + 1.0
    assert end(W1) < critical.acm_iron_carbon_c(W1["C"]) - 100.0
    assert [f.name for f in outside_fit(end, W1.wt)] == ["C"]


def test_ac3_for_weldable_steel_gives_584_c_for_an_eutectoid_one() -> None:
    value = 937.2 - 436.5 * SAE_1080["C"] + 56.0 * SAE_1080["Si"] - 19.7 * SAE_1080["Mn"]
    assert value == pytest.approx(584.43, abs=0.01)
    assert value < critical.ae1_andrews_c(SAE_1080) - 100.0


def test_product_ms_of_andrews_turns_upwards_and_its_range_stops_before() -> None:
    """It has the steel with 1.0 % carbon begin later than the one with 0.8 %."""
    assert martensite.ms_andrews_product_c(W1) > martensite.ms_andrews_product_c(SAE_1080)
    assert martensite.ms_van_bohemen_c(W1) < martensite.ms_van_bohemen_c(SAE_1080) - 30.0
    assert [f.name for f in outside_fit(martensite.ms_andrews_product_c, W1.wt)] == ["C"]


def test_linear_ms_of_andrews_is_75_k_too_low_at_one_per_cent_carbon() -> None:
    gap = martensite.ms_van_bohemen_c(W1) - martensite.ms_andrews_linear_c(W1)
    assert gap == pytest.approx(76.0, abs=1.0)


def test_initial_hardness_turns_down_above_its_range() -> None:
    assert hardenability.initial_hardness_hrc(0.85) < hardenability.initial_hardness_hrc(0.70)
    assert hardness.martensite_hardness_hrc(0.85) > hardenability.initial_hardness_hrc(0.85)


def tempered_share(temperature_c: float, carbon: float) -> float:
    """A closed form that circulates for the hardness left after tempering."""
    if carbon < 0.45:
        return 1.304 * (1.0 - 0.0013323 * temperature_c) * (1.0 - 0.3619482 * carbon)
    return 1.102574 * (1.0 - 0.0016554 * temperature_c) * (1.0 + 0.19088063 * carbon)


def test_closed_form_for_tempered_hardness_is_not_fit_for_use() -> None:
    """It hardens steel by tempering at room temperature, and jumps at 0.45 % carbon."""
    assert tempered_share(200.0, 0.8) == pytest.approx(0.8502, abs=0.0001)
    assert tempered_share(20.0, 0.8) > 1.2
    assert tempered_share(400.0, 0.4499) - tempered_share(400.0, 0.45) > 0.1
    assert tempered_share(600.0, 0.4499) > 10.0 * tempered_share(600.0, 0.45)


def test_minutes_do_not_belong_to_the_constant_20() -> None:
    """With minutes an hour at 200 C would count as 40 K hotter than with hours."""
    kelvin = 473.15
    with_minutes = kelvin * (20.0 + math.log10(60.0)) / 20.0
    assert with_minutes - kelvin > 40.0
