"""How a sheet names the steels of a bar: as the smith typed them, the standard's name once beside."""

import re
from collections.abc import Mapping

from billet import wording
from billet.contract.report import Report, SteelRow

UNS_NUMBER = re.compile(r"[A-Z]\d{5}")


def names_of(report: Report) -> list[str]:
    """The recipe's own names of its steels."""
    return [row.steel for row in report.steels]


def steel_row(report: Report, name: str) -> SteelRow | None:
    """The row of a steel by the recipe's own name."""
    return next((row for row in report.steels if row.steel == name), None)


def typed_name(report: Report, row: SteelRow) -> str:
    """The trade name or number as it stands in the recipe: 15N20, where the library says 75Ni8."""
    steels = report.recipe.get("steels")
    told = steels.get(row.steel) if isinstance(steels, Mapping) else None
    if isinstance(told, Mapping):
        told = told.get("like")
    return told if isinstance(told, str) and told.strip() else row.designation


def called(report: Report, name: str) -> str:
    """The recipe's name with the designation: dark (1084), bright (15N20, 75Ni8), 15N20 (75Ni8)."""
    row = steel_row(report, name)
    if row is None:
        return name
    typed = typed_name(report, row)
    told = [name, typed, row.designation]
    kept = [word for place, word in enumerate(told) if not any(_same(word, w) for w in told[:place])]
    return kept[0] if len(kept) == 1 else f"{kept[0]} ({', '.join(kept[1:])})"


def _same(one: str, other: str) -> bool:
    return one.strip().casefold() == other.strip().casefold()


def two_names(report: Report, row: SteelRow) -> str:
    """A steel in two designations where two are known: 15N20 (75Ni8, 1.5634), 1084 (UNS G10840)."""
    typed = typed_name(report, row)
    others = [name for name in (row.designation, second_name(row)) if name and not _same(name, typed)]
    return f"{typed} ({', '.join(others)})" if others else typed


def second_name(row: SteelRow) -> str | None:
    """Another name of the same grade: its number, else its first alias that differs."""
    for name in (row.number, *row.aliases):
        if name and name != row.designation:
            return f"UNS {name}" if UNS_NUMBER.fullmatch(name) else name
    return None


def laid_steels(report: Report) -> tuple[SteelRow, ...]:
    """The steels that are in the finished bar, the largest share first."""
    present = [row for row in report.steels if row.mass_share > 0.0]
    return tuple(sorted(present, key=lambda row: -row.mass_share))


def in_short(report: Report) -> str:
    """The steels of the bar as they were typed: 1084 and 15N20."""
    return wording.listed([typed_name(report, row) for row in laid_steels(report)])
