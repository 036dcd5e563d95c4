"""The numbers of the heat cycle, each group with its basis."""

from functools import cache
from typing import Any

from billet.tables.reading import read_toml

FILE = "heat_cycle.toml"


@cache
def cycle_numbers(group: str) -> dict[str, Any]:
    """One group of numbers of billet/data/heat_cycle.toml. Treat it as read-only."""
    entry: dict[str, Any] = read_toml(FILE)[group]
    return entry
