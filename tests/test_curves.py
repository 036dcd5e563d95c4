"""What the pictures of a plan are drawn from agrees with the plan itself."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from billet import hardness_curves, load_recipe_text, parse_recipe, plan, quench_picture
from billet.composition import Composition
from billet.hardening.austenite_state import middle_hardness, of_composition, states_of
from billet.tables.plate_cooling import cooling_curve

RECIPES = Path(__file__).resolve().parent.parent / "recipes"


@pytest.fixture(scope="module")
def report() -> Any:
    return plan(parse_recipe(load_recipe_text((RECIPES / "reed_bed_kitchen.toml").read_text()))).report


def test_the_curve_passes_what_the_report_says_at_the_set_point(report: Any) -> None:
    """0.02 HRC and 0.0002: the report judges by percentiles of carbon, the curve by its mean."""
    curves = {curve.steel: curve for curve in hardness_curves(report)}
    assert set(curves) == {row.steel for row in report.hardening.per_steel}
    for row in report.hardening.per_steel:
        curve = curves[row.steel]
        at = curve.temperature_c.index(report.hardening.set_point_c)
        assert curve.hrc[at] == pytest.approx(row.hrc.value, abs=0.02)
        assert curve.retained_austenite[at] == pytest.approx(row.retained_austenite.value, abs=2e-4)


def test_the_curve_is_the_middle_of_the_states_with_their_bands() -> None:
    layers = [
        of_composition(Composition({"C": 0.8, "Mn": mn, "Cr": 0.3}), "spheroidised") for mn in (0.3, 0.9)
    ]
    asked = [(layer, c) for layer in layers for c in (640.0, 740.0, 800.0, 1500.0)]
    told = [
        None if state.hrc is None or state.retained_austenite is None
        else pytest.approx((state.hrc.value, state.retained_austenite.value), abs=1e-9)
        for state in states_of(asked)
    ]  # fmt: skip
    found = middle_hardness(asked)
    assert found == told and found.count(None) == 4
    assert middle_hardness([(layers[0], 1500.0)]) == [None]


def test_curves_run_upwards_and_span_every_window(report: Any) -> None:
    for curve in hardness_curves(report):
        assert all(a < b for a, b in pairwise(curve.temperature_c))
        assert len(curve.temperature_c) == len(curve.hrc) == len(curve.retained_austenite)
    highest = max(row.possible_c[1] for row in report.hardening.per_steel)
    assert all(curve.temperature_c[-1] > highest for curve in hardness_curves(report))


def test_a_bar_with_nothing_to_harden_has_no_curves(report: Any) -> None:
    soft = tuple(replace(row, role="soft") for row in report.hardening.per_steel)
    assert hardness_curves(replace(report, hardening=replace(report.hardening, per_steel=soft))) == ()


def test_gates_are_the_critical_rates_told_as_times(report: Any) -> None:
    picture = quench_picture(report)
    for gate, row in zip(picture.gates, report.quench.per_steel, strict=True):
        assert gate.value_s * row.critical_rate_k_s.value == pytest.approx(150.0)
        assert gate.low_s <= gate.value_s <= gate.high_s


def test_the_clock_starts_at_700(report: Any) -> None:
    """From 700 to 550 C takes as long as in the table of the plate, read off by straight lines."""
    picture = quench_picture(report)
    assert picture.thickness_mm == report.recipe["blade"]["thickness_mm"]
    for curve in picture.cooling:
        seconds, temperatures = cooling_curve(curve.name, picture.thickness_mm)
        wanted = _seconds_at(seconds, temperatures, 550.0) - _seconds_at(seconds, temperatures, 700.0)
        found = _seconds_at((0.0, *curve.time_s), (700.0, *curve.temperature_c), 550.0)
        assert found == pytest.approx(wanted, rel=1e-9, abs=0)


def _seconds_at(seconds: Any, temperatures: Any, wanted_c: float) -> float:
    pairs = zip(seconds, temperatures, strict=True)
    for (before, above), (after, below) in pairwise(pairs):
        if above >= wanted_c > below:
            return float(before + (above - wanted_c) / (above - below) * (after - before))
    raise AssertionError(f"{wanted_c} is not passed")


def test_the_chosen_medium_is_among_the_curves(report: Any) -> None:
    assert report.quench.medium in {curve.name for curve in quench_picture(report).cooling}
