"""The label to stick on the bar."""

from billet import wording
from billet.contract.report import Report
from billet.sheets.buyer import face_section
from billet.sheets.harden_rows import compromise_words
from billet.sheets.model import BLANK, Section, pairs
from billet.sheets.steels import in_short, laid_steels, two_names
from billet.sheets.title_block import sheet_info
from billet.wording import Units

CONDITION = "as forged, not hardened"


def label_statement(report: Report) -> str:
    """The steels and the layers."""
    layers = wording.count(report.schedule[-1].layers_visible, "layer")
    return f"{in_short(report)}, {layers}"


def label_sections(report: Report, units: Units) -> tuple[Section, ...]:
    """Number and day, steels in two designations with share, layers, size both ways, condition."""
    last, told = report.schedule[-1], sheet_info(report)
    steels = "; ".join(
        f"{wording.percent(row.mass_share)} {two_names(report, row)}" for row in laid_steels(report)
    )
    size = " / ".join(
        wording.size(last.height_mm, last.width_mm, last.length_mm, units) for units in ("mm", "inch")
    )
    rows = [
        ("Bar", str(told.get("number") or BLANK)),
        ("Date", str(told.get("forged_on") or BLANK)),
        ("Steels", steels),
        ("Layers", f"{last.layers_laid} laid, {last.layers_visible} to be seen"),
        ("Size", size),
        ("Condition", CONDITION),
        ("Harden", _harden(report)),
    ]
    return (face_section(report, units), pairs("", rows))


def _harden(report: Report) -> str:
    h, q = report.hardening, report.quench
    if h.set_point_c is None:
        return "does not harden" if h.none_because == "soft" else "no set point: see the hardening sheet"
    bath = f", {q.medium}{compromise_words(report)}" if q.medium else ""
    narrow = ", narrow window" if h.verdict == "narrow" else ""
    doubt = ": see the hardening sheet" if narrow or q.verdict == "compromise" else ""
    return f"{wording.temperature(h.set_point_c)}{bath}{narrow}{doubt}"
