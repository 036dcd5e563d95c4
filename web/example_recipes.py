"""The example recipes: TOML files of one folder, shown with the comment they open with."""

from pathlib import Path

from billet import load_recipe_text
from web.http.address import RecipeMapping
from web.pages import RecipeCard


def recipe_files(folder: Path) -> dict[str, Path]:
    """Name and file of every example, by name."""
    return {path.stem: path for path in sorted(folder.glob("*.toml"))}


def cards(folder: Path) -> list[RecipeCard]:
    """What the first page tells of each example."""
    return [_card(name, path.read_text(encoding="utf-8")) for name, path in recipe_files(folder).items()]


def example(folder: Path, name: str) -> RecipeMapping | None:
    """The mapping of one example; None where there is no such file. No path is made from the name."""
    path = recipe_files(folder).get(name)
    return None if path is None else dict(load_recipe_text(path.read_text(encoding="utf-8")))


def _card(name: str, text: str) -> RecipeCard:
    comment = []
    for line in text.splitlines():
        if not line.startswith("#"):
            break
        comment.append(line.lstrip("# ").rstrip())
    title = str(load_recipe_text(text).get("title", name))
    return RecipeCard(name=name, title=title, says=" ".join(comment).strip())
