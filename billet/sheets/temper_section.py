"""The temper table: a row for each temperature, a column for each steel, boxes for the cycles."""

from dataclasses import replace

from billet import wording
from billet.contract.report import Report, TemperStep, TemperWanted
from billet.sheets.model import BOX, Cells, Section, table


def temper_section(report: Report, boxes: bool = True) -> Section | None:
    """Advised temperatures with the hardness of every steel; None where no figure is known.

    The row that the furnace programme runs is marked: the one for the wanted hardness, if there is one.
    """
    temper = report.temper
    shown = _shown(report)
    if not shown:
        return None
    names = list(dict.fromkeys(row.steel for step in shown for row in step.per_steel))
    cycles = [f"{_place(i)}" for i in range(1, temper.cycles + 1)] if boxes else []
    rows = [_row(step, names, len(cycles)) for step in shown]
    run_c = programmed_c(report)
    marked = next((i for i, step in enumerate(shown) if step.temperature_c == run_c), None)
    made = table(_heading(report), ("At", *names, *cycles), rows)
    return replace(made, marked=marked)


def programmed_c(report: Report) -> float | None:
    """The temperature at which the furnace programme tempers; None where it tempers nothing. [C]"""
    runs = (made for made in report.programmes if made.job == "temper")
    return next((made.segments[0].to_c for made in runs), None)


def _place(number: int) -> str:
    return {1: "1st", 2: "2nd", 3: "3rd"}.get(number, f"{number}th")


def _shown(report: Report) -> list[TemperStep]:
    """The advised rows, and the wanted one among them."""
    steps = [step for step in report.temper.table if step.advised]
    wanted = report.temper.wanted
    if wanted is None or wanted.temperature_c is None:
        return steps
    own = TemperStep(wanted.temperature_c, wanted.minutes, wanted.advised, wanted.why_not, wanted.per_steel)
    others = [step for step in steps if abs(step.temperature_c - own.temperature_c) >= 1.0]
    return sorted([*others, own], key=lambda step: step.temperature_c)


def _row(step: TemperStep, names: list[str], boxes: int) -> Cells:
    told = {row.steel: wording.hardness_span(row.low, row.high) for row in step.per_steel}
    hardness = (told.get(name, "not known") for name in names)
    return (wording.temperature(step.temperature_c), *hardness, *(BOX for _ in range(boxes)))


def temper_words(report: Report) -> list[str]:
    """What the wanted hardness asks for, which row is marked, and what is advised against; the plan tells
    whence figures come."""
    temper = report.temper
    told = [_wanted(temper.wanted)] if temper.wanted is not None else []
    run_c = programmed_c(report)
    if run_c is not None and (temper.wanted is None or temper.wanted.temperature_c != run_c):
        told.append(
            f"the temper marked, {wording.temperature(run_c)}, is amid those advised; hotter is softer"
        )
    if temper.not_told:
        told.append(f"no figure is known for {wording.listed(list(temper.not_told))}")
    against = dict.fromkeys(step.why_not for step in temper.table if step.why_not)
    return [*told, *(f"hotter than this table is not advised: {why}" for why in against)]


def _wanted(wanted: TemperWanted) -> str:
    """The temper that the recipe's own hardness asks for, or why there is none."""
    label = f"For {wording.hardness(wanted.hrc)}"
    if wanted.temperature_c is None:
        return f"{label}: {wanted.why_not}"
    against = f"; {wanted.why_not}" if wanted.why_not else ""
    return f"{label}, at the softest layer of the edge: {wording.temperature(wanted.temperature_c)}{against}"


def _heading(report: Report) -> str:
    temper = report.temper
    hours = f"{temper.cycles} × {wording.hours(temper.minutes)}"
    known = ", softest of those known" if temper.not_told else ""
    governs = f"; {temper.governs} governs{known}" if temper.governs else ""
    return f"Temper {hours}, HRC{governs}"
