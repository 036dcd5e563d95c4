"""One sheet of a report."""

from billet.contract.report import Report
from billet.errors import OutOfDomain
from billet.sheets.buyer import buyer_sections, buyer_statement
from billet.sheets.forge import forge_sections, forge_statement
from billet.sheets.harden import harden_sections, harden_statement
from billet.sheets.kiln import kiln_sections, kiln_statement
from billet.sheets.label import label_sections, label_statement
from billet.sheets.model import SHEET_KINDS, Section, Sheet
from billet.sheets.title_block import NAMES, title_block
from billet.wording import Units


def build_sheet(report: Report, kind: str, units: Units = "mm", link: str | None = None) -> Sheet:
    """The sheet of this kind: forge, harden, kiln, buyer or label.

    `link` is printed in the title block; on the buyer's sheet and the label only where the recipe is
    shared. There is no clock: the day is the recipe's own, or a blank. Raises OutOfDomain for a kind
    that there is no sheet of.
    """
    if kind not in SHEET_KINDS:
        raise OutOfDomain("kind", kind, f"one of {', '.join(SHEET_KINDS)}")
    statement, sections = _content(report, kind, units)
    block = title_block(report, kind, units, link)
    return Sheet(report.title, NAMES[kind], statement, block, sections)


def _content(report: Report, kind: str, units: Units) -> tuple[str, tuple[Section, ...]]:
    if kind == "forge":
        return forge_statement(report, units), forge_sections(report, units)
    if kind == "harden":
        return harden_statement(report), harden_sections(report, units)
    if kind == "kiln":
        return kiln_statement(report), kiln_sections(report)
    if kind == "buyer":
        return buyer_statement(report), buyer_sections(report, units)
    return label_statement(report), label_sections(report)
