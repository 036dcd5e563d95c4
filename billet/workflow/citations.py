"""Which sources a report rests on, each with what it was used for."""

from typing import Literal

from billet.tables.sources import source
from billet.workflow.recipe_model import Recipe
from billet.workflow.report import SourceRow

Basis = Literal["published", "practice", "memory"]

FROM_MEMORY = "from memory"

USED_BY_EVERY_PLAN: tuple[tuple[str, str], ...] = (
    ("agren-1986", "carbon diffusivity in austenite"),
    ("van-bohemen-2012", "start of martensite and retained austenite"),
    ("astm-a255", "ideal diameter, from which the critical cooling rate is drawn"),
    ("common-practice", "classes of oil for kinds of steel, soak, normalising, tempering limits"),
    ("from-memory", "film coefficients of the oil classes, scale in a reducing fire, burning limit"),
    ("own-construction", "how far a published range is moved with carbon"),
)


def source_rows(recipe: Recipe, also: tuple[tuple[str, str], ...]) -> tuple[SourceRow, ...]:
    """Every source of the plan once, with all it was used for."""
    used: dict[str, list[str]] = {}
    for key, purpose in (*USED_BY_EVERY_PLAN, *also, *_of_steels(recipe)):
        purposes = used.setdefault(key, [])
        if purpose not in purposes:
            purposes.append(purpose)
    return tuple(source_row(key, purposes) for key, purposes in used.items())


def _of_steels(recipe: Recipe) -> list[tuple[str, str]]:
    found = []
    for name, steel in recipe.steels.items():
        if steel.grade is None:
            continue
        grade, row = steel.grade, steel.grade.working
        who = f"{name} ({grade.designation})"
        found.append((grade.source, f"analysis of {who}{_remembered(grade.seen)}"))
        if row is not None:
            found.append((row.source, f"hardening range of {who}{_remembered(row.seen)}"))
    return found


def _remembered(seen: str) -> str:
    """A remembered figure says so, even where other rows of the same source were read in print."""
    return f", {FROM_MEMORY}" if seen == "memory" else ""


def source_row(key: str, purposes: list[str]) -> SourceRow:
    entry = source(key)
    remembered = all(purpose.endswith(FROM_MEMORY) for purpose in purposes)
    seen = "memory" if remembered else entry.seen
    return SourceRow(key, entry.citation, "; ".join(purposes), _basis(key, seen))


def _basis(key: str, seen: str) -> Basis:
    if key in {"common-practice", "own-construction"}:
        return "practice"
    return "memory" if seen == "memory" else "published"
