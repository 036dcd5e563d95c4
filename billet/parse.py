"""A mapping (from TOML, JSON or a form) in, a checked `Recipe` out, or all faults in words."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.recipe.canonical import canonical_json
from billet.recipe.file import load_recipe_text, read_recipe_file
from billet.recipe.model import Recipe
from billet.recipe.reading import read_recipe

__all__ = ["Recipe", "canonical_json", "load", "parse_recipe"]


def load(source: str | Path | Mapping[str, Any]) -> Recipe:
    """The checked recipe of a TOML or JSON file, or of a mapping with the same keys.

    Raises RecipeError with every fault found, also where the file cannot be read.
    """
    if isinstance(source, Mapping):
        return parse_recipe(source)
    return parse_recipe(load_recipe_text(read_recipe_file(source)))


def parse_recipe(mapping: Mapping[str, Any]) -> Recipe:
    """The recipe that a mapping says, with every default filled in, and that can be forged.

    Raises RecipeError with up to 20 faults, each with its place and a sentence.
    """
    return read_recipe(mapping, check_forging)


def check_forging(recipe: Recipe) -> None:
    """Raises RecipeError for a step that the bar before it does not allow."""
    forge(recipe, build_stack(recipe))
