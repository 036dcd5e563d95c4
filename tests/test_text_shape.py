"""What is nested too deep, or too large, is seen before a parser takes it up."""

import time
import tomllib
from pathlib import Path

import pytest

from billet import RecipeError, load_recipe_text
from billet.recipe.text_shape import DEEPEST, MOST_KEY_PARTS, json_depth_fault, toml_depth_fault

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))
SOON_S = 0.5
LONG_KEY = ".".join("a" * 30_000)


@pytest.mark.parametrize(
    "text",
    [
        f"{LONG_KEY} = 1",
        f"[{LONG_KEY}]\nx = 1",
        f"[[{LONG_KEY}]]\nx = 1",
        f"x = {{ {LONG_KEY} = 1 }}",
        f'x = """ " """\n{LONG_KEY} = 1',
        'x = { a = """q"""", ' + LONG_KEY + " = 1 }",
        f"x = 'a' # '\n{LONG_KEY} = 1",
        '"' + '"."'.join("a" * 20_000) + '" = 1',
        " . ".join("a" * 15_000) + " = 1",
        "a = " + "[" * 30_000 + "]" * 30_000,
        "a = " + "{ a = " * 10_000 + "1" + "}" * 10_000,
        '{"a": ' * 10_000 + "1" + "}" * 10_000,
        '{"a": ' + "[" * 30_000,
    ],
    ids=lambda text: text[:24],
)
def test_what_is_deep_is_refused_at_once(text: str) -> None:
    began = time.process_time()
    with pytest.raises(RecipeError, match=r"nested too deeply|parts is not read"):
        load_recipe_text(text)
    assert time.process_time() - began < SOON_S


@pytest.mark.parametrize(
    "text",
    [
        '"' * 60_000,
        '"""\\' * 15_000,
        "'''a" * 15_000,
        '"a\\' * 20_000,
        'a = "' + "\\\\" * 30_000,
        "#" * 60_000,
    ],
    ids=lambda text: text[:8],
)
def test_looking_ahead_is_quick_whatever_the_text(text: str) -> None:
    began = time.process_time()
    assert toml_depth_fault(text) is None
    assert json_depth_fault(text) is None
    assert time.process_time() - began < SOON_S


def test_the_deepest_that_is_read() -> None:
    assert toml_depth_fault(f"a = {'[' * DEEPEST}{']' * DEEPEST}") is None
    assert toml_depth_fault(f"a = {'[' * (DEEPEST + 1)}") is not None
    assert toml_depth_fault(f"{'.'.join('a' * MOST_KEY_PARTS)} = 1.5") is None
    assert toml_depth_fault(f"{'.'.join('a' * (MOST_KEY_PARTS + 1))} = 1.5") is not None


def test_dots_and_brackets_of_texts_numbers_and_comments_are_no_depth() -> None:
    dots = "." * 40 + "[" * 40
    text = f"a = \"{dots}\"\nb = '{dots}'\nc = '''\n{dots}'''\n# {dots}\n" + "d = [" + "1.5, " * 40 + "]\n"
    assert toml_depth_fault(text) is None
    assert tomllib.loads(text)["a"] == dots


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_recipes_are_far_from_the_limits(path: Path) -> None:
    assert toml_depth_fault(path.read_text(encoding="utf-8")) is None


@pytest.mark.parametrize("digits", ["0x" + "f" * 5000, "9" * 400, "-" + "9" * 30, "0b" + "1" * 90])
def test_numbers_of_endless_digits_are_refused_in_any_base(digits: str) -> None:
    with pytest.raises(RecipeError, match="too many digits"):
        load_recipe_text(f"format = {digits}")


@pytest.mark.parametrize("text", ['{"title": "\\ud800"}', '{"a": {"\\udfff": 1}}'])
def test_half_a_character_is_refused(text: str) -> None:
    with pytest.raises(RecipeError, match="half of a character"):
        load_recipe_text(text)
