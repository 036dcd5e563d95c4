"""The forge schedule: from the plates to the finished bar, in the order of the work."""

import math
from dataclasses import replace

from billet import wording
from billet.contract.report import MadeBarRow, Notice, Report, ScheduleRow
from billet.sheets.forge_fires import fires_line
from billet.sheets.forge_stack import stack_section
from billet.sheets.forge_steps import steps_section
from billet.sheets.model import Section, blanks, filled, pairs, text
from billet.sheets.safety import caution_section
from billet.sheets.steels import in_short
from billet.wording import Units

OPERATIONS = frozenset({"weld", "draw", "restack", "grind"})
WELD_RULE = (
    "A weld is sound when no dark line shows along the edges, no flux oozes out under a light blow, "
    "and the bar rings clear, not dull."
)
SEEN = ("Melt numbers", "Mass of the bar")


def forge_statement(report: Report, units: Units) -> str:
    """What goes in and what comes out."""
    first, last = report.schedule[0], report.schedule[-1]
    if len(report.schedule) == 1:
        return f"{wording.count(first.layers_laid, 'plate')} of {in_short(report)}, no step planned"
    bar = wording.size(last.height_mm, last.width_mm, last.length_mm, units)
    return f"{in_short(report)}: {wording.count(last.layers_visible, 'layer')} in a bar {bar}"


def forge_sections(report: Report, units: Units) -> tuple[Section, ...]:
    """The stack, the steps with their boxes, what is lost, what can hurt."""
    steps = steps_section(report, units) if len(report.schedule) > 1 else None
    return filled(
        *(section for bar in report.bars for section in _made_first(report, bar, units)),
        stack_section(report, units),
        text("", _rules(report)),
        steps,
        _end(report, units),
        blanks("", SEEN),
        caution_section(report, OPERATIONS, _belongs),
    )


def _made_first(report: Report, bar: MadeBarRow, units: Units) -> list[Section | None]:
    """The stack and the steps of a bar that is made first, each headed by its name."""
    view = bar_view(report, bar)
    steps = steps_section(view, units) if len(view.schedule) > 1 else None
    times = f"{bar.times} times bar {bar.name}" if bar.times > 1 else f"Bar {bar.name}"
    left = pairs("", [("Left", lost_words(view, units)), _layers_told(view, units)])
    found = [stack_section(view, units), steps, left]
    return [
        None if section is None else replace(section, heading=f"{times}. {section.heading}".rstrip(". "))
        for section in found
    ]


def bar_view(report: Report, bar: MadeBarRow) -> Report:
    """The report as if this bar made first were the bar: its rows, its carbon, its part of the recipe."""
    recipe = {**report.recipe, **report.recipe["bars"][bar.name]}
    recipe.setdefault("steps", [])
    return replace(report, schedule=bar.schedule, carbon=bar.carbon, recipe=recipe, blade=None, bars=())


def _rules(report: Report) -> list[str]:
    """What holds for every step; empty for a plate that sees no fire."""
    if all(row.temperature_c is None for row in report.schedule):
        return []
    welded = any(row.do == "weld" for row in report.schedule)
    return [f"{fires_line(report)} {WELD_RULE}" if welded else fires_line(report)]


def _belongs(notice: Notice) -> bool:
    """Faults of forging and of the layers; not those of hardening."""
    return notice.where.startswith(("steps[", "steels.", "bars.", "stack."))


def _end(report: Report, units: Units) -> Section:
    rows = [("Left", lost_words(report, units))]
    if len(report.schedule) > 1:
        rows.append(("Skin", skin_words(report, units)))
    rows.append(_layers_told(report, units))
    return pairs("", rows)


def _layers_told(report: Report, units: Units) -> tuple[str, str]:
    last = report.schedule[-1]
    mean = wording.micrometres(last.layer_um.mean, units)
    return "Layers", f"{_counts(report)}; {mean} each{', a mean by volume' if last.alike else ''}"


def _counts(report: Report) -> str:
    """The arithmetic of every weld, and of the last step."""
    last = report.schedule[-1]
    told = [f"step {row.step}: {row.arithmetic}" for row in report.schedule if _seams(row)]
    return "; ".join(told if _seams(last) else [*told, f"at the end: {last.arithmetic}"])


def _seams(row: ScheduleRow) -> bool:
    """A weld where like steel met, so that the count needs its sum."""
    return bool(row.layer_sum.seams)


def lost_words(report: Report, units: Units) -> str:
    """What is left of all that was laid, and where the rest went."""
    first, last = report.schedule[0], report.schedule[-1]
    lost = {
        "scale": sum(row.lost_kg.scale for row in report.schedule),
        "grinding": sum(row.lost_kg.grind for row in report.schedule),
        "grooves and dimples": sum(row.lost_kg.cut for row in report.schedule),
        "ends": sum(row.lost_kg.trim for row in report.schedule),
        "saw": sum(row.lost_kg.kerf for row in report.schedule),
        "pieces left over": sum(row.lost_kg.left_over for row in report.schedule),
    }
    gone = ", ".join(f"{name} {wording.mass(kg, units)}" for name, kg in lost.items() if kg > 0.0)
    added = sum(row.added_kg for row in report.schedule)
    start = wording.mass(first.mass_kg + added, units)
    return f"{wording.mass(last.mass_kg, units)} of {start}" + (f"; lost to {gone}" if gone else "")


def skin_words(report: Report, units: Units) -> str:
    """What to take off the faces before the edge is anywhere near them."""
    depth_mm = skin_mm(report)
    if depth_mm <= 0.0:
        return "the faces are as rich in carbon as the inside"
    skin = wording.length(depth_mm, units)
    return f"the outer {skin} of each face is poor in carbon: grind it off before hardening"


def skin_mm(report: Report) -> float:
    """Depth of the skin poor in carbon on the worse face, up to the next tenth of a millimetre."""
    return math.ceil(10.0 * max(report.carbon.skin_mm) - 1e-6) / 10.0
