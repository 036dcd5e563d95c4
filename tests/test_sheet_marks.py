"""Hollows and grooves are marked by a short rule, which lays every mark where the schedule has it."""

import re
from itertools import pairwise
from pathlib import Path

import pytest

from billet import Operation, build_sheet, load_recipe_text, parse_recipe, plan, sheet_text, wording

RECIPES = Path(__file__).resolve().parents[1] / "recipes"


def marked(name: str) -> tuple[str, tuple]:
    """What the sheet tells of the marks, and the rows of marks of the schedule."""
    report = plan(load_recipe_text((RECIPES / f"{name}.toml").read_text(encoding="utf-8"))).report
    row = next(row for row in report.schedule if row.marks)
    made: list[Operation] = [
        made for section in build_sheet(report, "forge").sections for made in section.operations
    ]
    return next(m for m in made if m.number == row.step).then[-1], row.marks


def test_staggered_hollows_are_two_rules() -> None:
    words, marks = marked("first_rain")
    assert len(words) < 220
    rows = {line.along_mm for line in marks}
    even, on = sorted(rows)
    pitch = even[1] - even[0]
    assert on[0] - even[0] == pytest.approx(pitch / 2)
    for along_mm in rows:
        assert f"first at {wording.length(along_mm[0])}" in words
        assert f"{len(along_mm)} in all" in words
        assert all(b - a == pytest.approx(pitch) for a, b in pairwise(along_mm))
    assert f"every {wording.length(pitch)} to {wording.length(even[-1])}" in words
    assert words.count("half a pitch on") == 1
    sides = re.findall(r"[\d.]+(?=,|\u202fmm from the left|\u202fmm, half)", words)
    assert {float(mm) for mm in sides} == {round(line.across_mm, 1) for line in marks}


def test_grooves_of_both_faces_are_a_rule_each() -> None:
    words, marks = marked("slate_ladder")
    assert {line.face for line in marks} == {"top", "bottom"}
    for line in marks:
        first, last = wording.length(line.along_mm[0]), wording.length(line.along_mm[-1])
        pitch = wording.length(line.along_mm[1] - line.along_mm[0])
        rule = f"first at {first}, then every {pitch} to {last}, {len(line.along_mm)} in all"
        assert f"{line.face}: middles {rule}" in words


def test_a_value_filled_in_stands_in_the_units_of_the_sheet() -> None:
    report = plan(load_recipe_text((RECIPES / "reed_bed_kitchen.toml").read_text(encoding="utf-8"))).report
    for units, saw in (("mm", "saw 2\u202fmm"), ("inch", "saw 0.079\u202fin")):
        below = " ".join(
            " ".join(row) for section in build_sheet(report, "forge", units).sections for row in section.rows
        )
        assert saw in below


def test_a_number_that_was_proposed_bears_a_mark_until_it_is_changed() -> None:
    recipe = load_recipe_text((RECIPES / "reed_bed_kitchen.toml").read_text(encoding="utf-8"))
    steps = [dict(step) for step in recipe["steps"]]
    steps[1]["proposed"] = ["height_mm", "temperature_c", "minutes", "heats"]
    steps[3]["proposed"] = ["pieces"]
    proposed = parse_recipe({**recipe, "steps": steps})
    assert proposed.bar_id == parse_recipe(recipe).bar_id
    sheet = build_sheet(plan(proposed).report, "forge")
    made = {one.number: one for section in sheet.sections for one in section.operations}
    assert (made[2].heat_proposed, made[2].order, made[2].to) == (True, "4 heats* of 4\u202fmin*", "height*")
    assert made[4].assumed and not made[1].heat_proposed
    key = "* Proposed by the program, neither changed nor accepted: "
    told = "temperature, minutes, heats, height (step 2); pieces (step 4)."
    assert key + told in " ".join(" ".join(row) for s in sheet.sections for row in s.rows)
    assert "1060 °C / 1940 °F*" in sheet_text(sheet)
    changed = proposed.with_("steps[1].minutes", 20)
    assert changed.steps[1].proposed == ("temperature_c", "heats", "height_mm")
