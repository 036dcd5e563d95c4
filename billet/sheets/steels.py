"""How a sheet names the steels of a bar."""

import re

from billet import wording
from billet.contract.report import Report, SteelRow

UNS_NUMBER = re.compile(r"[A-Z]\d{5}")


def names_of(report: Report) -> list[str]:
    """The recipe's own names of its steels."""
    return [row.steel for row in report.steels]


def steel_row(report: Report, name: str) -> SteelRow | None:
    """The row of a steel by the recipe's own name."""
    return next((row for row in report.steels if row.steel == name), None)


def called(report: Report, name: str) -> str:
    """The recipe's name with the designation: dark (1084)."""
    row = steel_row(report, name)
    if row is None or row.designation == name:
        return name
    return f"{name} ({row.designation})"


def two_names(row: SteelRow) -> str:
    """A steel in two designations where two are known: 1084 (UNS G10840)."""
    other = second_name(row)
    return f"{row.designation} ({other})" if other else row.designation


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
    """The designations of the bar: 1084 and 75Ni8."""
    return wording.listed([row.designation for row in laid_steels(report)])
