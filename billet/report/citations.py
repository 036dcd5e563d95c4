"""Which sources a report rests on, each with what it was used for."""

from typing import Literal

from billet.contract.report import SourceRow
from billet.diffusion.activity_law import NICKEL_WT
from billet.diffusion.carbide_sink import SINK_CR_WT
from billet.recipe.model import Recipe
from billet.tables.sources import source

Basis = Literal["published", "practice", "memory"]

FROM_MEMORY = "from memory"

USED_BY_EVERY_PLAN: tuple[tuple[str, str], ...] = (
    ("agren-1986", "carbon diffusivity in austenite"),
    ("gustafson-1985", "carbon activity in austenite"),
    ("uhrenius-1978", "how other elements shift the activity of carbon"),
    ("crank-1975", "blurring of the other metals over a seam"),
    ("mf-steel-2024", "equilibria: Ae1, Ae3, Acm, what is dissolved"),
    ("chen-yuen-2003", "metal lost to scale"),
    ("van-bohemen-2012", "start of martensite and retained austenite"),
    ("astm-a255", "ideal diameter, from which the critical cooling rate is drawn"),
    (
        "common-practice",
        "classes of oil for kinds of steel, soak, normalising, annealing, cold, tempering limits",
    ),
    ("from-memory", "film coefficients of the oil classes, scale in a reducing fire, burning limit, grain"),
    ("lee-lee-2008", "grain of austenite after the last fire"),
    ("own-construction", "how far a published range is moved with carbon, ramps of the heat cycle"),
)


def source_rows(recipe: Recipe, also: tuple[tuple[str, str], ...]) -> tuple[SourceRow, ...]:
    """Every source of the plan once, with all it was used for."""
    used: dict[str, list[str]] = {}
    for key, purpose in (*USED_BY_EVERY_PLAN, *also, *_of_steels(recipe), *_of_alloy(recipe)):
        purposes = used.setdefault(key, [])
        if purpose not in purposes:
            purposes.append(purpose)
    return tuple(source_row(key, purposes) for key, purposes in used.items())


def _of_steels(recipe: Recipe) -> list[tuple[str, str]]:
    found = []
    start = recipe.start
    for name, steel in recipe.steels.items():
        if steel.grade is None:
            continue
        grade, row = steel.grade, steel.grade.working_from(start)
        who = f"{name} ({grade.designation})"
        found.append((grade.source, f"analysis of {who}{_remembered(grade.seen)}"))
        if row is not None:
            found.append((row.source, f"hardening range of {who}{_remembered(row.seen)}"))
    return found


def _of_alloy(recipe: Recipe) -> list[tuple[str, str]]:
    """What only steels rich in chromium, or nickel, call for."""
    found = []
    for name, steel in recipe.steels.items():
        if steel.composition["Cr"] > SINK_CR_WT:
            found.append(("mc-fe-2059", f"activity of carbon in {name}, which holds it as carbide"))
        if steel.composition["Ni"] > NICKEL_WT:
            found.append(("lander-1952", f"carbon in {name}, {FROM_MEMORY}"))
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
