"""A formula that decides and is used outside its fitted range is told, once."""

from pathlib import Path
from typing import Any

import pytest

from billet import parse_recipe, plan
from billet.contract.report import Notice, Report
from billet.methods import methods
from billet.report import fitted_ranges
from billet.report.words.fitted_range import INPUTS, QUANTITIES

RECIPES = Path(__file__).parent.parent / "recipes"
CODE = "outside-fitted-range"
TOLD_ELSEWHERE = {
    "scaling.metal_loss_mm": "billet.forging.fit_check",
    "scaling.oxygen_uptake_paidassi_g2_cm4_s": "billet.forging.fit_check",
    "steel_heat.enthalpy_ec3_j_kg": "billet.forging.fit_check, as the time of heating through",
    "equilibrium.states.equilibrium_state": "the same range as the critical lines",
    "martensite.alpha_van_bohemen_per_k": "the same range as Ms",
    "martensite.retained_austenite_van_bohemen": "the same range as Ms",
    "hardenability.initial_hardness_hrc": "the hardness of martensite",
    "grain.grain_size_from_diameter": "the law of growth that gives it the diameter",
    "thermometry.magnet_point_c": "refuses what lies outside",
}
CANNOT_LEAVE = {
    "activity.carbon_self_interaction": "727 to 1495 C: every heat of a recipe lies inside",
    "activity.austenite_reference": "727 to 1495 C",
    "density.ferrite_molar_volume_m3_mol": "asked for at room temperature alone",
    "density.austenite_molar_volume_m3_mol": "727 to 1394 C",
    "diffusion.carbon_diffusivity_agren_m2_s": "727 to 1495 C and carbon to 2 %",
    "diffusion.carbon_diffusivity_nickel_m2_s": "700 to 1300 C, as the fires told for the other metals",
    "diffusion.carbon_solubility_nickel": "700 to 1300 C, as the fires told for the other metals",
    "diffusion.chromium_diffusivity_stainless_m2_s": "told with the other metals that cross a seam",
    "diffusion.hot_length_ratio": "740 to 1394 C",
    "hardness.hv_to_hrc": "off by less than half a unit of HRC outside: see tests/published/hardness.toml",
    "hardness.hrc_to_hv": "off by less than half a unit of HRC outside",
    "hardenability.grain_factor": "asked for at the two grain sizes of the rules alone",
}


def of(name: str) -> Report:
    return plan(RECIPES / f"{name}.toml").report


def told(report: Report) -> list[Notice]:
    return [notice for notice in report.notices if notice.code == CODE]


def test_hardness_of_martensite_beyond_its_range_is_told_once() -> None:
    found = [n for n in told(of("reed_bed_kitchen")) if "hardness of martensite" in n.text]
    assert len(found) == 1 and found[0].level == "note"
    assert found[0].where.startswith("steels.")
    assert "C 0.10\u202f% to 0.70\u202f%" in found[0].text


def test_no_formula_is_told_twice_for_one_input() -> None:
    for path in sorted(RECIPES.glob("*.toml")):
        texts = [n.text.split(": ", 1)[1].split(" is carried on")[0] for n in told(of(path.stem))]
        assert len(texts) == len(set(texts)), path.stem


def bar(steels: dict[str, Any]) -> Report:
    """Two steels, welded and drawn at 1100 C, inside every range of temperature."""
    stack = {
        "width_mm": 40,
        "length_mm": 150,
        "pattern": list(steels),
        "count": 9,
        "thickness_mm": dict.fromkeys(steels, 3.0),
    }
    steps = [
        {"do": "weld", "temperature_c": 1100, "minutes": 12, "height_mm": 22},
        {"do": "draw", "temperature_c": 1100, "minutes": 16, "heats": 4, "height_mm": 6},
    ]
    return plan(
        parse_recipe({"format": 1, "title": "told", "steels": steels, "stack": stack, "steps": steps})
    ).report


def test_a_bar_inside_the_range_of_hardness_hears_nothing_of_it() -> None:
    report = bar({"a": "1050", "b": "51CrV4"})
    assert all(row.austenite_carbon_wt is not None for row in report.hardening.per_steel)
    assert not [n for n in told(report) if "hardness" in n.text or "ideal diameter" in n.text]


def test_stainless_beside_carbon_steel_is_told_for_its_melting_point() -> None:
    found = [n for n in told(bar({"a": "1095", "b": "440C"})) if "melting" in n.text]
    assert (
        len(found) == 1
        and "Cr 0.00\u202f% to 5.00\u202f%" in found[0].text
        and found[0].text.startswith("b: ")
    )


@pytest.mark.parametrize(
    "entry", [m for m in methods() if m.role == "decides" and m.fitted], ids=lambda m: m.key
)
def test_every_deciding_formula_with_a_range_is_asked(entry: Any) -> None:
    """Or it is said why it need not be: told elsewhere, part of another, or never outside."""
    asked = {f"{f.formula.module}.{f.formula.name}" for f in _asked()}
    factor_of_the_ideal_diameter = entry.key.startswith("hardenability.") and entry.key.endswith(
        ("_factor", "_factor_in")
    )
    assert (
        entry.key in asked
        or entry.key in TOLD_ELSEWHERE
        or entry.key in CANNOT_LEAVE
        or factor_of_the_ideal_diameter
    )
    if entry.key in asked:
        assert entry.key in QUANTITIES


def _asked() -> list[Any]:
    return [
        *fitted_ranges.OF_EVERY_METAL,
        *fitted_ranges.OF_A_HARDENABLE_METAL,
        *fitted_ranges.OF_WHAT_IS_DISSOLVED,
        *fitted_ranges.OF_CARBON_ALONE,
        *fitted_ranges.OF_A_FIRE,
        *fitted_ranges.OF_A_HOT_BAR,
    ]


def test_every_input_that_may_be_told_has_a_way_of_writing_it() -> None:
    told = (
        *fitted_ranges.OF_EVERY_METAL, *fitted_ranges.OF_A_HARDENABLE_METAL, *fitted_ranges.OF_CARBON_ALONE,
        *fitted_ranges.OF_WHAT_IS_DISSOLVED, *fitted_ranges.OF_A_FIRE,
    )  # fmt: skip
    never_asked = {"temperature_c", "grain_size"}
    for formula in told:
        given = {"temperature_c"} if formula in fitted_ranges.OF_A_FIRE else set(formula.formula.fitted)
        assert given - never_asked <= set(INPUTS), formula
