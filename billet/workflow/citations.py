"""Which sources a report rests on, each with what it was used for."""

from typing import Literal

from billet.tables.sources import source
from billet.workflow.recipe_model import Recipe
from billet.workflow.report import SourceRow

Basis = Literal["published", "practice", "memory"]

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
    return tuple(_row(key, "; ".join(purposes)) for key, purposes in used.items())


def _of_steels(recipe: Recipe) -> list[tuple[str, str]]:
    found = []
    for name, steel in recipe.steels.items():
        if steel.grade is None:
            continue
        found.append((steel.grade.source, f"analysis of {name} ({steel.grade.designation})"))
        if steel.grade.working is not None:
            found.append((steel.grade.working.source, f"hardening range of {name} ({steel.grade.designation})"))
    return found


def _row(key: str, purposes: str) -> SourceRow:
    entry = source(key)
    return SourceRow(key, entry.citation, purposes, _basis(key, entry.seen))


def _basis(key: str, seen: str) -> Basis:
    if key in {"common-practice", "own-construction"}:
        return "practice"
    return "memory" if seen == "memory" else "published"
