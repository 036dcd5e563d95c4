"""Every formula in one list: what it says, who published it, where it holds, how it was checked.

Nothing is loaded until the list is asked for.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pkgutil import walk_packages
from typing import Literal

from billet.published import REGISTRY, Basis, Formula
from billet.tables.reading import read_toml
from billet.tables.sources import source

CHECK_COUNTS = "check_counts.toml"
ROLES = "formula_roles.toml"
Role = Literal["decides", "shown", "library"]


@dataclass(frozen=True)
class CheckCounts:
    """How many figures a formula is held to: `printed` by others, of which `missed` lie outside their
    tolerance; `again` are equations worked out a second time."""

    printed: int = 0
    missed: int = 0
    again: int = 0

    @property
    def total(self) -> int:
        """All checks of the formula."""
        return self.printed + self.again


@dataclass(frozen=True)
class MethodEntry:
    """One formula. `key` is module and function, `topic` a heading, `fitted` low and high by name.

    `seen` tells how its source was read: print, transcription (a public copy) or memory. `role`: decides
    where a plan or the count of bars calls it, shown where only a study or a calculator does, library
    where nothing here calls it.
    """

    key: str
    topic: str
    summary: str
    equation: str
    unit: str
    citation: str
    where: str
    seen: str
    basis: Basis
    fitted: Mapping[str, tuple[float, float]]
    note: str
    role: Role
    checks: CheckCounts


def _load_formulas() -> dict[str, str]:
    """Import every module of formulas; the heading of each by its name."""
    package = import_module("billet.formulas")
    topics = {}
    for found in walk_packages(package.__path__, f"{package.__name__}."):
        module = import_module(found.name)
        first_line = (module.__doc__ or found.name).strip().split("\n")[0]
        topics[found.name.removeprefix(f"{package.__name__}.")] = first_line.rstrip(".")
    return topics


def _entry(key: str, formula: Formula, topic: str) -> MethodEntry:
    origin = source(formula.source)
    return MethodEntry(
        key=key,
        topic=topic,
        summary=formula.summary,
        equation=formula.equation,
        unit=formula.unit,
        citation=origin.citation,
        where=formula.where,
        seen=origin.seen,
        basis=formula.basis,
        fitted=formula.fitted,
        note=formula.note,
        role=read_toml(ROLES).get(key, "library"),
        checks=CheckCounts(**read_toml(CHECK_COUNTS).get(key, {})),
    )


@cache
def methods() -> tuple[MethodEntry, ...]:
    """All registered formulas, by module and in the order in which each module has them.

    Raises SourceError where a formula names a source that the bibliography does not hold.
    """
    topics = _load_formulas()
    keys = sorted(REGISTRY, key=lambda key: REGISTRY[key].module)
    return tuple(_entry(key, REGISTRY[key], topics[REGISTRY[key].module]) for key in keys)
