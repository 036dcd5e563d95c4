"""What the first screen of a plan shows, read from its report."""

from typing import Any

from billet import Report
from web.form import fields
from web.form.fields import Spec
from web.steel_names import SteelNames, steel_names

SECTIONS = (
    ("answer", "Answer"), ("windows", "Heat"), ("quench", "Oil"), ("temper", "Temper"), ("cycle", "Cycle"),
    ("forge", "Forging"), ("carbon", "Carbon"), ("pattern", "Pattern"), ("control", "Fire"),
    ("steels", "Steels"), ("cautions", "Cautions"), ("safety", "Safety"), ("sources", "Sources"),
)  # fmt: skip


class PlanFacts:
    """Facts of the report that the plan page lays out in an order of its own."""

    report: Report

    @property
    def names(self) -> tuple[SteelNames, ...]:
        """Every steel of the bar as the smith calls it, with what it is."""
        return steel_names(self.report)

    @property
    def came(self) -> tuple[Spec, ...]:
        """What can be entered of a bar after a step."""
        return fields.table("measured")

    @property
    def contents(self) -> tuple[tuple[str, str], ...]:
        """The sections in their order: place on the page and a word for the list of contents."""
        told = self.report.temper
        temper = bool(told.table or told.wanted or told.not_told)
        return tuple(pair for pair in SECTIONS if pair[0] != "temper" or temper)

    @property
    def watch(self) -> tuple[Any, ...]:
        """What to watch in this bar, limits before cautions."""
        told = [n for n in self.report.notices if n.level != "note" and n.where != "safety"]
        return tuple(sorted(told, key=lambda notice: notice.level != "limit"))

    @property
    def watch_first(self) -> tuple[Any, ...]:
        """At most two of them for the first screen, of different kinds."""
        kinds = {notice.code: notice for notice in reversed(self.watch)}
        return tuple(notice for notice in self.watch if kinds[notice.code] is notice)[:2]

    @property
    def tempered(self) -> tuple[float, float] | None:
        """Hardness of the layer that governs over the advised temperatures, HRC; None where none is told."""
        advised = [row for row in self.report.temper.table if row.advised]
        found = [s for row in advised for s in row.per_steel if s.steel == self.report.temper.governs]
        return (min(s.value for s in found), max(s.value for s in found)) if found else None
