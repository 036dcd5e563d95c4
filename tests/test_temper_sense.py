"""A temper makes nothing harder, and nothing is tempered that was not hardened."""

from typing import Any

import pytest

from billet import austenitised_state, plan
from billet.composition import Composition


def three_plates(core: str, sides: str, blade_mm: float = 3.0, height_mm: float = 6.0) -> Any:
    fire = {"minutes": 10, "heats": 3, "height_mm": height_mm, "width_mm": 40}
    plates = [{"steel": name, "thickness_mm": 6} for name in ("sides", "core", "sides")]
    planned = plan(
        {
            "format": 1,
            "title": "Three plates",
            "steels": {"core": core, "sides": sides},
            "stack": {"width_mm": 40, "length_mm": 150, "plates": plates},
            "steps": [
                {"do": "weld", "temperature_c": 1080, "minutes": 5, "height_mm": 15},
                {"do": "draw", "temperature_c": 1040, **fire},
            ],
            "blade": {"thickness_mm": blade_mm},
        }
    )
    return planned.report


PAIRS = [("110WCrV5", "420"), ("1095", "440C"), ("60WCrV8", "420"), ("1084", "75Ni8"), ("X46Cr13", "440C")]


@pytest.mark.parametrize("pair", PAIRS)
def test_no_temper_makes_a_layer_harder(pair: tuple[str, str]) -> None:
    report = three_plates(*pair)
    quenched = {row.steel: row.hrc for row in report.hardening.per_steel}
    for step in report.temper.table:
        for row in step.per_steel:
            hrc = quenched[row.steel]
            assert hrc is None or 0.5 * (row.low + row.high) <= hrc.value + 1e-9


@pytest.mark.parametrize("pair", PAIRS)
def test_only_hardened_layers_are_tempered(pair: tuple[str, str]) -> None:
    report = three_plates(*pair)
    hardening = report.hardening
    heat_c = hardening.set_point_c
    if heat_c is None:
        heat_c = hardening.least_bad.c if hardening.least_bad is not None else None
    lows = {row.steel: row.possible_c[0] for row in hardening.per_steel if row.possible_c is not None}
    told = {row.steel for step in report.temper.table for row in step.per_steel}
    assert all(heat_c is not None and lows[name] <= heat_c for name in told)


def test_a_blade_out_of_one_layer_says_so() -> None:
    thick = three_plates("1084", "75Ni8", blade_mm=1.0)
    assert "blade-in-one-layer" in {n.code for n in thick.notices}
    assert "blade-in-one-layer" not in {n.code for n in three_plates("1084", "75Ni8").notices}


def test_steel_too_hot_to_be_steel_has_no_state() -> None:
    steel = Composition({"C": 0.95, "Mn": 0.4, "Si": 0.22})
    melted, burning = austenitised_state(steel, 1400.0), austenitised_state(steel, 1250.0)
    assert melted.hrc is None and melted.notices[0].code == "state-melts"
    assert burning.hrc is not None and burning.notices[0].code == "state-burns"
    assert not any(n.code == "state-burns" for n in austenitised_state(steel, 820.0).notices)


def test_no_advice_to_keep_steel_in_the_fire_for_hours() -> None:
    """Beside sides that stay soft more fire only drains the core."""
    report = three_plates("1095", "X5CrNi18-10", blade_mm=5.0)
    told = [notice.text for notice in report.notices if notice.code == "uneven-carbon"]
    assert told and not any("welding heat" in text for text in told)
