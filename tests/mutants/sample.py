"""The fixed sample: forty changes drawn by a seed over all areas, each with the test that catches it."""

import random
import tomllib
from dataclasses import dataclass
from pathlib import Path

from tests.mutants.places import Mutant

LISTED = Path(__file__).with_name("sample.toml")
SEED = 20
SHARES = {
    "formulas": 9,
    "data": 12,
    "recipe": 4,
    "forging": 5,
    "diffusion": 4,
    "hardening": 4,
    "report": 4,
}


@dataclass(frozen=True)
class Listed:
    """A change of the sample by its name, and the test that caught it when the sample was made, or ""."""

    mutant: str
    caught_by: str


def listed() -> tuple[Listed, ...]:
    """The sample as it is kept."""
    rows = tomllib.loads(LISTED.read_text(encoding="utf-8"))["change"]
    return tuple(Listed(row["mutant"], row["caught_by"]) for row in rows)


def drawn(mutants: list[Mutant]) -> list[Mutant]:
    """A new sample: of every area its share, by the seed; rules of decision make half of the data."""
    chance = random.Random(SEED)
    made: list[Mutant] = []
    for area, share in SHARES.items():
        of_area = [m for m in mutants if m.area == area]
        made += sorted(chance.sample(of_area, share), key=lambda m: m.name)
    return made


def keep(rows: list[Listed]) -> None:
    """Write the sample down."""
    head = "# Made by `.venv/bin/python -m tests.mutants --draw`. `caught_by` is the test that fails.\n"
    body = "".join(f"\n[[change]]\nmutant = '{r.mutant}'\ncaught_by = '{r.caught_by}'\n" for r in rows)
    LISTED.write_text(head + body, encoding="utf-8")
