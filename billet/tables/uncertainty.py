"""How far what goes into a plan may be off, where no other table says it."""

from functools import cache
from typing import Any

from billet.tables.reading import read_toml


@cache
def spread(group: str) -> dict[str, Any]:
    """One group of numbers of billet/data/uncertainty.toml."""
    entry: dict[str, Any] = read_toml("uncertainty.toml")[group]
    return entry
