"""For a blade and a furnace that are not known: the bath by thickness, the ways of holding the heat."""

from itertools import groupby

from billet import wording
from billet.sheets.model import Section, table
from billet.tables.media import medium
from billet.wording import Units
from billet.workflow.report import Report

DRY = frozenset({"air", "plates"})


def quench_by_thickness(report: Report, units: Units) -> Section | None:
    """The bath for each thickness, thicknesses of one answer in one row; None where nothing is quenched."""
    rows = [row for row in report.quench.by_thickness if row.medium is not None]
    if not rows:
        return None
    grouped = [
        (_thick([row.thickness_mm for row in group], units), *_bath(name, verdict))
        for (name, verdict), group in (
            (key, list(group)) for key, group in groupby(rows, key=lambda r: (r.medium, r.verdict))
        )
    ]
    return table("", ("Thickest section", "Quench", "Bath"), grouped)


def _thick(values_mm: list[float], units: Units) -> str:
    low, high = values_mm[0], values_mm[-1]
    if low == high:
        return wording.length(low, units)
    return wording.lengths((low, high), units, " to ")


def _bath(name: str | None, verdict: str) -> tuple[str, str]:
    if name is None:
        return ("none", "")
    words = name if verdict == "shared" else f"{name}, a compromise"
    if name in DRY:
        return (words, "at room temperature")
    return (words, wording.temperature_range(*medium(name).bath_c))


def methods_line(report: Report) -> str:
    """Which ways of holding the temperature fit the window and which do not."""
    fitting = [m for m in report.hardening.methods if m.fits]
    failing = [m for m in report.hardening.methods if not m.fits]
    if not fitting:
        return "no way of the table fits this window; the finest one comes nearest"
    if not failing:
        return "every way of the table fits, down to colour by eye"
    roughest = max(fitting, key=lambda m: m.half_width_k)
    finest_bad = min(failing, key=lambda m: m.half_width_k)
    return (
        f"fits: {roughest.label} (±{wording.difference(roughest.half_width_k)}) or better; does not: "
        f"{finest_bad.label} (±{wording.difference(finest_bad.half_width_k)}) or rougher"
    )
