"""What a recipe says in its own keys follows from its fields, and a change is read like a recipe."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from recipe_samples import changed, good

from billet import build_sheet, canonical_json, plan, sheet_text
from billet.errors import RecipeError
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.parse import load, parse_recipe
from billet.recipe.file import load_recipe_text, recipe_to_toml
from billet.recipe.model import Blade, Recipe, Restack, Shop
from web.form.reading import read_form
from web.form.view import FormView, Group
from web.form.writing import Known, write_form
from web.http.address import decode, encode

FILES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))


def pairs_of(form: FormView) -> list[tuple[str, str]]:
    waiting: list[Group] = [form.general, *form.steels, form.stack, form.forge, *form.steps]
    waiting += [form.blade, form.control, form.shop, form.sheet]
    found: list[tuple[str, str]] = []
    while waiting:
        group = waiting.pop()
        waiting += group.groups
        found += [(f.name, f.text) for f in group.fields if f.kind != "flag" or f.text]
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_text_form_and_link_give_the_same_bytes(path: Path) -> None:
    recipe = load(path)
    bytes_of = canonical_json(recipe.given)
    through_text = parse_recipe(load_recipe_text(recipe_to_toml(recipe.given)))
    through_json = parse_recipe(load_recipe_text(bytes_of))
    through_link = parse_recipe(decode(encode(recipe.given)))
    # A recipe with bars that are made first is written as text; the form does not ask for them.
    for units in () if recipe.bars else ("mm", "inch"):
        form = write_form(recipe.given, (), units, Known(steels=()))  # type: ignore[arg-type]
        through_form = parse_recipe(read_form(pairs_of(form), units))  # type: ignore[arg-type]
        assert canonical_json(through_form.given) == bytes_of
    for other in (through_text, through_json, through_link):
        assert canonical_json(other.given) == bytes_of
        assert other.recipe_id == recipe.recipe_id


def test_a_replaced_kerf_changes_the_books_the_paper_and_the_number() -> None:
    recipe = parse_recipe(good())
    steps = [replace(s, kerf_mm=5.0) if isinstance(s, Restack) else s for s in recipe.steps]
    other = replace(recipe, steps=tuple(steps))
    lost = [forge(r, build_stack(r)).rows[4].lost_kg.kerf for r in (recipe, other)]
    assert lost[1] == pytest.approx(lost[0] * 5.0 / 2.0, rel=1e-9)
    assert other.given["steps"][3]["kerf_mm"] == 5
    assert other.recipe_id != recipe.recipe_id and other.bar_id != recipe.bar_id
    assert "steps[3].kerf_mm = 2.0" in recipe.defaults_used
    assert not [told for told in other.defaults_used if "kerf" in told]
    paper = [sheet_text(build_sheet(plan(r).report, "forge", "mm")) for r in (recipe, other)]
    assert "(2 mm)" in paper[0] and "(5 mm)" in paper[1] and "(2 mm)" not in paper[1]


def test_the_number_of_the_bar_stays_when_the_shop_changes() -> None:
    recipe = parse_recipe(good())
    for path, value in (
        ("shop", {"press": True}),
        ("control", {"half_width_k": 12}),
        ("sheet", {"number": "7"}),
        ("steps.1.measured", {"height_mm": 12.1}),
    ):
        other = parse_recipe(changed(path, value))
        assert other.bar_id == recipe.bar_id, path
        assert other.recipe_id != recipe.recipe_id, path
    for path, value in (("steps.1.minutes", 21), ("blade.thickness_mm", 2.5), ("steels.dark", "1095")):
        assert parse_recipe(changed(path, value)).bar_id != recipe.bar_id, path


def test_the_report_carries_both_numbers() -> None:
    recipe = parse_recipe(good())
    report = plan(recipe).report
    assert (report.recipe_id, report.bar_id) == (recipe.recipe_id, recipe.bar_id)
    assert recipe.bar_id in sheet_text(build_sheet(report, "harden", "mm"))


def test_one_meaning_has_one_number() -> None:
    recipe = parse_recipe(good())
    assert parse_recipe(changed("steels.dark", {"like": "1084"})).recipe_id == recipe.recipe_id
    assert parse_recipe(changed("steps.3.trim_mm", [10, 10])).recipe_id == recipe.recipe_id
    assert parse_recipe(changed("sheet", {})).recipe_id == recipe.recipe_id


def test_cladding_is_told_by_the_steel_or_by_the_blade() -> None:
    recipe = parse_recipe(good())
    assert not recipe.steels["bright"].cladding
    assert (
        parse_recipe(changed("steels.bright", {"like": "75Ni8", "role": "cladding"}))
        .steels["bright"]
        .cladding
    )
    told = parse_recipe(changed("blade.cladding", ["bright"]))
    assert told.steels["bright"].cladding and not told.steels["dark"].cladding
    assert told.blade is not None
    assert not replace(told, blade=replace(told.blade, cladding=())).steels["bright"].cladding
    assert not replace(told, blade=None).steels["bright"].cladding


def test_the_fire_of_the_shop_holds_where_no_control_is_told() -> None:
    shop = {"fire": "kiln_poor", "oils": [{"name": "tank 1", "class": "medium oil"}]}
    both = parse_recipe(changed("shop", shop))
    assert both.temperature_control is not None and both.temperature_control.method == "kiln_ordinary"
    alone = replace(both, control=None)
    assert alone.temperature_control is not None and alone.temperature_control.method == "kiln_poor"
    assert replace(alone, shop=None).temperature_control is None
    assert both.shop is not None and both.shop.oils[0].medium == "medium oil"
    assert isinstance(both.shop, Shop) and isinstance(both.blade, Blade)


def test_with_changes_one_place_or_several() -> None:
    recipe = parse_recipe(good())
    other = recipe.with_("steps[1].minutes", 12.0)
    assert other.given["steps"][1]["minutes"] == 12 and recipe.given["steps"][1]["minutes"] == 20
    assert other == parse_recipe(changed("steps.1.minutes", 12))
    assert other.defaults_used == recipe.defaults_used
    two = recipe.with_(**{"stack.count": 9, "title": "Nine", "stack.thickness_mm.dark": 4,
                          "steps[0].height_mm": None, "steps[4].height_mm": None})  # fmt: skip
    assert (two.stack.count, two.title) == (9, "Nine")
    assert two.stack.plates[0].thickness_mm == 4.0
    assert recipe.with_("blade", None).blade is None
    assert recipe.with_("steels.dark.wt.C", 0.9).steels["dark"].composition["C"] == 0.9
    assert recipe.with_("shop.press", True).shop == Shop(press=True)


def test_a_default_that_was_left_open_follows_the_change() -> None:
    """The kerf was not written, so a fold has none."""
    folded = parse_recipe(good()).with_("steps[3].order", "folded")
    assert folded.given["steps"][3]["kerf_mm"] == 0


@pytest.mark.parametrize(
    ("place", "value", "words"),
    [
        ("steps[1].minute", 3, 'unknown key "minute"; did you mean "minutes" or'),
        ("steps[9].minutes", 3, 'no place "steps[9].minutes"; there is "steps['),
        ("stak.count", 3, '"stack.count"'),
        ("steps[1].minutes", 9999, "Step 2 (draw): time at heat (minutes) must be a number of 0 to 600 min"),
        ("steps[1].height_mm", 200, "that is upset"),
        ("", 3, "no place"),
        ("title[0]", 3, "no place"),
    ],
)
def test_with_is_checked_like_a_recipe_and_teaches(place: str, value: Any, words: str) -> None:
    with pytest.raises(RecipeError) as caught:
        parse_recipe(good()).with_(place, value)
    assert words in caught.value.faults[0].message


@settings(max_examples=60, deadline=None)
@given(
    kerf=st.floats(0.0, 10.0),
    trim=st.tuples(st.floats(0.0, 20.0), st.floats(0.0, 20.0)),
    minutes=st.floats(0.0, 60.0),
    note=st.text("abc .,é\"'\\", min_size=1, max_size=20).filter(lambda t: bool(t.strip())),
)
def test_what_is_replaced_is_read_back(
    kerf: float, trim: tuple[float, float], minutes: float, note: str
) -> None:
    recipe = parse_recipe(good())
    steps = list(recipe.steps)
    assert isinstance(steps[3], Restack)
    steps[3] = replace(steps[3], kerf_mm=kerf, trim_mm=trim, note=note)
    steps[0] = replace(steps[0], minutes=minutes)  # type: ignore[call-arg]
    other: Recipe = replace(recipe, steps=tuple(steps))
    again = parse_recipe(load_recipe_text(recipe_to_toml(other.given)))
    assert again == other and again.recipe_id == other.recipe_id
