"""Recipes from a file or from standard input, bounded, and every failure in words."""

import sys
from pathlib import Path
from typing import Any

from billet.errors import Fault, RecipeError

LARGEST_FILE_BYTES = 1_000_000
LONGEST_SHOWN = 200


def read_recipe(path: str) -> dict[str, Any]:
    """The mapping that a file says, unchecked; - is standard input. Raises RecipeError."""
    from billet import load_recipe_text

    try:
        raw = _standard_input() if path == "-" else _file(path)
    except OSError as error:
        name = "standard input" if path == "-" else _short(path)
        raise refusal(f"cannot read {name}: {error.strerror or 'it is no file'}") from None
    if len(raw) > LARGEST_FILE_BYTES:
        raise refusal(f"a recipe has at most {LARGEST_FILE_BYTES} bytes")
    try:
        return load_recipe_text(raw.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise refusal("a recipe is text in UTF-8; this is not") from None


def read_shop(path: str) -> dict[str, Any]:
    """The smith's own fire and oils: the table [shop] of a file. Raises RecipeError."""
    from billet.own_shop import oils_with_classes, own_oil_faults

    told = read_recipe(path).get("shop")
    if not isinstance(told, dict):
        raise refusal("--shop: the file has no table [shop]")
    oils = told.get("oils")
    if isinstance(oils, list) and all(isinstance(oil, dict) for oil in oils):
        told = {**told, "oils": oils_with_classes(oils)}
        if faults := own_oil_faults(told["oils"], "shop.oils"):
            raise RecipeError(faults)
    return told


def refusal(message: str) -> RecipeError:
    """One fault without a place."""
    return RecipeError([Fault("", message)])


def _short(path: str) -> str:
    return path if len(path) <= LONGEST_SHOWN else f"{path[:LONGEST_SHOWN]}..."


def _standard_input() -> bytes:
    try:
        return sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1)
    except (AttributeError, ValueError):
        raise refusal("cannot read standard input: it is closed") from None


def _file(path: str) -> bytes:
    if "\0" in path:
        raise refusal(f"cannot read {_short(path)!r}: no file can have this name")
    with Path(path).open("rb") as stream:
        return stream.read(LARGEST_FILE_BYTES + 1)
