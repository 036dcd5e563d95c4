"""The temper table: a column for each temperature, a row for each steel, boxes for the cycles."""

from billet import wording
from billet.contract.report import Report, TemperStep
from billet.sheets.model import BOX, Cells, Section, table
from billet.sheets.steels import called


def temper_section(report: Report, boxes: bool = True) -> Section | None:
    """Advised temperatures with the hardness of every steel; None where no curve is known."""
    temper = report.temper
    shown = [step for step in temper.table if step.advised]
    if not shown:
        return None
    names = list(dict.fromkeys(row.steel for step in shown for row in step.per_steel))
    rows: list[Cells] = [("At", *(wording.temperature(step.temperature_c) for step in shown))]
    rows += [(called(report, name), *(_hardness(step, name) for step in shown)) for name in names]
    if boxes:
        rows.append((f"{temper.cycles} cycles done", *(BOX for _ in shown)))
    notes = doubts(report)
    if notes:
        rows.append(("Note", "; ".join(notes)))
    return table(_heading(report, len(names)), (), rows)


def _hardness(step: TemperStep, name: str) -> str:
    told = {row.steel: wording.hardness_range(row.low, row.high) for row in step.per_steel}
    return told.get(name, "not known")


def doubts(report: Report) -> list[str]:
    """Whence a curve was borrowed, which steel has none, and which temperatures are advised against."""
    parts = [part for part in report.temper.because.split("; ") if not part.startswith("begin below")]
    if any(not step.advised for step in report.temper.table):
        parts.append("hotter than this table is not advised: tempered martensite turns brittle")
    return parts


def _heading(report: Report, told: int) -> str:
    temper = report.temper
    hours = f"{temper.cycles} × {wording.hours(temper.minutes)}"
    hardening = sum(steel.role != "soft" for steel in report.hardening.per_steel)
    known = "softest" if told == hardening else "softest of those known"
    governs = f"; {temper.governs} is the {known} and governs" if temper.governs else ""
    return f"Temper {hours}{governs}"
