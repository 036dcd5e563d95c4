"""A steel at a temperature, after a soak, and quenched: bands, limits, refusals to compute."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from billet.composition import Composition
from billet.contract.report import Estimate
from billet.formulas.martensite import ms_van_bohemen_c
from billet.hardening.austenite_state import SteelState, austenitised_state
from billet.tables.steels import Start

BEARING = Composition({"C": 1.04, "Mn": 0.35, "Si": 0.22, "Cr": 1.45})
PLAIN = Composition({"C": 0.80, "Mn": 0.75, "Si": 0.20})


def estimates(state: SteelState) -> list[Estimate]:
    found = [state.ae1_c, state.ae3_c, state.acm_c, state.ms_c, state.retained_austenite, state.hrc]
    if state.after_soak is not None:
        found += [state.after_soak.austenite_carbon_wt, state.after_soak.carbide]
    return [estimate for estimate in found if estimate is not None]


def test_bearing_steel_spheroidised_at_845_c() -> None:
    """The band holds what handbooks give for it: 0.62 to 0.88 % dissolved, 8 to 12 % austenite (memory)."""
    state = austenitised_state(BEARING, 845.0, "spheroidised")
    assert state.after_soak is not None and state.retained_austenite is not None
    carbon, retained = state.after_soak.austenite_carbon_wt, state.retained_austenite
    assert carbon.low <= 0.62 and carbon.high >= 0.88
    assert retained.low <= 0.08 and retained.high >= 0.12


def test_equilibrium_is_the_upper_end_of_what_dissolves() -> None:
    for start in ("normalised", "spheroidised"):
        state = austenitised_state(BEARING, 845.0, start)
        assert state.equilibrium is not None and state.after_soak is not None
        assert state.equilibrium.austenite_carbon_wt is not None
        assert state.after_soak.austenite_carbon_wt.value <= state.equilibrium.austenite_carbon_wt
        assert state.after_soak.carbide.value >= state.equilibrium.carbide


def test_a_spheroidised_start_dissolves_less_and_leaves_less_austenite() -> None:
    coarse, fine = (austenitised_state(BEARING, 845.0, s) for s in ("spheroidised", "normalised"))
    assert coarse.after_soak is not None and fine.after_soak is not None
    assert coarse.retained_austenite is not None and fine.retained_austenite is not None
    assert coarse.after_soak.austenite_carbon_wt.value < fine.after_soak.austenite_carbon_wt.value
    assert coarse.retained_austenite.value < fine.retained_austenite.value


def test_ms_follows_what_is_dissolved_and_not_the_analysis() -> None:
    state = austenitised_state(BEARING, 845.0, "spheroidised")
    assert state.ms_c is not None
    assert state.ms_c.value > ms_van_bohemen_c(BEARING) + 30.0


def test_plain_eutectoid_steel_hardens_fully() -> None:
    state = austenitised_state(PLAIN, 800.0, "normalised")
    assert state.hrc is not None and state.equilibrium is not None
    assert 62.0 < state.hrc.value < 66.5
    assert state.equilibrium.austenite == pytest.approx(1.0)


def test_no_austenite_no_hardness() -> None:
    state = austenitised_state(PLAIN, 700.0, "normalised")
    assert state.hrc is None and state.ms_c is None and state.after_soak is None
    assert "state-no-austenite" in {n.code for n in state.notices}


@pytest.mark.parametrize(
    "wt", [{"C": 1.0, "Cr": 5.2, "Mo": 1.1}, {"C": 0.4, "Cr": 13.0}, {"C": 1.2, "W": 2.5}]
)
def test_high_alloy_is_not_extrapolated(wt: dict[str, float]) -> None:
    state = austenitised_state(Composition(wt), 950.0, "normalised")
    assert estimates(state) == []
    assert "state-high-alloy" in {n.code for n in state.notices}


def test_left_ferrite_and_odd_analyses_are_told() -> None:
    mild = austenitised_state(Composition({"C": 0.30, "Mn": 0.8}), 760.0, "normalised")
    assert "state-ferrite" in {n.code for n in mild.notices}
    odd = austenitised_state(Composition({"C": 0.8, "Cr": 3.0}), 850.0, "normalised")
    assert any(n.values.get("element") == "Cr" for n in odd.notices)


@given(
    st.floats(0.3, 1.3),
    st.floats(0.0, 1.8),
    st.floats(0.0, 2.0),
    st.floats(740.0, 900.0),
    st.sampled_from(["normalised", "spheroidised"]),
)
@settings(max_examples=40, deadline=None)
def test_every_value_lies_in_its_band(
    carbon: float, chromium: float, silicon: float, temperature_c: float, start: Start
) -> None:
    steel = Composition({"C": carbon, "Si": silicon, "Mn": 0.5, "Cr": chromium})
    state = austenitised_state(steel, temperature_c, start)
    for estimate in estimates(state):
        assert estimate.low <= estimate.value <= estimate.high
    if state.retained_austenite is not None:
        assert state.retained_austenite.low >= 0.0 and state.retained_austenite.high <= 1.0
    if state.after_soak is not None:
        assert state.after_soak.carbide.low >= 0.0
        assert state.after_soak.austenite_carbon_wt.low >= 0.0
