"""The recipes that ship with the package, each with a comment on what it teaches."""

from pathlib import Path

HERE = Path(__file__).resolve().parent
PLACES = (HERE / "data" / "recipes", HERE.parent / "recipes")
"""In an installed package they lie in the data, in a working copy beside the package."""


def examples_folder() -> Path:
    """The folder of the example recipes. It is not there where the package was put together without."""
    return next((place for place in PLACES if place.is_dir()), PLACES[0])


def example_recipes() -> dict[str, Path]:
    """Name and file of every example recipe, by name: `plan(example_recipes()["reed_bed_kitchen"])`."""
    return {path.stem: path for path in sorted(examples_folder().glob("*.toml"))}
