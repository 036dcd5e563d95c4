"""What the service is told when it starts; every limit in one place."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from billet import examples_folder


def default_recipes() -> Path:
    """The folder `recipes` where the service is started, else the one that ships with the package."""
    here = Path.cwd() / "recipes"
    return here if here.is_dir() else examples_folder()


def usual_workers() -> int:
    """Processes that compute where nobody says how many: one for each processor, 2 to 8."""
    return min(max(os.cpu_count() or 1, 2), 8)


@dataclass(frozen=True)
class Settings:
    """`public_url` is where others reach the service; without it no link goes on paper.

    `workers` is the number of processes that compute; with 0 all is computed in this one, in threads.
    What the others mean: `start_s` until the first process has loaded the program, `answer_s` until an
    answer is given up, `wait_for_a_place_s` until one who waits is turned away, `most_waiting` at once,
    `left_alone_s` until a computation that nobody waits for is ended, `kept_reports` plans in each process,
    `kept_answers_bytes` of finished answers.
    """

    recipes: Path
    public_url: str | None = None
    body_bytes: int = 64 * 1024
    body_s: float = 10.0
    query_bytes: int = 4 * 1024
    path_bytes: int = 1024
    start_s: float = 60.0
    answer_s: float = 10.0
    calculations_at_once: int = 4
    wait_for_a_place_s: float = 5.0
    kept_reports: int = 32
    workers: int = 0
    most_waiting: int = 64
    left_alone_s: float = 1.0
    kept_answers_bytes: int = 16 * 1024 * 1024
    lan_url: str | None = None
    """Where others on the local network reach the service; only with --lan."""


def settings_from(environment: Mapping[str, str]) -> Settings:
    """Settings for a process manager: BILLET_RECIPES, BILLET_PUBLIC_URL, BILLET_WORKERS, each optional.

    Raises ValueError where BILLET_WORKERS is no whole number of 0 or more.
    """
    workers = environment.get("BILLET_WORKERS")
    if workers is not None and not workers.isdecimal():
        raise ValueError(f"BILLET_WORKERS must be a whole number of 0 or more, got {workers[:40]!r}")
    recipes = environment.get("BILLET_RECIPES")
    return Settings(
        recipes=Path(recipes) if recipes else default_recipes(),
        public_url=environment.get("BILLET_PUBLIC_URL"),
        workers=int(workers) if workers is not None else usual_workers(),
    )
