"""The numbers of the rules of decision, each group with its basis."""

from functools import cache
from typing import Any

from billet.composition import Composition
from billet.tables.reading import read_toml


@cache
def decision_numbers(group: str) -> dict[str, Any]:
    """One group of numbers of billet/data/practice.toml."""
    entry: dict[str, Any] = read_toml("practice.toml")[group]
    return entry


@cache
def plain_line() -> tuple[tuple[float, float, float], ...]:
    """Carbon in wt%, low and high end in C of the hardening range of plain steels, by carbon."""
    rows = read_toml("practice.toml")["plain_line"]
    return tuple((r["carbon_wt"], r["low_c"], r["high_c"]) for r in rows)


def plain_reference(carbon_wt: float) -> Composition:
    """The plain steel that the line stands for, at a carbon content."""
    return Composition({"C": carbon_wt, **read_toml("practice.toml")["plain_reference"]})
