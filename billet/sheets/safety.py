"""The cautions of one sheet: what this job at this plan can do to hands, in few words."""

from collections.abc import Callable
from dataclasses import replace

from billet.contract.report import Notice, Report
from billet.sheets.layout import sentence
from billet.sheets.model import Section, cautions
from billet.sheets.steels import names_of
from billet.tables.cautions import Caution
from billet.tables.cautions import cautions as all_cautions

SAFETY = "safety"
SAFETY_WORD = "Safety"
GONE = "outer-layer-gone"
PREFIX = "caution-"
LEVELS = {"limit": "Limit", "caution": "Caution"}


def safety_line(report: Report, operations: frozenset[str], few: bool = False) -> str:
    """The hazards that this plan meets at these operations, in one run: a line each, or few words each."""
    met = {notice.code for notice in report.notices if notice.where == SAFETY}
    told = [e for e in all_cautions() if _code(e) in met and operations & set(e.operations)]
    if few:
        return sentence("; ".join(entry.few for entry in told))
    return " ".join(entry.brief for entry in told)


def _gone(notices: list[Notice]) -> list[tuple[str, str]]:
    """Outer layers that vanish, told once for all steps."""
    if not notices:
        return []
    steps = dict.fromkeys(f"Step {n.values['step']} ({n.values['do']})" for n in notices)
    return [("Caution", f"{', '.join(steps)}: outermost layers are lost there; the count allows for it.")]


def _code(entry: Caution) -> str:
    return PREFIX + entry.code.replace("_", "-")


def caution_section(
    report: Report, operations: frozenset[str], belongs: Callable[[Notice], bool], few: bool = False
) -> Section:
    """Cautions and limits of the plan that belong to this job, then one run of brief safety lines.

    With `few`, layers lost at the faces are left to the count of layers, which tells them too.
    """
    told = [n for n in report.notices if n.level in LEVELS and n.where != SAFETY and belongs(n)]
    rows = [(LEVELS[n.level], sentence(n.text, names_of(report))) for n in told if n.code != GONE]
    rows += [] if few else _gone([n for n in told if n.code == GONE])
    line = safety_line(report, operations, few)
    if line:
        rows.append((SAFETY_WORD, line))
    return cautions("", rows)


def apart(whole: Section) -> tuple[Section, Section]:
    """The cautions and limits of a section, which may go over to a second side of paper; the run of safety,
    which may not."""
    told = [row for row in whole.rows if row[0] != SAFETY_WORD]
    safety = [row for row in whole.rows if row[0] == SAFETY_WORD]
    over = replace(whole, rows=tuple(told)).may_go_over("Cautions", "either")
    return over, replace(whole, rows=tuple(safety))
