"""The example recipes: TOML files of one folder, shown with the comment they open with."""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from billet import BilletError, Fault, load_recipe_text
from web.http.address import RecipeMapping, TooLong, encode
from web.pages import RecipeCard

LARGEST_FILE_BYTES = 1_000_000
LONGEST_TITLE = 120
READ_ONCE = 64
"""Texts that are kept as they were read: the first page tells of every file each time it is asked for."""


@dataclass(frozen=True)
class Examples:
    """What a folder holds: the recipes that can be read, and the files that cannot, with the reason."""

    cards: tuple[RecipeCard, ...]
    unreadable: tuple[Fault, ...]


class UnreadableRecipe(ValueError):
    """A file of the folder that cannot be read as a recipe; its text may be shown."""


def examples_in(folder: Path) -> Examples:
    """What the first page tells of each file. One that is broken hides none of the others."""
    cards, unreadable = [], []
    for name, path in _files(folder).items():
        try:
            cards.append(_card(name, _text(path)))
        except UnreadableRecipe as refused:
            unreadable.append(Fault(path.name, str(refused)))
    return Examples(tuple(cards), tuple(unreadable))


def example(folder: Path, name: str) -> RecipeMapping | None:
    """The mapping of one example; None where there is no such file. No path is made from the name.

    Raises UnreadableRecipe.
    """
    path = _files(folder).get(name)
    return None if path is None else _mapping(_text(path))


def _files(folder: Path) -> dict[str, Path]:
    return {path.stem: path for path in sorted(folder.glob("*.toml"))}


def _text(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            content = stream.read(LARGEST_FILE_BYTES + 1)
    except OSError as error:
        raise UnreadableRecipe(f"it cannot be read: {error.strerror or 'it is no file'}") from None
    if len(content) > LARGEST_FILE_BYTES:
        raise UnreadableRecipe(f"a recipe has at most {LARGEST_FILE_BYTES} bytes")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise UnreadableRecipe(f"a recipe is text in UTF-8; this is not (byte {error.start})") from None


@lru_cache(READ_ONCE)
def _mapping(text: str) -> RecipeMapping:
    try:
        return load_recipe_text(text)
    except BilletError as refused:
        raise UnreadableRecipe(str(refused)) from None


@lru_cache(READ_ONCE)
def _card(name: str, text: str) -> RecipeCard:
    comment = []
    for line in text.splitlines():
        if not line.startswith("#"):
            break
        comment.append(line.lstrip("# ").rstrip())
    mapping = _mapping(text)
    title = str(mapping.get("title", name))[:LONGEST_TITLE]
    return RecipeCard(name=name, title=title, says=" ".join(comment).strip(), face=_face(mapping))


def _face(mapping: RecipeMapping) -> str | None:
    """The coded recipe for the address of its picture; a bar that something else is done to has none."""
    if any(isinstance(step, dict) and step.get("do") == "other" for step in mapping.get("steps", ())):
        return None
    try:
        return encode(mapping)
    except TooLong:
        return None
