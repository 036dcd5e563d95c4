"""The report as text for a terminal: the answer first, then why, then everything it stands on."""

from billet import wording
from billet.contract.report import Report
from billet.sheets.layout import bullet, heading, sentence
from billet.sheets.safety import SAFETY
from billet.sheets.steels import names_of
from billet.text.report_answer import answer_lines
from billet.text.report_bar import bar_lines
from billet.wording import Units

MARKS = {"limit": "!!", "caution": "!", "note": "-"}
LEVELS = ("limit", "caution", "note")
BASIS = {"published": "published", "practice": "common practice", "memory": "from memory"}


def report_text(report: Report, units: Units = "mm") -> str:
    """The whole report in lines of at most 100 columns."""
    lines = heading(report.title, "=")
    lines += answer_lines(report, units)
    lines += bar_lines(report, units)
    lines += _notices(report)
    lines += _safety(report)
    lines += _sources(report)
    lines += ["", _made(report)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _notices(report: Report) -> list[str]:
    """What this plan has to say beside its figures, the gravest first."""
    told = [notice for notice in report.notices if notice.where != SAFETY]
    if not told:
        return []
    number = wording.count(len(told), "thing")
    lines = ["", *heading(f"{number} to know (!! limit, ! caution, - note)")]
    for level in LEVELS:
        for notice in told:
            if notice.level == level:
                lines += bullet(sentence(notice.text, names_of(report)), f"{MARKS[level]:<2}")
    return lines


def _safety(report: Report) -> list[str]:
    """What can hurt at this work, in full."""
    told = [notice.text for notice in report.notices if notice.where == SAFETY]
    lines = ["", *heading("Before the fire is lit")] if told else []
    return lines + [line for text in told for line in bullet(text, "!")]


def _sources(report: Report) -> list[str]:
    if not report.sources:
        return []
    lines = ["", *heading(f"It stands on {wording.count(len(report.sources), 'source')}")]
    for row in report.sources:
        lines += bullet(sentence(f"{row.citation}: {row.used_for} ({BASIS[row.basis]})"))
    return lines


def _made(report: Report) -> str:
    made = report.made_with
    return f"Recipe {report.recipe_id}, program {made.billet}, data {made.data}"
