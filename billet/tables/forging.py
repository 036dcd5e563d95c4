"""Numbers of forging that rest on practice or memory, each group with its basis."""

from functools import cache
from typing import Any

from billet.composition import Composition
from billet.tables.reading import read_toml


@cache
def forging_rule(group: str) -> dict[str, Any]:
    """One group of numbers of billet/data/forging.toml. Treat it as read-only."""
    entry: dict[str, Any] = read_toml("forging.toml")[group]
    return entry


def scale_rate(composition: Composition) -> float:
    """Metal a face of this steel loses to scale, for one that plain steel loses."""
    rule = forging_rule("scale_steel")
    nickel_wt = composition["Ni"]
    if composition["Cr"] > rule["resistant_cr_over_wt"] or nickel_wt > rule["resistant_ni_over_wt"]:
        return float(rule["resistant"])
    return float(rule["nickel"] if nickel_wt >= rule["nickel_from_wt"] else rule["plain"])
