"""The temper table: a column for each temperature, a row for each steel, boxes for the cycles."""

from billet import wording
from billet.contract.report import Report, TemperStep, TemperWanted
from billet.sheets.model import BOX, Cells, Section, table
from billet.sheets.steels import called

MOST_STEELS_EXPLAINED = 2


def temper_section(report: Report, boxes: bool = True) -> Section | None:
    """Advised temperatures with the hardness of every steel; None where no figure is known."""
    temper = report.temper
    shown = [step for step in temper.table if step.advised]
    if not shown:
        return None
    names = list(dict.fromkeys(row.steel for step in shown for row in step.per_steel))
    rows: list[Cells] = [("At", *(wording.temperature(step.temperature_c) for step in shown))]
    rows += [(called(report, name), *(_hardness(step, name) for step in shown)) for name in names]
    wanted = temper.wanted
    if wanted is not None:
        rows.append(_wanted(wanted))
    if boxes:
        rows.append((f"{temper.cycles} cycles done", *(BOX for _ in shown)))
    notes = doubts(report, at_length=not boxes or len(names) <= MOST_STEELS_EXPLAINED)
    if notes:
        rows.append(("Note", "; ".join(notes)))
    return table(_heading(report), (), rows)


def _hardness(step: TemperStep, name: str) -> str:
    told = {row.steel: wording.hardness_range(row.low, row.high) for row in step.per_steel}
    return told.get(name, "not known")


def _wanted(wanted: TemperWanted) -> Cells:
    """The temper that the recipe's own hardness asks for, or why there is none."""
    label = f"For {wording.hardness(wanted.hrc)}"
    if wanted.temperature_c is None:
        return (label, str(wanted.why_not))
    against = f"; {wanted.why_not}" if wanted.why_not else ""
    return (label, f"{wording.temperature(wanted.temperature_c)}{against}")


def doubts(report: Report, at_length: bool = True) -> list[str]:
    """Whence the figures come, which steel has none, and which temperatures are advised against.

    A working sheet of many steels leaves the first to the plan, so that it stays one page.
    """
    parts = list(report.temper.notes) if at_length else []
    if not at_length and report.temper.not_told:
        parts.append(f"no figure is known for {wording.listed(list(report.temper.not_told))}")
    against = dict.fromkeys(step.why_not for step in report.temper.table if step.why_not)
    return [*parts, *(f"hotter than this table is not advised: {why}" for why in against)]


def _heading(report: Report) -> str:
    temper = report.temper
    hours = f"{temper.cycles} × {wording.hours(temper.minutes)}"
    known = "softest of those known" if temper.not_told else "softest"
    governs = f"; {temper.governs} is the {known} and governs" if temper.governs else ""
    return f"Temper {hours}{governs}"
