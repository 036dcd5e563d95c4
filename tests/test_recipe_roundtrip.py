"""A recipe keeps its meaning and its number through TOML, JSON and its own canonical form."""

import json
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema_rs import Draft202012Validator, meta
from recipe_samples import changed, good

from billet.errors import OutOfDomain, RecipeError
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.parse import canonical_json, load, parse_recipe
from billet.recipe.canonical import number_of
from billet.recipe.file import load_recipe_text, recipe_to_toml
from billet.recipe.schema import recipe_schema

FOLDER = Path(__file__).parent.parent / "recipes"
FILES = sorted(FOLDER.glob("*.toml"))
names = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


def test_there_are_recipes_to_learn_from() -> None:
    assert len(FILES) >= 9


@names
def test_recipe_begins_with_what_it_teaches(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("# ") and lines[1].startswith("# ")


@names
def test_recipe_is_a_bar_that_a_small_forge_can_make(path: Path) -> None:
    recipe = load(path)
    made = forge(recipe, build_stack(recipe))
    assert 0.3 < made.rows[0].mass_kg < 4.0
    assert 0.5 < made.rows[-1].yield_ <= 1.0
    assert max(row.length_mm for row in made.rows) < 900.0
    assert max(row.height_mm for row in made.rows if row.loose) < 60.0
    assert not [finding for finding in made.findings if finding.level == "limit"]


@names
def test_canonical_form_gives_the_same_recipe(path: Path) -> None:
    recipe = load(path)
    again = parse_recipe(recipe.given)
    assert again.recipe_id == recipe.recipe_id
    assert again.given == recipe.given
    assert again.defaults_used == ()
    assert (again.steels, again.stack, again.steps) == (recipe.steels, recipe.stack, recipe.steps)


@names
def test_toml_and_json_give_the_same_recipe(path: Path) -> None:
    recipe = load(path)
    assert parse_recipe(load_recipe_text(recipe_to_toml(recipe.given))) == parse_recipe(recipe.given)
    assert parse_recipe(load_recipe_text(json.dumps(recipe.given))).recipe_id == recipe.recipe_id


@names
def test_schema_accepts_recipes_as_written_and_as_filled_in(path: Path) -> None:
    validator = Draft202012Validator(recipe_schema())
    written = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [e.message for e in validator.iter_errors(written)] == []
    assert [e.message for e in validator.iter_errors(load(path).given)] == []


def test_schema_is_one_and_refuses_what_the_reader_refuses() -> None:
    meta.validate(recipe_schema())
    validator = Draft202012Validator(recipe_schema())
    for recipe in (
        changed("format", 2),
        changed("steels.dark", 1084),
        changed("stack.width_mm", "40"),
        changed("steps.3.kerf", 2),
        changed("steps.3.order", ...),
        changed("steps.1.atmosphere", "argon"),
        changed("control.half_width_k", 3),
        changed("stack.plates", [{"steel": "dark", "thickness_mm": 1}]),
    ):
        assert not validator.is_valid(recipe)
        with pytest.raises(RecipeError):
            parse_recipe(recipe)


def test_defaults_are_filled_in_and_told() -> None:
    recipe = parse_recipe(good())
    assert recipe.defaults_used[:4] == (
        "forge.scale_factor = 1.0",
        "steps[0].heats = 1",
        'steps[0].atmosphere = "reducing"',
        "steps[0].flux = true",
    )
    assert "steps[3].kerf_mm = 2.0" in recipe.defaults_used
    assert recipe.given["steps"][3]["kerf_mm"] == 2
    assert recipe.given["blade"] == {
        "thickness_mm": 3,
        "edge_mm": 1,
        "made": "ground",
        "start": "normalised",
        "edge_at": "middle",
    }
    assert "steps[3].trim_mm = 0.0" not in recipe.defaults_used


def test_a_fold_has_no_kerf_by_default() -> None:
    recipe = parse_recipe(changed("steps.3", {"do": "restack", "pieces": 4, "order": "folded"}))
    assert recipe.given["steps"][3]["kerf_mm"] == 0


def test_number_depends_on_what_is_said_and_not_on_how() -> None:
    recipe = parse_recipe(good())
    backwards = dict(reversed(good().items()))
    assert parse_recipe(backwards).recipe_id == recipe.recipe_id
    assert parse_recipe(changed("steps.0.heats", 1)).recipe_id == recipe.recipe_id
    assert parse_recipe(changed("steps.0.heats", 2)).recipe_id != recipe.recipe_id
    assert parse_recipe(changed("title", "Another bar")).recipe_id != recipe.recipe_id


def test_number_is_the_beginning_of_a_sha256() -> None:
    """Worked with an independent tool: printf '{"a":1}' | sha256sum."""
    assert canonical_json({"a": 1}) == '{"a":1}'
    assert number_of({"a": 1}) == "015abd7f5c"


@settings(max_examples=60, deadline=None)
@given(
    title=st.text(st.characters(codec="utf-8"), min_size=1, max_size=120).filter(
        lambda t: t.isprintable() and bool(t.strip())
    ),
    name=st.text(st.characters(codec="utf-8"), min_size=1, max_size=40).filter(
        lambda t: t.isprintable() and bool(t.strip()) and t != "dark"
    ),
    width_mm=st.floats(5.0, 500.0),
)
def test_any_text_and_number_survives_toml(title: str, name: str, width_mm: float) -> None:
    mapping = good()
    mapping["title"] = title
    mapping["steels"] = {"dark": "1084", name: "75Ni8"}
    mapping["stack"] |= {"width_mm": width_mm, "pattern": ["dark", name]}
    mapping["stack"]["thickness_mm"] = {"dark": 3.0, name: 1.5}
    recipe = parse_recipe(mapping)
    assert parse_recipe(load_recipe_text(recipe_to_toml(recipe.given))).recipe_id == recipe.recipe_id


def test_toml_escapes_what_cannot_stand_in_quotes() -> None:
    assert tomllib.loads(recipe_to_toml({"a b": 'x"\\\n\x01\x7f'})) == {"a b": 'x"\\\n\x01\x7f'}


def test_toml_refuses_what_a_recipe_cannot_hold() -> None:
    with pytest.raises(OutOfDomain):
        recipe_to_toml({"a": object()})


def test_a_toml_date_serves_as_forged_on() -> None:
    text = recipe_to_toml(parse_recipe(good()).given) + "\n[sheet]\nforged_on = 2026-03-01\n"
    assert parse_recipe(load_recipe_text(text)).sheet.forged_on == "2026-03-01"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("format = 1\ntitle = \n", "line 2, column"),
        ('{"format": 1,\n "title" 3}', "line 2, column"),
        ('{"format": 1, "format": 1}', 'the key "format" stands twice'),
        ("format = 1\nformat = 1\n", "line 2"),
        ("a = " + "[" * 100_000, "nested too deeply"),
        ('{"a":' * 100_000, "nested too deeply"),
        ("format = " + "9" * 5000, "too many digits"),
        ('{"format": ' + "9" * 5000 + "}", "too many digits"),
        ("#" * 1_000_001, "longer than 1000000 characters"),
    ],
)
def test_text_that_cannot_be_read_is_refused_with_its_line(text: str, words: str) -> None:
    with pytest.raises(RecipeError) as caught:
        load_recipe_text(text)
    assert words in caught.value.faults[0].message


def test_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RecipeError, match="cannot be read"):
        load(tmp_path / "none.toml")
    with pytest.raises(RecipeError, match="cannot be read"):
        load(tmp_path)
    latin = tmp_path / "latin.toml"
    latin.write_bytes('title = "Säge"'.encode("latin-1"))
    with pytest.raises(RecipeError, match="no UTF-8 text"):
        load(latin)


def test_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    path = tmp_path / "marked.toml"
    path.write_bytes(b"\xef\xbb\xbf" + recipe_to_toml(good()).encode())
    assert load(path).recipe_id == parse_recipe(good()).recipe_id
