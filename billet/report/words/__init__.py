"""The one room that words reasons: a table of codes a topic, each with a function of its values."""

from billet.contract.report import Notice
from billet.contract.values import Finding, Reason
from billet.report.words.table import words_of

__all__ = ["noticed", "said"]


def said(reason: Reason) -> str:
    """A reason as part of a sentence. Raises KeyError for a code without words."""
    return words_of(reason.code)(reason.values)


def noticed(finding: Finding) -> Notice:
    """A finding as a notice of the report."""
    return Notice(finding.reason.code, finding.level, finding.where, said(finding.reason))
