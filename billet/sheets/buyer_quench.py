"""For a blade and a furnace that are not known: the bath by thickness, the ways of holding the heat."""

from itertools import groupby

from billet import wording
from billet.contract.report import Report
from billet.sheets.harden_rows import within_words
from billet.tables.media import medium
from billet.wording import Units

DRY = frozenset({"air", "plates"})


def quench_line(report: Report, units: Units) -> str | None:
    """The bath for each thickness, thicknesses of one answer together; None where nothing is quenched."""
    rows = [row for row in report.quench.by_thickness if row.medium is not None]
    if not rows:
        return None
    parts = []
    for (name, verdict), group in groupby(rows, key=lambda row: (row.medium, row.verdict)):
        thick = _thick([row.thickness_mm for row in group], units)
        parts.append(f"{thick} {name}" + ("" if verdict == "shared" else " as a compromise"))
    wet = {row.medium for row in rows if row.medium is not None and row.medium not in DRY}
    baths = {wording.temperature_range(*medium(name).bath_c) for name in wet}
    return ", ".join(parts) + (f"; bath at {wording.listed(sorted(baths))}" if baths else "")


def _thick(values_mm: list[float], units: Units) -> str:
    low, high = values_mm[0], values_mm[-1]
    if low == high:
        return wording.length(low, units)
    return wording.lengths((low, high), units, " to ")


def methods_line(report: Report) -> str:
    """How finely the temperature must be held, and the roughest way of the table that is good, else works."""
    told = [within_words(report)]
    for grade, words in (("good", "good"), ("works", "works")):
        ways = [m for m in report.hardening.methods if m.grade == grade]
        if ways:
            roughest = max(ways, key=lambda m: m.half_width_k)
            told.append(f"{words}: {roughest.label} or better")
            break
    return "; ".join(told)
