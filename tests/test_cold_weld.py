"""A weld too cold to take, and how many heats a draw gets that names none."""

import itertools
from typing import Any

import pytest
from cycle_samples import alone, pair
from recipe_samples import good

from billet import parse_recipe, plan
from billet.errors import RecipeError
from billet.forging.burning import BurningLimit
from billet.forging.cold_weld import cold_weld_findings
from billet.tables.forging import forging_rule


def welded(c: float, atmosphere: str = "reducing") -> dict[str, Any]:
    recipe = pair("1084", "75Ni8", weld_c=c)
    recipe["steps"][0]["atmosphere"] = atmosphere
    return recipe


def found(c: float, burns_c: float = 1200.0, atmosphere: str = "reducing") -> list[tuple[str, str]]:
    recipe = parse_recipe(welded(c, atmosphere))
    limits = {1: BurningLimit("a", burns_c + 150.0, burns_c)}
    return [(f.reason.code, f.level) for f in cold_weld_findings(recipe, limits)]


def test_the_numbers_of_practice() -> None:
    rule = forging_rule("cold_weld")
    keys = ("caution_under_c", "limit_under_c", "under_burning_k", "refused_under_c")
    assert tuple(rule[k] for k in keys) == (1050.0, 950.0, 80.0, 850.0)
    assert forging_rule("heats")["taken_each_most_frac"] == 0.25


@pytest.mark.parametrize(
    ("c", "burns_c", "told"),
    [
        (1050.0, 1200.0, []),
        (1049.0, 1200.0, [("cold-weld", "caution")]),
        (950.0, 1200.0, [("cold-weld", "caution")]),
        (949.0, 1200.0, [("cold-weld-test-first", "limit")]),
        (1000.0, 1080.0, []),
        (990.0, 1080.0, [("cold-weld", "caution")]),
        (930.0, 1080.0, [("cold-weld", "caution")]),
        (915.0, 1080.0, [("cold-weld-test-first", "limit")]),
    ],
)
def test_the_guard_follows_the_bar(c: float, burns_c: float, told: list[tuple[str, str]]) -> None:
    assert found(c, burns_c) == told


def test_a_sealed_can_is_told_and_not_warned() -> None:
    assert found(900.0, atmosphere="sealed") == [("cold-weld-held", "note")]
    parse_recipe(welded(800.0, "sealed"))


def test_a_weld_no_fire_makes_is_refused_in_words() -> None:
    with pytest.raises(RecipeError) as refused:
        parse_recipe(welded(840.0))
    fault = refused.value.faults[0]
    assert fault.where == "steps[0].temperature_c"
    assert "too cold to weld" in fault.message and "sealed can" in fault.message
    assert "press" in fault.message


def test_the_sheet_asks_for_a_test_weld() -> None:
    report = plan(parse_recipe(welded(900.0))).report
    notice = next(n for n in report.notices if n.code == "cold-weld-test-first")
    assert "test piece" in notice.text and notice.where == "steps[0]"


def heats_of(recipe: dict[str, Any]) -> int:
    step = parse_recipe(recipe).steps[-1]
    return int(step.heats)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("height_mm", "heats"), [(29.0, 1), (22.6, 1), (22.4, 2), (15.0, 3), (8.0, 5), (6.5, 6), (3.0, 9)]
)
def test_a_draw_gets_the_heats_that_its_reduction_asks_for(height_mm: float, heats: int) -> None:
    """From 30 mm, at most a quarter of the section in one."""
    recipe = alone("1084", height_mm)
    del recipe["steps"][0]["heats"]
    assert heats_of(recipe) == heats


def test_the_default_is_listed_kept_and_planned_heat_by_heat() -> None:
    recipe = good()
    for step in recipe["steps"]:
        step.pop("heats", None)
    parsed = parse_recipe(recipe)
    assert "steps[1].heats = 3" in parsed.defaults_used
    assert "steps[0].heats = 1" in parsed.defaults_used
    again = parse_recipe(parsed.given)
    assert again.recipe_id == parsed.recipe_id and again.steps == parsed.steps
    row = plan(parsed).report.schedule[2]
    assert row.heats == 3 and len(row.each_heat) == 3
    heights = [26.0, *(heat.height_mm for heat in row.each_heat)]
    assert all(after > 0.74 * before for before, after in itertools.pairwise(heights))


def test_heats_that_are_told_stay() -> None:
    assert heats_of(alone("1084", 5.5)) == 5
