"""Equilibria computed elsewhere, of compositions that no correction was fitted to.

tests/equations/equilibrium_held_back_NOTICE.txt says where they come from. The limits are those the
model was asked to keep in nine cases of ten; what it reaches is nearer 1 K, 1 K, 3 K and 0.005 wt%.
"""

import csv
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from billet.composition import Composition
from billet.formulas.equilibrium import critical_lines, equilibrium_state, errors, lines_many, states_many

FOLDER = Path(__file__).parent / "equations"
ELEMENTS = ("C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")
Array = NDArray[np.float64]


def number(text: str) -> float:
    return float(text) if text and not text.startswith(">") else np.nan


@cache
def lines() -> dict[str, Array]:
    with (FOLDER / "equilibrium_held_back_lines.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    columns = [*(f"{e}_wt" for e in ELEMENTS), "ae1_c", "ae3_c", "acm_c"]
    return {name: np.array([number(row[name]) for row in rows]) for name in columns}


def wt_of(table: dict[str, Array]) -> dict[str, Array]:
    return {e: table[f"{e}_wt"] for e in ELEMENTS}


@cache
def points() -> tuple[dict[str, Array], dict[str, Array], Array]:
    """What the tables hold, the compositions, the temperatures."""
    with (FOLDER / "equilibrium_held_back_lines.csv").open(encoding="utf-8") as file:
        steels = {row["id"]: row for row in csv.DictReader(file)}
    with (FOLDER / "equilibrium_held_back_points.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    wt = {e: np.array([float(steels[row["id"]][f"{e}_wt"]) for row in rows]) for e in ELEMENTS}
    names = ("austenite", "ferrite", "carbide", "mc", "carbon_in_austenite_wt", "carbon_activity")
    told = {name: np.array([number(row[name]) for row in rows]) for name in names}
    return told, wt, np.array([float(row["temperature_c"]) for row in rows])


@cache
def computed_lines() -> dict[str, Array]:
    return lines_many(wt_of(lines()))


@cache
def computed_points() -> dict[str, Array]:
    _, wt, temperature_c = points()
    return states_many(wt, temperature_c)


def ninth(miss: Array) -> float:
    """The error that nine cases in ten stay under; a case without an answer counts as endless."""
    return float(np.quantile(np.where(np.isnan(miss), np.inf, np.abs(miss)), 0.9))


def line_miss(name: str) -> Array:
    table = lines()[name]
    there = np.isfinite(table)
    return np.asarray(computed_lines()[name][there] - table[there])


def test_three_hundred_compositions_are_held_back() -> None:
    assert len(lines()["C_wt"]) == 300
    assert len(points()[2]) == 2700


def test_ae1_within_8_kelvin() -> None:
    assert ninth(line_miss("ae1_c")) < 8.0


def test_ae3_within_5_kelvin() -> None:
    assert ninth(line_miss("ae3_c")) < 5.0


def test_acm_within_12_kelvin() -> None:
    assert ninth(line_miss("acm_c")) < 12.0


def test_dissolved_carbon_within_two_hundredths() -> None:
    told, _, temperature_c = points()
    asked = (temperature_c >= 760.0) & (temperature_c <= 860.0) & (told["austenite"] > 0.0)
    miss = computed_points()["C_in_austenite"] - told["carbon_in_austenite_wt"]
    assert ninth(miss[asked]) < 0.02


def test_amounts_and_activity() -> None:
    told, _, _ = points()
    found = computed_points()
    assert ninth(found["austenite"] - told["austenite"]) < 0.01
    assert ninth(found["carbide"] - told["carbide"] - told["mc"]) < 0.003
    assert ninth(found["mc"] - told["mc"]) < 0.001
    assert ninth(np.log(found["carbon_activity"] / told["carbon_activity"])) < 0.02


def test_the_stated_errors_hold_on_what_was_held_back() -> None:
    """They were measured on the develop part; up to half as much again is allowed here."""
    assert ninth(line_miss("ae1_c")) < 1.5 * errors.MODEL_AE1_K
    assert ninth(line_miss("ae3_c")) < 1.5 * errors.MODEL_AE3_K
    assert ninth(line_miss("acm_c")) < 1.5 * errors.MODEL_ACM_K
    told, _, _ = points()
    there = told["austenite"] > 0.0
    carbon = (computed_points()["C_in_austenite"] - told["carbon_in_austenite_wt"])[there]
    assert ninth(carbon) < 1.5 * errors.MODEL_CARBON_WT
    ferrite = (computed_points()["ferrite"] - told["ferrite"])[told["ferrite"] > 0.0]
    assert ninth(ferrite) < 1.5 * errors.MODEL_FERRITE
    total = told["carbide"] + told["mc"]
    assert ninth((computed_points()["carbide"] - total)[total > 0.0]) < 1.5 * errors.MODEL_CARBIDE
    activity = np.log(computed_points()["carbon_activity"] / told["carbon_activity"])
    assert ninth(activity) < 1.5 * errors.MODEL_LN_ACTIVITY


def test_hardly_a_case_is_far_off() -> None:
    """One in fifty may be worse than three times the limit: steels rich in tungsten with M6C."""
    for name, limit in (("ae1_c", 24.0), ("ae3_c", 15.0), ("acm_c", 36.0)):
        assert np.mean(~(np.abs(line_miss(name)) < limit)) < 0.04, name


def test_steels_one_by_one_are_the_steels_of_the_table() -> None:
    """A sample of one, with no metal and no carbide of its mates, to 1e-9."""
    _, wt, temperature_c = points()
    found, many = computed_points(), computed_lines()
    for i in range(0, 2700, 90):
        steel = Composition({e: float(wt[e][i]) for e in ELEMENTS})
        one = equilibrium_state(steel, float(temperature_c[i]))
        for name in ("austenite", "ferrite", "carbide", "mc", "carbon_activity"):
            assert abs(getattr(one, name) - found[name][i]) < 1e-9, (steel, temperature_c[i], name)
    table = lines()
    for i in range(0, 300, 15):
        steel = Composition({e: float(table[f"{e}_wt"][i]) for e in ELEMENTS})
        single = critical_lines(steel)
        for name in ("ae1_c", "ae3_c", "acm_c"):
            value = getattr(single, name)
            assert value is not None
            assert abs(value - many[name][i]) < 1e-9, (steel, name)
