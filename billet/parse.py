"""A mapping (from TOML, JSON or a form) in, a checked `Recipe` out, or all faults in words."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from billet.errors import RecipeError
from billet.forging.cold_weld import refuse_cold_welds
from billet.forging.default_heats import with_default_heats
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.recipe import limits
from billet.recipe.faults import shown
from billet.recipe.file import load_recipe_text, read_recipe_file
from billet.recipe.model import Recipe, SheetInfo
from billet.recipe.parts import read_blade, read_control, read_sheet
from billet.recipe.reader import FaultLog, TableReader
from billet.recipe.sequence import check_sequence
from billet.recipe.stack_reader import read_stack
from billet.recipe.steels_reader import read_steels
from billet.recipe.steps_reader import read_steps

__all__ = ["Recipe", "canonical_json", "load", "parse_recipe", "recipe_id"]


def load(source: str | Path | Mapping[str, Any]) -> Recipe:
    """The checked recipe of a TOML or JSON file, or of a mapping with the same keys.

    Raises RecipeError with every fault found, also where the file cannot be read.
    """
    if isinstance(source, Mapping):
        return parse_recipe(source)
    return parse_recipe(load_recipe_text(read_recipe_file(source)))


def parse_recipe(mapping: Mapping[str, Any]) -> Recipe:
    """The recipe that a mapping says, with every default filled in.

    Raises RecipeError with up to 20 faults, each with its place and a sentence.
    """
    ledger = FaultLog()
    recipe = _read(TableReader(ledger, mapping, "", ""))
    ledger.faults.raise_if_any()
    check_sequence(recipe.stack, recipe.steps, recipe.steels, ledger.faults)
    ledger.faults.raise_if_any()
    refuse_cold_welds(recipe.steps, recipe.given, ledger.faults)
    ledger.faults.raise_if_any()
    recipe = with_default_heats(recipe, mapping)
    recipe = replace(recipe, recipe_id=recipe_id(recipe.given))
    forge(recipe, build_stack(recipe))
    return recipe


def canonical_json(given: Mapping[str, Any]) -> str:
    """The one way a checked recipe is written: sorted keys, no spaces, plain UTF-8."""
    return json.dumps(given, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def recipe_id(given: Mapping[str, Any]) -> str:
    """First ten hexadecimal digits of the SHA-256 of the canonical recipe."""
    return hashlib.sha256(canonical_json(given).encode("utf-8")).hexdigest()[:10]


def _read(root: TableReader) -> Recipe:
    if not root.whole:
        raise RecipeError(root.ledger.faults.listed)
    version = root.take("format")
    if root.has("format") and (isinstance(version, bool) or version != limits.FORMAT):
        known = f"this version reads format = {limits.FORMAT}"
        root.fault("format", f"format {shown(version)} is not known; {known}")
    root.out["format"] = limits.FORMAT
    title = root.text("title", limits.TITLE_LONGEST)
    steels = read_steels(root)
    stack = read_stack(root, steels)
    scale_factor = _scale_factor(root)
    steps = read_steps(root, steels)
    blade = read_blade(root.child("blade", "Blade: ")) if root.has("blade") else None
    control = read_control(root.child("control", "Control: ")) if root.has("control") else None
    sheet = read_sheet(root.child("sheet", "Sheet: ")) if root.has("sheet") else SheetInfo()
    root.read |= {"steps", "blade", "control", "sheet"}
    root.end()
    given = root.out if not root.ledger.faults else {}
    return Recipe(
        title=title,
        steels=steels,
        stack=stack,
        scale_factor=scale_factor,
        steps=steps,
        blade=blade,
        control=control,
        sheet=sheet,
        given=given,
        defaults_used=tuple(root.ledger.defaults_used),
        recipe_id=recipe_id(given),
    )


def _scale_factor(root: TableReader) -> float:
    part = (
        root.child("forge", "Forge: ")
        if root.has("forge")
        else TableReader(root.ledger, {}, "forge", "Forge: ")
    )
    root.read.add("forge")
    root.out["forge"] = part.out
    factor = part.number("scale_factor", limits.SCALE_FACTOR, "", limits.DEFAULTS["scale_factor"])
    part.end()
    return factor
