"""How the smith calls the steels of a bar: the name typed stays, the standard's stands once beside it."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet import Report


@dataclass(frozen=True)
class SteelNames:
    """`own` is the recipe's name, `means` what was typed for it, `standard` the name of the library.

    None where it would only say again what stands before it.
    """

    own: str
    means: str | None
    standard: str | None


def steel_names(report: Report) -> tuple[SteelNames, ...]:
    """The steels that are left in the bar, in the order of the recipe."""
    return tuple(
        _names(row.steel, _typed(report.recipe.get("steels", {}).get(row.steel, {})), row.designation)
        for row in report.steels
        if row.mass_share > 0.0
    )


def _typed(written: str | Mapping[str, object]) -> str | None:
    """What the recipe writes for a steel: a designation, or the grade or name of an analysis of its own."""
    if isinstance(written, str):
        return written
    told = written.get("like") or written.get("name")
    return None if told is None else str(told)


def _names(own: str, typed: str | None, designation: str) -> SteelNames:
    means = typed if typed is not None and typed.casefold() != own.casefold() else None
    said = {own.casefold(), (typed or own).casefold()}
    return SteelNames(own, means, None if designation.casefold() in said else designation)
