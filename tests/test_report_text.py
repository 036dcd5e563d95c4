"""The report, the library and a state as text: the answer first, everything told, nothing too wide."""

import json
import re
from functools import cache
from pathlib import Path

import pytest

from billet import austenitised_state, find_steel, load_recipe_text, parse_recipe, plan, steels
from billet.composition import Composition
from billet.contract.report import Report
from billet.sheets.layout import WIDTH, plain
from billet.text.report import report_text
from billet.text.state import state_dict, state_text
from billet.text.steel import steel_dict, steel_text, steels_text
from billet.wording import Units, temperature

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"), key=lambda p: p.name)
EVERY = pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
UNITS: tuple[Units, ...] = ("mm", "inch")
GRADES = [steel.designation for steel in steels()]


@cache
def report_of(path: Path) -> Report:
    return plan(parse_recipe(load_recipe_text(path.read_text(encoding="utf-8")))).report


def widest(text: str) -> int:
    return max(len(line) for line in text.splitlines())


@EVERY
@pytest.mark.parametrize("units", UNITS)
def test_a_report_stays_within_a_hundred_columns(path: Path, units: Units) -> None:
    assert widest(report_text(report_of(path), units)) <= WIDTH


@EVERY
def test_the_answer_stands_before_everything_else(path: Path) -> None:
    report = report_of(path)
    lines = [line for line in report_text(report).splitlines() if line]
    answer = lines[2]
    point = report.hardening.set_point_c
    assert answer.startswith(">>> ")
    if point is None:
        assert "no set point" in answer.lower() and "°" not in answer
    else:
        assert plain(temperature(point)) in answer
        assert report.quench.medium is None or report.quench.medium in " ".join(lines[2:4])


@EVERY
def test_every_step_notice_source_and_steel_is_told(path: Path) -> None:
    report = report_of(path)
    told = " ".join(report_text(report).split())
    for notice in report.notices:
        assert " ".join(plain(notice.text).split())[1:].rstrip(".") in told
    for source in report.sources:
        assert source.citation[1:] in told
    for row in report.steels:
        assert row.designation in told
    for row in report.schedule[1:]:
        assert re.search(rf"\b{row.step} +{row.do}\b", told)


@EVERY
def test_what_hangs_on_memory_is_said_to(path: Path) -> None:
    report = report_of(path)
    if any(source.basis == "memory" for source in report.sources):
        assert "(from memory)" in report_text(report)


def test_the_library_is_told_a_line_a_grade() -> None:
    text = steels_text(steels())
    assert widest(text) <= WIDTH
    for name in GRADES:
        assert sum(line.startswith(f"{name} ") for line in text.splitlines()) >= 1


@pytest.mark.parametrize("name", GRADES)
def test_a_grade_is_told_with_every_row_and_doubt(name: str) -> None:
    steel = find_steel(name)
    text = steel_text(steel)
    assert widest(text) <= WIDTH
    told = " ".join(text.split())
    assert all(doubt.rstrip(".")[1:] in told for doubt in steel.conflicts)
    assert told.count("(the working row)") == (steel.working is not None)
    if steel.working is None or steel.working.window_c is None:
        assert "does not harden by itself" in told


@pytest.mark.parametrize("name", GRADES)
def test_a_grade_goes_through_json_unchanged(name: str) -> None:
    told = steel_dict(find_steel(name))
    assert json.loads(json.dumps(told, allow_nan=False)) == told
    assert told["designation"] == name and told["nominal"] == dict(find_steel(name).nominal.wt)


STATE_KEYS = [
    "temperature_c", "start", "ae1_c", "ae3_c", "acm_c", "equilibrium", "after_soak", "ms_c",
    "retained_austenite", "hrc", "notices",
]  # fmt: skip


@pytest.mark.parametrize("name", ["1084", "52100", "440C", "X5CrNi18-10"])
def test_a_state_has_every_key_whatever_is_known(name: str) -> None:
    told = state_dict(austenitised_state(find_steel(name).nominal, 820.0))
    assert list(told) == STATE_KEYS
    assert json.loads(json.dumps(told, allow_nan=False)) == told
    for key in ("ae1_c", "ae3_c", "acm_c", "ms_c", "retained_austenite", "hrc"):
        assert told[key] is None or told[key]["low"] <= told[key]["value"] <= told[key]["high"]
    if told["equilibrium"] is None:
        assert told["notices"]


def test_a_state_is_told_with_its_bands() -> None:
    state = austenitised_state(find_steel("52100").nominal, 845.0, "spheroidised")
    text = state_text(state)
    assert widest(text) <= WIDTH
    assert text.startswith("At 845 °C / 1553 °F, spheroidised before")
    assert re.search(r"Hardness as quenched +\d\d HRC \(\d\d to \d\d\)", text)
    assert "carbon dissolved" in text


def test_a_cold_steel_is_said_not_to_harden() -> None:
    text = state_text(austenitised_state(Composition({"C": 0.8, "Mn": 0.7}), 600.0))
    assert "does not harden from here" in text and "HRC" not in text
