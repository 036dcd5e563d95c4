"""What the service is told when it starts; every limit in one place."""

from dataclasses import dataclass
from pathlib import Path

from billet import examples_folder


def default_recipes() -> Path:
    """The folder `recipes` where the service is started, else the one that ships with the package."""
    here = Path.cwd() / "recipes"
    return here if here.is_dir() else examples_folder()


@dataclass(frozen=True)
class Settings:
    """`public_url` is where others reach the service; without it no link goes on paper."""

    recipes: Path
    public_url: str | None = None
    body_bytes: int = 64 * 1024
    query_bytes: int = 4 * 1024
    path_bytes: int = 1024
    answer_s: float = 10.0
    calculations_at_once: int = 4
    wait_for_a_place_s: float = 5.0
    kept_reports: int = 32
