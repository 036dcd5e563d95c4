"""The rules of the quench, each by what it promises."""

from typing import Any

import pytest

from billet.composition import Composition
from billet.contract.report import CarbonSpread
from billet.contract.values import Reason
from billet.hardening.critical_rate import hardenability
from billet.hardening.layer import LayerSteel, is_austenitic
from billet.hardening.quench import choose_medium, layer_quench
from billet.tables.plate_cooling import centre_rate_k_s
from billet.tables.practice import decision_numbers
from billet.tables.steels import find_steel


def layer(designation: str, carbon_wt: float | None = None) -> LayerSteel:
    grade = find_steel(designation)
    supplied = grade.nominal
    mean = supplied["C"] if carbon_wt is None else carbon_wt
    carbon = CarbonSpread(supplied["C"], mean, mean, mean, mean, mean)
    now = supplied.with_carbon(mean)
    return LayerSteel(designation, grade, None, supplied, now, carbon, 0.5, "hardens", Reason("role-hardens"))


@pytest.mark.parametrize(
    ("wt", "low_k_s", "high_k_s"),
    [
        ({"C": 0.84, "Mn": 0.75, "Si": 0.22}, 90.0, 190.0),
        ({"C": 0.85, "Mn": 0.40, "Si": 0.22}, 150.0, 300.0),
        ({"C": 0.75, "Mn": 0.40, "Si": 0.25, "Ni": 1.95}, 60.0, 120.0),
        ({"C": 0.60, "Mn": 0.875, "Si": 0.225, "Cr": 0.8}, 15.0, 35.0),
        ({"C": 0.65, "Mn": 0.35, "Si": 0.22, "Cr": 1.0}, 20.0, 55.0),
        ({"C": 0.75, "Mn": 1.2, "Si": 0.3, "Cr": 0.45}, 8.0, 17.0),
    ],
)
def test_critical_rates_against_remembered_ones(
    wt: dict[str, float], low_k_s: float, high_k_s: float
) -> None:
    """From memory: ranges of the rate for 1084, 1095, 75Ni8, 5160, 52100 and O1, K/s."""
    assert low_k_s <= hardenability(Composition(wt), cycled=True).critical_rate_k_s.value <= high_k_s


def test_the_eutectoid_steel_gets_its_published_rate_back() -> None:
    limits = decision_numbers("quench")
    rate = hardenability(Composition(limits["eutectoid_wt"]), cycled=True).critical_rate_k_s.value
    assert limits["eutectoid_all_pearlite_k_s"] < rate < limits["eutectoid_all_martensite_k_s"]


def test_uncycled_blades_harden_deeper() -> None:
    steel = find_steel("1084").nominal
    assert (
        hardenability(steel, cycled=False).critical_rate_k_s.value
        < hardenability(steel, cycled=True).critical_rate_k_s.value
    )


def asked(name: str, thickness_mm: float, dissolved_c_wt: float | None = None) -> Any:
    one = layer(name)
    carbon = dissolved_c_wt if dissolved_c_wt is not None else one.composition["C"]
    return layer_quench(one, one.composition.with_carbon(carbon), thickness_mm, cycled=True)


def test_plain_carbon_steel_needs_fast_oil_and_does_not_harden_in_medium() -> None:
    for name in ("1084", "1095"):
        found = asked(name, 4.0)
        assert found.slowest == "fast oil"
        assert centre_rate_k_s("medium oil", 4.0).value < found.hardenability.critical_rate_k_s.value


def test_a_steel_of_08_carbon_and_05_chromium_hardens_in_medium_oil() -> None:
    found = asked("80CrV2", 3.0)
    assert found.slowest == "medium oil" and found.through_hardens_to_mm is None
    assert found.fastest == "medium oil"


def test_stainless_takes_medium_or_slower() -> None:
    found = layer_quench(layer("440C"), None, 3.0, cycled=False)
    assert found.hardenability is None
    assert found.slowest in {"slow oil", "plates", "air"} and found.fastest == "medium oil"


def test_no_blade_of_this_carbon_goes_into_water() -> None:
    for name in ("1045", "1084", "1095", "C105U"):
        assert asked(name, 6.0).slowest not in {"water", "brine"}


def test_the_bar_takes_the_slowest_medium_that_hardens_every_layer() -> None:
    verdict, name, pays = choose_medium((asked("52100", 3.0, 0.7), asked("5160", 3.0)))
    assert (verdict, name, pays) == ("shared", "medium oil", ())


def test_a_layer_that_pays_is_named() -> None:
    verdict, name, pays = choose_medium((asked("1084", 3.0), asked("O1", 3.0, 0.75)))
    assert (verdict, name) == ("compromise", "fast oil")
    assert [row.steel for row in pays] == ["O1"]


def test_nickel_and_304_are_austenitic_and_440c_is_not() -> None:
    assert is_austenitic(find_steel("2.4066").nominal) and is_austenitic(find_steel("304").nominal)
    assert not is_austenitic(find_steel("440C").nominal)


@pytest.mark.parametrize("pair", [("C45U", "45NiCrMo16"), ("1018", "L6"), ("1018", "1045")])
@pytest.mark.parametrize("thickness_mm", [3.0, 5.0, 12.0])
def test_no_hardening_layer_asks_for_water(pair: tuple[str, str], thickness_mm: float) -> None:
    """Poor in carbon and thick is where the rate alone would call for water, even beside an air hardener."""
    rows = []
    for name in pair:
        one = layer(name, 0.32)
        rows.append(layer_quench(one, one.composition.with_carbon(0.28), thickness_mm, cycled=True))
    _, medium, _ = choose_medium(tuple(rows))
    assert medium not in {"water", "brine"}


def test_an_air_hardener_in_fast_oil_is_likely_to_crack() -> None:
    _, medium, pays = choose_medium((asked("1084", 5.0), asked("45NiCrMo16", 5.0, 0.45)))
    assert medium == "fast oil"
    assert any(row.steel == "45NiCrMo16" and "crack" in row.how for row in pays)
