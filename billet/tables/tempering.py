"""Hardness after tempering by analysis: printed curves, printed ranges, and the numbers of the rule."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from billet.tables.reading import read_toml
from billet.tables.steels import Seen


@dataclass(frozen=True)
class TemperCurve:
    """Hardness against tempering temperature for one analysis, from one source.

    `points` are (temper C, HRC) in rising order, after `minutes` at heat; `quenched_hrc` is the hardness
    before the temper, None for all martensite of that carbon. `name` is the steel as the source calls it.
    """

    name: str
    wt: Mapping[str, float]
    points: tuple[tuple[float, float], ...]
    quenched_hrc: float | None
    minutes: float
    source: str
    seen: Seen
    note: str

    def __hash__(self) -> int:
        return hash((self.name, self.source, self.minutes, self.points))


@dataclass(frozen=True)
class TemperRange:
    """The top of the tempering range that a source prints for a grade. [C]"""

    name: str
    wt: Mapping[str, float]
    high_c: float
    source: str
    seen: Seen


@cache
def temper_curves() -> tuple[TemperCurve, ...]:
    """Every curve the model is moved to."""
    return tuple(
        TemperCurve(
            row["name"],
            row["wt"],
            tuple(sorted((float(t), float(h)) for t, h in row["points"])),
            row.get("quenched_hrc"),
            row["minutes"],
            row["source"],
            row["seen"],
            row.get("note", ""),
        )
        for row in read_toml("tempering.toml")["curve"]
    )


@cache
def temper_ranges() -> tuple[TemperRange, ...]:
    """Every printed range that stands for the usual one near its analysis."""
    return tuple(
        TemperRange(row["name"], row["wt"], row["high_c"], row["source"], row["seen"])
        for row in read_toml("tempering.toml")["printed_range"]
    )


@cache
def temper_numbers(group: str) -> dict[str, Any]:
    """One group of numbers of billet/data/tempering.toml."""
    entry: dict[str, Any] = read_toml("tempering.toml")[group]
    return entry
