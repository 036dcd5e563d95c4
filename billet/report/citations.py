"""Which sources a report rests on, each with what it was used for."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from billet.contract.report import SourceRow
from billet.diffusion.activity_law import NICKEL_WT, sink_share
from billet.recipe.model import Beside, Dimple, Groove, Press, Recipe, Restack, Split, Stand, Twist
from billet.tables.sources import source

Basis = Literal["published", "practice", "memory"]

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


@dataclass(frozen=True)
class SourceUse:
    """What a source was used for; `remembered` where that figure is from memory."""

    key: str
    purpose: str
    remembered: bool = False

    @property
    def told(self) -> str:
        """A remembered figure says so, even where other rows of the same source were read in print."""
        return f"{self.purpose}, from memory" if self.remembered else self.purpose


def source_rows(recipe: Recipe, also: tuple[SourceUse, ...]) -> tuple[SourceRow, ...]:
    """Every source of the plan once, with all it was used for."""
    used: dict[str, list[SourceUse]] = {}
    always = [SourceUse(key, purpose) for key, purpose in USED_BY_EVERY_PLAN]
    for use in (*always, *also, *_of_steels(recipe), *_of_alloy(recipe)):
        uses = used.setdefault(use.key, [])
        if use not in uses:
            uses.append(use)
    return tuple(source_row(uses) for uses in used.values())


def _of_steels(recipe: Recipe) -> list[SourceUse]:
    found = []
    start = recipe.start
    for name, steel in recipe.steels.items():
        if steel.grade is None:
            continue
        grade, row = steel.grade, steel.grade.working_from(start)
        who = f"{name} ({grade.designation})"
        found.append(SourceUse(grade.source, f"analysis of {who}", grade.seen == "memory"))
        if row is not None:
            found.append(SourceUse(row.source, f"hardening range of {who}", row.seen == "memory"))
    return found


def _of_alloy(recipe: Recipe) -> list[SourceUse]:
    """What only steels rich in chromium, or nickel, call for."""
    found = []
    for name, steel in recipe.steels.items():
        if sink_share(steel.composition) > 0.0:
            found.append(SourceUse("mc-fe-2059", f"activity of carbon in {name}, which holds it as carbide"))
        if steel.composition["Ni"] > NICKEL_WT:
            found.append(SourceUse("lander-1952", f"carbon in {name}", remembered=True))
    return found


def pattern_sources(recipe: Recipe) -> tuple[SourceUse, ...]:
    """What stands behind steps that make a pattern, and behind bars laid side by side."""
    plans = [plan for _, plan in recipe.parts]
    steps = [step for plan in plans for step in plan.steps]
    lays = [plan.stack.plates for plan in plans] + [s.lay or () for s in steps if isinstance(s, Restack)]
    found = []
    if any(isinstance(step, Twist) for step in steps):
        found.append(SourceUse("common-practice", "how square, how tight and how hot a bar is twisted"))
    if any(isinstance(step, Twist | Groove | Dimple | Press | Stand | Split) for step in steps):
        shapes = "shapes of grooves, dimples and dies, carbon of layers that reach every face alike"
        found.append(SourceUse("own-construction", shapes))
    if any(isinstance(item, Beside) for lay in lays for item in lay):
        found.append(SourceUse("own-construction", "bars side by side, each followed for itself"))
    return tuple(found)


def source_row(uses: Sequence[SourceUse]) -> SourceRow:
    """One source with all that it was used for; at least one use."""
    key = uses[0].key
    entry = source(key)
    seen = "memory" if all(use.remembered for use in uses) else entry.seen
    return SourceRow(key, entry.citation, "; ".join(use.told for use in uses), _basis(key, seen))


def _basis(key: str, seen: str) -> Basis:
    if key in {"common-practice", "own-construction"}:
        return "practice"
    return "memory" if seen == "memory" else "published"
