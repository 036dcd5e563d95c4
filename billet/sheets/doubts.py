"""What weakens the figures of a sheet, in a few words each; the plan tells it in full."""

from billet import wording
from billet.contract.report import Report

UNEVEN = "uneven-carbon"
BLURRED = "layers-blurred"
SOFT_IRON = "soft-iron-usual"


def doubt_words(report: Report) -> list[str]:
    """Ranges from memory, ranges only computed, carbon that differs inside one steel, blurred layers."""
    hardening = [s for s in report.hardening.per_steel if s.role != "soft"]
    told = []
    memory = [s.steel for s in hardening if s.supplied_basis == "memory"]
    if memory:
        told.append(f"Range of {wording.listed(memory)} from memory: hold it against the supplier's sheet.")
    computed = [s.steel for s in hardening if s.supplied_c is None and s.preferred_c is not None]
    if computed:
        told.append(f"Range of {wording.listed(computed)} computed, none published.")
    codes = {notice.code for notice in report.notices}
    if UNEVEN in codes and report.hardening.window_c is not None:
        told.append("Carbon differs inside one steel; the window allows for it.")
    if BLURRED in codes:
        told.append("The layers have blurred and are judged as one steel.")
    usual = [n.where.removeprefix("steels.") for n in report.notices if n.code == SOFT_IRON]
    if usual:
        told.append(f"Analysis of {wording.listed(usual)} is a usual one, not told of this piece.")
    return told
