"""The equilibrium is one continuous function of the metal: no jump in lines or states along a sweep.

A jump is a step far longer than both its neighbours. A wrong root, a phase missed or a line that goes
over to another carbide would show as one.
"""

import numpy as np
import pytest
from numpy.typing import NDArray

from billet.composition import Composition
from billet.formulas.equilibrium import critical_lines, equilibrium_state, lines_many, states_many

Array = NDArray[np.float64]
BASES: dict[str, dict[str, float]] = {
    "plain 0.8": {"C": 0.80, "Mn": 0.7, "Si": 0.2},
    "plain 1.0": {"C": 0.98, "Mn": 0.4, "Si": 0.2},
    "mild": {"C": 0.18, "Mn": 0.6, "Si": 0.2},
    "medium": {"C": 0.45, "Mn": 0.7, "Si": 0.25},
    "nickel": {"C": 0.75, "Mn": 0.4, "Si": 0.25, "Ni": 2.0},
    "ball bearing": {"C": 1.02, "Mn": 0.35, "Si": 0.25, "Cr": 1.45},
    "chromium-vanadium": {"C": 0.80, "Mn": 0.4, "Si": 0.3, "Cr": 0.55, "V": 0.2},
    "spring": {"C": 0.55, "Mn": 0.8, "Si": 1.7, "Cr": 0.3},
    "chromium-molybdenum": {"C": 0.42, "Mn": 0.75, "Si": 0.25, "Cr": 1.05, "Mo": 0.2},
    "oil hardening": {"C": 0.95, "Mn": 1.1, "Si": 0.3, "Cr": 0.55, "W": 0.55, "V": 0.1},
    "manganese": {"C": 0.90, "Mn": 2.0, "Si": 0.25, "Cr": 0.35, "V": 0.1},
    "tungsten": {"C": 1.20, "Mn": 0.3, "Si": 0.2, "Cr": 0.2, "W": 1.0},
}
SWEEPS = {
    "C": np.linspace(0.3, 1.5, 121),
    "Cr": np.linspace(0.0, 5.0, 126),
    "V": np.linspace(0.0, 0.5, 101),
    "W": np.linspace(0.0, 1.4, 141),
    "Mo": np.linspace(0.0, 0.8, 101),
    "Ni": np.linspace(0.0, 3.0, 101),
    "Mn": np.linspace(0.0, 2.2, 111),
    "Si": np.linspace(0.0, 2.0, 101),
}
TEMPERATURES_C = (700.0, 740.0, 780.0, 820.0, 860.0, 950.0)


def swept(base: dict[str, float], element: str) -> dict[str, Array]:
    values = SWEEPS[element]
    return {e: np.full(len(values), v) for e, v in base.items() if e != element} | {element: values}


def jump(values: Array, least: float) -> float:
    """The longest step that is more than `least` and more than three times both its neighbours; else 0."""
    steps = np.abs(np.diff(values))
    beside = np.maximum(np.append(0.0, steps[:-1]), np.append(steps[1:], 0.0))
    odd = steps[1:-1] - np.maximum(least, 3.0 * beside[1:-1])
    return float(np.max(np.where(odd > 0.0, steps[1:-1], 0.0)))


@pytest.mark.parametrize("name", BASES)
def test_lines_do_not_jump(name: str) -> None:
    for element in SWEEPS:
        found = lines_many(swept(BASES[name], element))
        for line, values in found.items():
            there = np.isfinite(values)
            # silicon and chromium close the field of austenite: the last Ae3 before lies above 1050 C
            assert there.all() or (line == "ae3_c" and values[there][-1] > 1050.0), (element, line)
            values = values[there]
            assert jump(values, 1.0) == 0.0, (element, line)


@pytest.mark.parametrize("name", BASES)
def test_states_do_not_jump(name: str) -> None:
    for element in SWEEPS:
        for temperature_c in TEMPERATURES_C:
            found = states_many(swept(BASES[name], element), temperature_c)
            for key in ("austenite", "ferrite", "carbide"):
                assert jump(found[key], 0.02) == 0.0, (element, temperature_c, key)
            assert jump(np.log(found["carbon_activity"]), 0.02) == 0.0, (element, temperature_c)


def test_states_do_not_jump_with_temperature() -> None:
    temperatures = np.arange(600.0, 1150.0, 2.0)
    for name, base in BASES.items():
        found = states_many({e: np.full(len(temperatures), v) for e, v in base.items()}, temperatures)
        for key in ("carbide", "carbon_activity"):
            assert jump(found[key], 0.02) == 0.0, (name, key)


@pytest.mark.parametrize("vanadium_wt", [1.0, 1.5, 1.999])
def test_more_vanadium_than_the_carbon_binds_has_an_equilibrium(vanadium_wt: float) -> None:
    """From cementite none was found, and a plan with such a layer was refused for it: 1 wt% of carbon binds
    4.2 of vanadium as VC. What carbon is left grows with it and with the heat."""
    carbon_wt = np.array([0.04, 0.08, 0.16, 0.24, 0.32, 0.4, 0.56])
    held = {"C": carbon_wt, "V": np.full(7, vanadium_wt), "Mn": np.full(7, 0.4), "Si": np.full(7, 0.3)}
    found = [states_many(held, at_c) for at_c in (500.0, 600.0, 700.0)]
    for state in found:
        assert np.all(np.diff(state["carbon_activity"]) >= -1e-9)
        bound = carbon_wt < 0.8 * vanadium_wt / 4.24
        assert np.all(state["mc"][bound] > 0.9 * state["carbide"][bound])
        assert np.all(state["carbon_activity"][bound] < 0.1)
    assert np.all(found[2]["carbon_activity"][:2] > found[0]["carbon_activity"][:2])


def test_a_steel_alone_is_the_same_steel_among_a_thousand() -> None:
    """To 1e-9 in K and wt%, whatever its mates hold (the batch has every metal and every carbide)."""
    random = np.random.default_rng(3)
    names = ("C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")
    most = (1.4, 1.9, 2.0, 2.5, 3.0, 0.6, 0.3, 0.9)
    wt = {
        e: random.uniform(0.0, top, 1000) * (random.random(1000) < 0.6)
        for e, top in zip(names, most, strict=True)
    }
    wt["C"] = random.uniform(0.3, 1.4, 1000)
    for i, base in enumerate(BASES.values()):
        for e in names:
            wt[e][83 * i] = base.get(e, 0.0)
    lines, states = lines_many(wt), states_many(wt, 800.0)
    for i, base in enumerate(BASES.values()):
        alone = critical_lines(Composition(base))
        for line in ("ae1_c", "ae3_c", "acm_c"):
            assert getattr(alone, line) == pytest.approx(lines[line][83 * i], abs=1e-9), (base, line)
        state = equilibrium_state(Composition(base), 800.0)
        for key in ("austenite", "ferrite", "carbide", "mc", "carbon_activity"):
            assert getattr(state, key) == pytest.approx(states[key][83 * i], abs=1e-9), (base, key)
        for e, value in state.austenite_wt.items():
            assert value == pytest.approx(states[f"{e}_in_austenite"][83 * i], abs=1e-9), (base, e)


def test_the_order_of_the_batch_does_not_matter() -> None:
    wt = {e: np.array([base.get(e, 0.0) for base in BASES.values()]) for e in SWEEPS}
    there, back = lines_many(wt), lines_many({e: v[::-1] for e, v in wt.items()})
    for line, values in there.items():
        assert back[line][::-1] == pytest.approx(values, abs=1e-9)
