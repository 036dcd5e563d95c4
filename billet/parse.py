"""A mapping (from TOML, JSON or a form) in, a checked `Recipe` out, or all faults in words."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from billet.diffusion.work import refuse_too_much
from billet.errors import BilletError
from billet.forging.cold_weld import refuse_cold_welds
from billet.forging.default_heats import with_default_heats
from billet.forging.forge import forge
from billet.forging.model import Forged
from billet.forging.stack import build_stack
from billet.recipe.canonical import canonical_json
from billet.recipe.file import load_recipe_text, read_recipe_file
from billet.recipe.model import Recipe
from billet.recipe.reader import FaultLog
from billet.recipe.reading import read_recipe

__all__ = ["Recipe", "canonical_json", "forged_recipe", "load", "parse_recipe"]

SOURCE_RULE = "the path of a recipe file, a mapping with the keys of a recipe, or a checked recipe"


def load(source: str | Path | Mapping[str, Any]) -> Recipe:
    """The checked recipe of a TOML or JSON file, or of a mapping with the same keys.

    Raises RecipeError with every fault found, also where the file cannot be read.
    """
    return forged_recipe(source)[0]


def forged_recipe(source: Recipe | str | Path | Mapping[str, Any]) -> tuple[Recipe, Forged]:
    """The checked recipe and its forging, which is part of the check, so that a plan need not forge again.

    Raises RecipeError for what is refused, BilletError for what is neither recipe, path nor mapping.
    """
    if isinstance(source, Recipe):
        return source, forge(source, build_stack(source))
    if isinstance(source, Mapping):
        return _checked(source)
    if isinstance(source, str | Path):
        return _checked(load_recipe_text(read_recipe_file(source)))
    raise BilletError(f"a recipe is {SOURCE_RULE}; got {type(source).__name__}")


def parse_recipe(mapping: Mapping[str, Any]) -> Recipe:
    """The recipe that a mapping says, with every default filled in.

    Raises RecipeError with up to 20 faults, each with its place and a sentence.
    """
    return _checked(mapping)[0]


def check_forging(recipe: Recipe) -> Recipe:
    """The recipe with the heats that its draws ask for.

    Raises RecipeError for a step that the bar before it does not allow, or a weld that no fire makes.
    """
    complete = _completed(recipe)
    forge(complete, build_stack(complete))
    return complete


def _completed(recipe: Recipe) -> Recipe:
    log = FaultLog()
    refuse_cold_welds(recipe, log.faults)
    log.faults.raise_if_any()
    return with_default_heats(recipe)


def _checked(mapping: Mapping[str, Any]) -> tuple[Recipe, Forged]:
    recipe = _completed(replace(read_recipe(mapping), check=check_forging))
    forged = forge(recipe, build_stack(recipe))
    refuse_too_much(forged, (steel.composition for steel in recipe.steels.values()))
    return recipe, forged
