"""One sheet of a report."""

from collections.abc import Callable
from dataclasses import replace

from billet.contract.report import Report
from billet.errors import OutOfDomain
from billet.sheets.buyer import buyer_sections, buyer_statement
from billet.sheets.drawn import Operation
from billet.sheets.forge import forge_pages
from billet.sheets.harden import harden_order, harden_sections, harden_statement
from billet.sheets.kiln import kiln_sections, kiln_statement
from billet.sheets.label import label_sections, label_statement
from billet.sheets.model import SHEET_KINDS, Page, Section, Sheet
from billet.sheets.sides import spread_sections
from billet.sheets.title_block import NAMES, title_block
from billet.shop_units import fahrenheit_first
from billet.wording import Units


def build_sheet(
    report: Report,
    kind: str,
    units: Units = "mm",
    link: str | None = None,
    holds: Callable[[Page], bool] = lambda _: True,
) -> Sheet:
    """The sheet of this kind: forge, harden, kiln, buyer or label.

    `holds` says whether a side of paper has room for a page; a sheet is split until each has, a label never.
    In letters of one width there is always room.

    `link` is printed in the title block; on the buyer's sheet and the label only where the recipe is
    shared. There is no clock: the day is the recipe's own, or a blank. In inches Fahrenheit stands first
    and no kelvin at all. Raises OutOfDomain for a kind that there is no sheet of.
    """
    if kind not in SHEET_KINDS:
        raise OutOfDomain("kind", kind, f"one of {', '.join(SHEET_KINDS)}")
    told = _turned if units == "inch" else _as_is
    pages = _pages(report, kind, units, lambda page: holds(told(page)))
    return Sheet(report.title, NAMES[kind], title_block(report, kind, units, link), tuple(map(told, pages)))


def _pages(report: Report, kind: str, units: Units, holds: Callable[[Page], bool]) -> tuple[Page, ...]:
    if kind == "forge":
        return forge_pages(report, units, holds)
    if kind == "harden":
        whole = Page(harden_statement(report), harden_order(report), harden_sections(report, units))
    elif kind == "kiln":
        whole = Page(kiln_statement(report), "", kiln_sections(report))
    elif kind == "buyer":
        whole = Page(buyer_statement(report), "", buyer_sections(report, units))
    else:
        return (Page(label_statement(report), "", label_sections(report, units)),)
    return spread_sections(whole, holds)


def _as_is(page: Page) -> Page:
    return page


def _turned(page: Page) -> Page:
    """For a shop that measures in inches and reads Fahrenheit."""
    first = fahrenheit_first
    return Page(first(page.statement), first(page.order), tuple(_section(s) for s in page.sections))


def _section(section: Section) -> Section:
    first = fahrenheit_first
    return replace(
        section,
        heading=first(section.heading),
        name=first(section.name),
        columns=tuple(map(first, section.columns)),
        rows=tuple(tuple(map(first, row)) for row in section.rows),
        operations=tuple(_operation(made) for made in section.operations),
    )


def _operation(made: Operation) -> Operation:
    first = fahrenheit_first
    then = tuple(map(first, made.then))
    return replace(made, order=first(made.order), then=then, note=first(made.note))
