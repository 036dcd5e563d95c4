"""The temper table: hardness of each steel, which one governs, boxes for the cycles."""

from billet import wording
from billet.sheets.model import BOX, EMPTY, Cells, Section, table
from billet.sheets.steels import called
from billet.workflow.report import Report, TemperStep


def temper_section(report: Report, boxes: bool = True) -> Section | None:
    """Advised temperatures with the hardness of every steel; None where no curve is known."""
    temper = report.temper
    shown = [step for step in temper.table if step.advised]
    if not shown:
        return None
    names = list(dict.fromkeys(row.steel for step in shown for row in step.per_steel))
    cycles = tuple(f"Cycle {i + 1}" for i in range(temper.cycles)) if boxes else ()
    columns = ("Temper at", *(called(report, name) for name in names), *cycles)
    rows: list[Cells] = [(*_row(step, names), *(BOX for _ in cycles)) for step in shown]
    rows += [_struck(step, len(cycles)) for step in _struck_ends(report)]
    rows += [("Note", words) for words in doubts(report)]
    return table(_heading(report, len(names)), columns, rows)


def doubts(report: Report) -> list[str]:
    """Whence a curve was borrowed, and which steel has none; not what the orders say already."""
    parts = [part for part in report.temper.because.split("; ") if not part.startswith("begin below")]
    return ["; ".join(parts)] if parts else []


def _heading(report: Report, told: int) -> str:
    temper = report.temper
    hours = f"{temper.cycles} × {wording.hours(temper.minutes)}"
    hardening = sum(steel.role != "soft" for steel in report.hardening.per_steel)
    known = "softest" if told == hardening else "softest of those known"
    governs = f"; {temper.governs} is the {known} and governs" if temper.governs else ""
    return f"Temper {hours}{governs}"


def _row(step: TemperStep, names: list[str]) -> Cells:
    by_name = {row.steel: wording.hardness_range(row.low, row.high) for row in step.per_steel}
    return (
        wording.temperature(step.temperature_c),
        *(by_name.get(name, "not known") for name in names),
    )


def _struck_ends(report: Report) -> list[TemperStep]:
    """The first step that is advised against stands for all of them: its reason names the range."""
    return [step for step in report.temper.table if not step.advised and step.why_not][:1]


def _struck(step: TemperStep, cycles: int) -> Cells:
    return ("Not", f"{step.why_not}", *(EMPTY for _ in range(cycles)))
