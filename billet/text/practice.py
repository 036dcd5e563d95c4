"""The numbers of the rules of decision in words, for the page of methods."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from billet import wording
from billet.tables.reading import read_toml

WRITERS: tuple[tuple[str, Callable[[float], str]], ...] = (
    ("_k_s", wording.rate),
    ("_per_in", lambda value: f"{value:g} per inch"),
    ("_k", wording.difference),
    ("_k_h", wording.rate_an_hour),
    ("_c", wording.temperature),
    ("_wt", wording.wt),
    ("_mm", wording.length),
    ("_um", wording.micrometres),
    ("_min", wording.minutes),
    ("_frac", wording.percent),
    ("_hrc", wording.hardness),
)
HIDDEN = {"basis", "note", "source"}
FILES = ("practice.toml", "heat_cycle.toml", "forging.toml")


@dataclass(frozen=True)
class PracticeGroup:
    """One group of numbers: what they decide, where they come from, and each in words."""

    name: str
    basis: str
    note: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class PlainLinePoint:
    """A point of the line of plain steels, with its origin."""

    carbon: str
    window: str
    origin: str
    basis: str


def practice_groups() -> tuple[PracticeGroup, ...]:
    """Every group of practice.toml, heat_cycle.toml and forging.toml of the data, in order."""
    return tuple(
        PracticeGroup(
            name.replace("_", " "), group.get("basis", "own"), group.get("note", ""), tuple(_values(group))
        )
        for file in FILES
        for name, group in read_toml(file).items()
        if isinstance(group, dict)
    )


def plain_line_points() -> tuple[PlainLinePoint, ...]:
    """The line that published hardening ranges of plain steels make with carbon."""
    return tuple(
        PlainLinePoint(
            wording.wt(row["carbon_wt"]),
            wording.temperature_range(row["low_c"], row["high_c"]),
            row["from"],
            row["basis"],
        )
        for row in read_toml("practice.toml")["plain_line"]
    )


def _values(group: dict[str, Any]) -> list[tuple[str, str]]:
    return [_told(key, value) for key, value in group.items() if key not in HIDDEN]


def _told(key: str, value: Any) -> tuple[str, str]:
    """A key without its unit, and its value with it."""
    if isinstance(value, dict):
        return key.replace("_", " "), ", ".join(f"{k} {v:g}" for k, v in value.items())
    for suffix, write in WRITERS:
        if key.endswith(suffix) and not isinstance(value, bool):
            listed = value if isinstance(value, list) else [value]
            return key.removesuffix(suffix).replace("_", " "), ", ".join(write(float(v)) for v in listed)
    if isinstance(value, list):
        return key.replace("_", " "), " to ".join(f"{one:g}" for one in value)
    return key.replace("_", " "), f"{value:g}" if isinstance(value, int | float) else str(value)
