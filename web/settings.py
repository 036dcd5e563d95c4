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
    """`public_url` is where others reach the service; without it no link goes on paper.

    `workers` is the number of processes that compute; with 0 all is computed in this one, in threads.
    What the others mean: `answer_s` until an answer is given up, `wait_for_a_place_s` until one who waits
    is turned away, `most_waiting` at once, `left_alone_s` until a computation that nobody waits for is
    ended, `kept_reports` plans in each process, `kept_answers_bytes` of finished answers.
    """

    recipes: Path
    public_url: str | None = None
    body_bytes: int = 64 * 1024
    query_bytes: int = 4 * 1024
    path_bytes: int = 1024
    answer_s: float = 10.0
    calculations_at_once: int = 4
    wait_for_a_place_s: float = 5.0
    kept_reports: int = 32
    workers: int = 0
    most_waiting: int = 64
    left_alone_s: float = 1.0
    kept_answers_bytes: int = 16 * 1024 * 1024
