"""For a blade and a furnace that are not known: the bath by thickness, the ways of holding the heat."""

from itertools import groupby

from billet import wording
from billet.contract.report import Report
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
    """Which ways of holding the temperature fit the window and which do not."""
    fitting = [m for m in report.hardening.methods if m.fits]
    failing = [m for m in report.hardening.methods if not m.fits]
    if not fitting:
        return "no way of the table fits this window; the finest one comes nearest"
    if not failing:
        return "every way of the table fits, down to colour by eye"
    least = max(fitting, key=lambda m: m.half_width_k)
    first_bad = min(failing, key=lambda m: m.half_width_k)
    return (
        f"{least.label}, {wording.plus_minus(least.half_width_k)}, or better; too rough: "
        f"{first_bad.label}, {wording.plus_minus(first_bad.half_width_k)}"
    )
