"""Where to cut: the bar before the cut as a ruler from the handle end."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.contract.report import Range, Report
from billet.sheets.drawn import CutFigure
from billet.sheets.model import Section, drawn
from billet.wording import Units

Step = Mapping[str, Any]


def cut_section(report: Report, number: int, units: Units) -> Section:
    """The marks of this step with the saw's strip beside each, drawn and in words."""
    row, before = report.schedule[number], report.schedule[number - 1]
    step = report.recipe["steps"][number - 1]
    folded = step.get("order") == "folded"
    kerfs = kerfs_mm(step, row.cut_marks_mm)
    figure = CutFigure(number, before.length_mm, before.width_mm, row.cut_marks_mm, kerfs, folded)
    at = ", ".join(wording.bench_length(mm, units) for mm in row.cut_marks_mm)
    told = [
        f"From the handle end of {wording.bench_length(before.length_mm, units)}: {at}{_saw(step, units)}."
    ]
    return drawn(f"{'Folds' if folded else 'Cuts'} of step {number}", figure, told)


def kerfs_mm(step: Step, marks_mm: tuple[float, ...]) -> tuple[Range, ...]:
    """The strip that the saw takes beside each mark: beyond it, but before the one that trims the handle end.

    So the saw stays in what falls off, and every piece keeps its length. None for a fold.
    """
    kerf = 0.0 if step.get("order") == "folded" else float(step.get("kerf_mm") or 0.0)
    if kerf <= 0.0:
        return ()
    trims = _trims_handle(step)
    return tuple(
        (max(mark - kerf, 0.0), mark) if trims and not place else (mark, mark + kerf)
        for place, mark in enumerate(marks_mm)
    )


def _saw(step: Step, units: Units) -> str:
    kerf = 0.0 if step.get("order") == "folded" else float(step.get("kerf_mm") or 0.0)
    if kerf <= 0.0:
        return ""
    first = ", at the first before it" if _trims_handle(step) else ""
    return f"; the saw ({wording.length(kerf, units)}) goes beyond each mark{first}"


def _trims_handle(step: Step) -> bool:
    trim = step.get("trim_mm") or 0.0
    return float(trim if isinstance(trim, int | float) else trim[0]) > 0.0
