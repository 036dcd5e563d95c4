"""What can hurt people at this work, when it applies, and the figures with their sources."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from billet.tables.reading import read_toml

TAGS = frozenset(
    {
        "oil", "fire", "flux", "fluoride_flux", "metal_fume_ni_cr_mn", "carbon_monoxide", "acid",
        "dust", "bar_breaks", "hot_work", "noise", "eyes", "sealed_can", "water_brine", "zinc",
    }
)  # fmt: skip
OPERATIONS = frozenset({"weld", "draw", "restack", "grind", "harden", "temper", "etch"})


@dataclass(frozen=True)
class Figure:
    """A number that belongs to a caution. A unit of K is a difference of temperatures."""

    what: str
    value: float
    unit: str
    source: str
    basis: Literal["published", "practice", "memory"]


@dataclass(frozen=True)
class Caution:
    """One hazard. `tags` (of TAGS) say when it applies, `operations` where it is told; `brief` is the
    line for a sheet of paper, `few` the same in few words for a full one."""

    code: str
    hazard: str
    brief: str
    few: str
    text: str
    tags: tuple[str, ...]
    operations: tuple[str, ...]
    figures: tuple[Figure, ...]


@cache
def cautions() -> tuple[Caution, ...]:
    """All cautions, in the order of the file."""
    return tuple(
        Caution(
            code,
            row["hazard"],
            row["brief"],
            row["few"],
            row["text"],
            tuple(row["tags"]),
            tuple(row["operations"]),
            tuple(Figure(**figure) for figure in row["figures"]),
        )
        for code, row in read_toml("cautions.toml").items()
    )


def caution(code: str) -> Caution:
    """The caution with this code. Raises KeyError where there is none."""
    return {entry.code: entry for entry in cautions()}[code]


def cautions_for(tags: frozenset[str] | set[str], operation: str | None = None) -> tuple[Caution, ...]:
    """The cautions that bear one of these tags, and are told at this operation when one is given.

    Raises KeyError for a tag or an operation that does not exist, so that a slip hides no caution.
    """
    unknown = (set(tags) - TAGS) | ({operation} - OPERATIONS - {None})
    if unknown:
        raise KeyError(f"no such tag or operation: {', '.join(sorted(map(str, unknown)))}")
    return tuple(
        entry
        for entry in cautions()
        if not tags.isdisjoint(entry.tags) and (operation is None or operation in entry.operations)
    )
