"""Every kind of bad recipe is refused with its place and a sentence that says what to do."""

import math
from typing import Any

import pytest
import refused_steps
import refused_tables
from recipe_samples import ONE_PLATE, changed, good, with_steps

from billet.errors import Fault, RecipeError
from billet.parse import parse_recipe

CASES = [*refused_tables.CASES, *refused_steps.CASES]


def faults_of(recipe: Any) -> tuple[Fault, ...]:
    with pytest.raises(RecipeError) as caught:
        parse_recipe(recipe)
    return caught.value.faults


@pytest.mark.parametrize(("recipe", "where", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_refuses(recipe: dict[str, Any], where: str, words: str) -> None:
    faults = faults_of(recipe)
    assert [(f.where, f.message) for f in faults if f.where == where and words in f.message], faults


def test_sample_itself_is_good() -> None:
    assert parse_recipe(good()).title == "Sample bar"


@pytest.mark.parametrize("name", [c[0] for c in CASES])
def test_sentence_begins_with_the_number_on_the_sheet(name: str) -> None:
    recipe, where = next((c[1], c[2]) for c in CASES if c[0] == name)
    if not where.startswith("steps["):
        return
    number = int(where.removeprefix("steps[").split("]")[0]) + 1
    assert all(f.message.startswith(f"Step {number}") for f in faults_of(recipe) if f.where == where)


def test_one_mistake_is_one_fault() -> None:
    assert len(faults_of(changed("stack.width_mm", "40"))) == 1
    assert len(faults_of(changed("steps.3.kerf", 2))) == 1
    assert len(faults_of(changed("steels.dark", 1084))) == 1


def test_tells_all_mistakes_at_once() -> None:
    recipe = changed("stack.width_mm", "40")
    recipe["steps"][0]["temperature_c"] = None
    recipe["blade"]["made"] = "cast"
    assert [f.where for f in faults_of(recipe)] == [
        "stack.width_mm",
        "steps[0].temperature_c",
        "blade.made",
    ]


def test_stops_at_twenty_faults() -> None:
    assert len(faults_of(changed("steps", [{"do": "weld"}] * 60))) == 20


@pytest.mark.parametrize("value", [None, 3, "x", [], math.nan])
def test_refuses_what_is_no_table(value: Any) -> None:
    assert "a table belongs here" in faults_of(value)[0].message


@pytest.mark.parametrize("key", ["title", "steels", "stack", "steps", "blade", "control", "sheet", "forge"])
def test_deep_nesting_is_refused_without_recursion(key: str) -> None:
    deep: Any = []
    for _ in range(50_000):
        deep = [deep]
    assert faults_of({**good(), key: deep})
    table: Any = {}
    for _ in range(50_000):
        table = {"title": table}
    assert faults_of({**good(), key: table})


def test_keys_that_are_no_text_are_refused() -> None:
    assert faults_of({**good(), 3: 4, None: 5})


def test_a_single_plate_needs_no_steps() -> None:
    recipe = {**with_steps(), "stack": ONE_PLATE}
    del recipe["steps"]
    assert parse_recipe(recipe).steps == ()


def test_integers_serve_as_floats_and_whole_floats_as_counts() -> None:
    assert parse_recipe(changed("stack.count", 15.0)).recipe_id == parse_recipe(good()).recipe_id
    assert parse_recipe(changed("stack.width_mm", 40.0)).recipe_id == parse_recipe(good()).recipe_id


def test_offers_fahrenheit_for_every_forging_heat_in_fahrenheit() -> None:
    assert "did you mean 2100 F, 1148 C?" in faults_of(changed("steps.0.temperature_c", 2100))[0].message
    assert "did you mean" not in faults_of(changed("steps.0.temperature_c", 2900))[0].message


def test_any_space_may_stand_in_a_title() -> None:
    assert parse_recipe(changed("title", "3\u202fmm\u00a0bar")).title == "3\u202fmm\u00a0bar"
