"""Behaviour of the equilibrium that no steel may break, and published points of iron and carbon."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas import activity
from billet.formulas.equilibrium import (
    beginning,
    carbon_activity_of_total,
    critical_lines,
    equilibrium_state,
    lines_many,
    outside_range,
    states_many,
)
from billet.formulas.equilibrium.assessed import ALLOYING, CARBON_INTERACTION
from billet.formulas.equilibrium.coefficients import carbon_interaction

LIMITS = {"Si": 2.0, "Mn": 2.0, "Cr": 1.8, "Ni": 2.5, "Mo": 0.5, "V": 0.25, "W": 1.2}


@st.composite
def steels(draw: st.DrawFn, least_carbon: float = 0.15) -> Composition:
    """Low-alloy steels inside the range: Si and Mn always, up to three others."""
    wt = {"C": draw(st.floats(least_carbon, 1.4))}
    others = draw(st.lists(st.sampled_from(["Cr", "Ni", "Mo", "V", "W"]), max_size=3, unique=True))
    for element in ("Si", "Mn", *others):
        wt[element] = draw(st.floats(0.0, LIMITS[element]))
    return Composition(wt)


def test_eutectoid_of_iron_and_carbon() -> None:
    """726.5 C and 0.762 wt% with the published parameters (old diagrams: 727 C, 0.76 to 0.77)."""
    low, high = critical_lines(Composition({"C": 0.70})), critical_lines(Composition({"C": 0.82}))
    assert low.ae1_c == pytest.approx(726.5, abs=0.3)
    assert high.ae1_c == pytest.approx(low.ae1_c, abs=0.1)
    lean, rich = 0.70, 0.82
    for _ in range(30):
        middle = 0.5 * (lean + rich)
        lines = critical_lines(Composition({"C": middle}))
        assert lines.ae3_c is not None and lines.acm_c is not None
        lean, rich = (middle, rich) if lines.ae3_c > lines.acm_c else (lean, middle)
    assert 0.5 * (lean + rich) == pytest.approx(0.762, abs=0.003)


@pytest.mark.parametrize(
    ("carbon", "acm_c"), [(0.8, 742.0), (0.9, 782.0), (1.0, 819.0), (1.2, 891.0), (1.5, 989.0)]
)
def test_cementite_line_of_iron_and_carbon(carbon: float, acm_c: float) -> None:
    """Against the same line by Gustafson's cementite of 1985, computed apart from this: within 2 K."""
    assert critical_lines(Composition({"C": carbon})).acm_c == pytest.approx(acm_c, abs=2.0)


@pytest.mark.parametrize(("carbon", "expected"), [(0.4, 0.177), (0.8, 0.410), (1.2, 0.714)])
def test_carbon_activity_at_1000_c(carbon: float, expected: float) -> None:
    """Evaluated from Gustafson 1985: the three figures that stand for his description."""
    state = equilibrium_state(Composition({"C": carbon}), 1000.0)
    assert state.carbon_activity == pytest.approx(expected, abs=0.002)


def test_pure_iron_changes_at_912_c() -> None:
    lines = critical_lines(Composition({"C": 0.0}))
    assert lines.ae1_c == pytest.approx(911.7, abs=0.5)
    assert lines.ae3_c == pytest.approx(911.7, abs=0.5)
    assert lines.acm_c is None


def test_ball_bearing_steel_at_845_c() -> None:
    """1.04 C, 1.45 Cr: carbide is left, and about 0.95 % carbon is dissolved at equilibrium."""
    state = equilibrium_state(Composition({"C": 1.04, "Mn": 0.35, "Si": 0.22, "Cr": 1.45}), 845.0)
    assert 0.88 < state.austenite_wt["C"] < 1.0
    assert 0.005 < state.carbide < 0.03


@given(steels())
@settings(max_examples=40, deadline=None)
def test_more_heat_never_dissolves_less_carbon(steel: Composition) -> None:
    temperature_c = np.arange(700.0, 1000.0, 6.0)
    wt = {e: np.full(len(temperature_c), v) for e, v in steel.wt.items()}
    found = states_many(wt, temperature_c)
    dissolved = found["austenite"] * np.nan_to_num(found["C_in_austenite"])
    assert np.diff(dissolved).min() > -1e-4


@given(steels(), st.floats(680.0, 1050.0))
@settings(max_examples=60, deadline=None)
def test_nothing_is_lost(steel: Composition, temperature_c: float) -> None:
    state = equilibrium_state(steel, temperature_c)
    assert state.austenite + state.ferrite + state.carbide == pytest.approx(1.0, abs=1e-7)
    assert min(state.austenite, state.ferrite, state.carbide, state.mc) >= 0.0
    assert state.mc <= state.carbide + 1e-12
    held = state.austenite * state.austenite_wt.get("C", 0.0)
    assert held <= steel["C"] + 1e-6
    if state.austenite == pytest.approx(1.0, abs=1e-12):
        for element, value in steel.wt.items():
            assert state.austenite_wt.get(element, 0.0) == pytest.approx(value, abs=1e-6)


@given(steels())
@settings(max_examples=40, deadline=None)
def test_lines_keep_their_order(steel: Composition) -> None:
    lines = critical_lines(steel)
    assert lines.ae1_c is not None and lines.ae3_c is not None and lines.acm_c is not None
    assert lines.ae3_c >= lines.ae1_c
    assert lines.acm_c >= lines.ae1_c
    above = equilibrium_state(steel, max(lines.ae3_c, lines.acm_c) + 1.0)
    assert above.ferrite == 0.0
    assert above.carbide - above.mc == 0.0


@given(steels())
@settings(max_examples=30, deadline=None)
def test_lines_are_where_phases_vanish(steel: Composition) -> None:
    lines = critical_lines(steel)
    assert lines.ae3_c is not None
    assert equilibrium_state(steel, lines.ae3_c - 2.0).ferrite > 0.0
    assert equilibrium_state(steel, lines.ae3_c + 0.5).ferrite == 0.0


@given(steels(), st.floats(690.0, 930.0))
@settings(max_examples=15, deadline=None)
def test_activity_never_falls_with_carbon(steel: Composition, temperature_c: float) -> None:
    carbon = np.concatenate([[0.0], np.geomspace(1e-4, 0.05, 12), np.linspace(0.06, 1.6, 60)])
    found = carbon_activity_of_total(steel, carbon, temperature_c)
    assert np.diff(found).min() >= 0.0
    assert found[0] == 0.0


def test_activity_keeps_the_shape_and_order_it_was_asked_in() -> None:
    steel = Composition({"C": 0.8, "Mn": 0.7, "Si": 0.2})
    asked = np.array([[0.8, 0.2], [1.2, 0.4]])
    found = carbon_activity_of_total(steel, asked, 900.0)
    assert found.shape == asked.shape
    alone = [equilibrium_state(steel.with_carbon(float(c)), 900.0).carbon_activity for c in asked.ravel()]
    assert found.ravel() == pytest.approx(alone, rel=1e-6)


def test_chromium_draws_carbon_where_carbide_is_left() -> None:
    """At one activity at 740 C the chromium steel holds more carbon than the nickel steel."""
    carbon = np.linspace(0.3, 1.4, 111)
    chromium = carbon_activity_of_total(
        Composition({"C": 1.0, "Mn": 0.35, "Si": 0.22, "Cr": 1.45}), carbon, 740.0
    )
    nickel = carbon_activity_of_total(
        Composition({"C": 0.75, "Mn": 0.4, "Si": 0.25, "Ni": 2.0}), carbon, 740.0
    )
    level = 0.95
    assert np.interp(level, chromium, carbon) > np.interp(level, nickel, carbon) + 0.3


def test_austenite_activity_is_that_of_the_diffusion_formulas() -> None:
    """Constants are the same; the interactions are the assessed ones plus small corrections."""
    assert activity.ASSESSED.items() >= CARBON_INTERACTION.items()
    plain = Composition({"C": 0.8})
    mine = equilibrium_state(plain, 1000.0).carbon_activity
    assert mine == pytest.approx(activity.carbon_activity(plain, 1000.0), rel=1e-5)
    for element in ALLOYING:
        kelvin = np.array([1173.15])
        shift = float(carbon_interaction(element, kelvin)[0]) - activity.interaction_assessed(element, 900.0)
        assert abs(shift) < 2.7, element


@pytest.mark.parametrize(
    ("wt", "most"),
    [
        ({"C": 0.8, "Mn": 0.7, "Si": 0.2}, 0.02),
        ({"C": 0.75, "Mn": 0.4, "Si": 0.25, "Ni": 2.0}, 0.04),
        ({"C": 1.04, "Mn": 0.35, "Si": 0.22, "Cr": 1.45}, 0.10),
        ({"C": 0.6, "Mn": 0.8, "Si": 1.9}, 0.09),
    ],
)
def test_difference_to_the_activity_that_diffusion_uses(wt: dict[str, float], most: float) -> None:
    """ln a of single austenite at 1000 C, here against Uhrenius's coefficients there.

    Two published sets of coefficients, so they may differ; the bounds are the measured differences
    (0.086 for 1.9 % silicon), rounded up, and hold them where they are.
    """
    steel = Composition(wt)
    here = math.log(equilibrium_state(steel, 1000.0).carbon_activity)
    assert abs(here - math.log(activity.carbon_activity(steel, 1000.0))) < most


@pytest.mark.parametrize(
    "wt",
    [
        {},
        {"C": 1e-9},
        {"C": 0.005, "Ni": 3.5, "Mn": 0.7, "Si": 0.25},
        {"C": 0.02, "Mn": 0.2},
        {"C": 0.30, "Mn": 0.8},
        {"C": 1.5},
        {"C": 1.5, "Cr": 5.0},
        {"C": 0.8, "Cr": 0.0, "W": 0.0, "V": 0.0},
        {"C": 0.4, "Mo": 0.5, "W": 1.4, "V": 0.1},
        {"C": 0.15, "Ni": 3.5, "Mn": 0.7, "Si": 0.25},
    ],
)
def test_edges_are_computed(wt: dict[str, float]) -> None:
    steel = Composition(wt)
    lines = critical_lines(steel)
    assert lines.ae1_c is not None
    for temperature_c in (640.0, 700.0, 745.0, 850.0, 1000.0):
        state = equilibrium_state(steel, temperature_c)
        assert state.austenite + state.ferrite + state.carbide == pytest.approx(1.0, abs=1e-7)
        assert math.isfinite(state.carbon_activity)


def test_first_austenite_of_nearly_carbon_free_iron() -> None:
    """With 0.005 % carbon the carbide is gone before there is austenite: Ae1 is the first austenite."""
    lines = critical_lines(Composition({"C": 0.005}))
    assert lines.acm_c is not None and lines.ae1_c is not None
    assert lines.acm_c < 727.0 < lines.ae1_c


def test_silicon_alone_keeps_ferrite_at_every_temperature() -> None:
    lines = critical_lines(Composition({"C": 0.01, "Si": 2.5}))
    assert lines.ae3_c is None


@pytest.mark.parametrize("wt", [{"C": 1.0, "Cr": 5.1}, {"C": 1.0, "W": 1.5, "Mo": 0.4, "V": 0.2}])
def test_high_alloy_has_no_computed_value(wt: dict[str, float]) -> None:
    with pytest.raises(OutOfDomain, match="computed equilibrium"):
        equilibrium_state(Composition(wt), 800.0)
    with pytest.raises(OutOfDomain, match="computed equilibrium"):
        critical_lines(Composition(wt))
    with pytest.raises(OutOfDomain, match="computed equilibrium"):
        states_many({e: np.array([v]) for e, v in wt.items()}, 800.0)


@pytest.mark.parametrize("temperature_c", [20.0, 449.9, 1450.1, math.nan, math.inf])
def test_refuses_temperatures_where_nothing_is_tabulated(temperature_c: float) -> None:
    with pytest.raises(OutOfDomain, match="temperature_c"):
        equilibrium_state(Composition({"C": 0.8}), temperature_c)


def test_refuses_arrays_that_cannot_be() -> None:
    with pytest.raises(OutOfDomain, match="Mn"):
        states_many({"C": np.array([0.8]), "Mn": np.array([-0.1])}, 800.0)
    with pytest.raises(OutOfDomain, match="element"):
        states_many({"C": np.array([0.8]), "Xx": np.array([0.1])}, 800.0)


def test_tells_what_lies_outside_the_range() -> None:
    assert outside_range(Composition({"C": 0.8, "Mn": 0.7, "Si": 0.2})) == []
    told = {o.name for o in outside_range(Composition({"C": 0.05, "Cr": 3.0, "Cu": 0.3, "P": 0.02}))}
    assert told == {"C", "Cr", "Cu"}


@pytest.mark.parametrize("factor", [0.8, 1.2])
def test_the_answer_does_not_depend_on_where_the_solver_begins(monkeypatch, factor):
    carbon = np.array([0.2, 0.5, 0.77, 1.0, 1.3])
    steels = {"C": carbon, "Si": 0.3 + 0.0 * carbon, "Mn": 0.6 + 0.0 * carbon, "Cr": 1.2 * carbon}
    lines, states = lines_many(steels), states_many(steels, 760.0)
    monkeypatch.setattr(beginning, "_SLOPES", factor * beginning._SLOPES)
    for name, line_c in lines_many(steels).items():
        assert line_c == pytest.approx(lines[name], abs=1e-4, nan_ok=True)
    for name, amounts in states_many(steels, 760.0).items():
        assert amounts == pytest.approx(states[name], abs=1e-6, nan_ok=True)


@pytest.mark.parametrize("temperature_c", [690.0, 695.0, 700.0, 705.0, 710.0])
def test_carbides_that_are_nearly_as_stable_are_solved_too(temperature_c):
    carbon = np.linspace(0.2, 1.6, 15)
    found = states_many({"C": carbon, "Mo": 0.5 + 0.0 * carbon, "W": 1.0 + 0.0 * carbon}, temperature_c)
    assert np.all(np.diff(found["carbide"]) > 0.0) and np.all(found["austenite"] == 0.0)
    assert found["ferrite"] + found["carbide"] == pytest.approx(np.ones(15), abs=1e-9)
