"""The one room that words reasons: a table of codes a topic, each with a function of its values."""

from billet.contract.forging_rows import LayerSum
from billet.contract.report import Notice
from billet.contract.values import Finding, Reason
from billet.report.words.table import words_of

__all__ = ["layer_arithmetic", "noticed", "said"]


def said(reason: Reason) -> str:
    """A reason as part of a sentence. Raises KeyError for a code without words."""
    return words_of(reason.code)(reason.values)


def noticed(finding: Finding) -> Notice:
    """A finding as a notice of the report."""
    reason = finding.reason
    return Notice(reason.code, finding.level, finding.where, said(reason), reason.values)


def layer_arithmetic(counted: LayerSum) -> str:
    """How the layers of a row add up, as a line: 4 x 15 = 60 laid, 3 seams of like steel: 57 visible."""
    return said(Reason(f"layers-{counted.state}", dict(vars(counted))))
