"""The numbers of sweeps, partners and wishes, each group with its basis."""

from functools import cache
from typing import Any

from billet.tables.reading import read_toml


@cache
def wish_numbers(group: str) -> dict[str, Any]:
    """One group of numbers of billet/data/wish.toml."""
    entry: dict[str, Any] = read_toml("wish.toml")[group]
    return entry
