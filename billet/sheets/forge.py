"""The forge schedule: from the plates to the finished bar, in the order of the work."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from billet import wording
from billet.contract.report import MadeBarRow, Notice, Report
from billet.sheets.drawn import Operation
from billet.sheets.forge_assumed import assumed_words
from billet.sheets.forge_cuts import cut_section
from billet.sheets.forge_end import end_words
from billet.sheets.forge_fires import fires_line, stop_order
from billet.sheets.forge_operations import operation, operation_cells, pile_figure
from billet.sheets.forge_pages import Part, spread
from billet.sheets.forge_proposed import proposed_line, proposed_words
from billet.sheets.forge_stack import pile_words, stack_section
from billet.sheets.model import Page, Section, drawn, filled, text
from billet.sheets.safety import caution_section
from billet.sheets.steels import in_short
from billet.wording import Units

OPERATIONS = frozenset({"weld", "draw", "restack", "grind"})
COLUMNS = ("Step", "Heat", "Bar after, h × w × l", "Layers", "Done", "Came to")
WELD_RULE = (
    "Sound weld: no dark line along the edges, no flux oozing under a light blow, a clear ring; add nothing "
    "to one that is not."
)
HOT_RULE = "Hot: the caliper's setting in the fire (carbon steel, EN 1993-1-2)."
MANY_STEPS = 4
"""A side of more steps tells in few words what can hurt, and what is left."""
MANY_SUMS = 6
"""A side of more steps tells how many layers there are without the sums, which the plan has."""


def forge_statement(report: Report, units: Units) -> str:
    """What goes in and what comes out."""
    first, last = report.schedule[0], report.schedule[-1]
    if len(report.schedule) == 1:
        return f"{wording.count(first.layers_laid, 'plate')} of {in_short(report)}, no step planned"
    bar = wording.bench_size(last.height_mm, last.width_mm, last.length_mm, units)
    return f"{in_short(report)}: {wording.count(last.layers_visible, 'layer')} in a bar {bar}"


def forge_pages(report: Report, units: Units, holds: Callable[[Page], bool]) -> tuple[Page, ...]:
    """Eight steps a side at most, and no more than it holds: the pile, the steps with their boxes, the cuts,
    what can hurt.

    Bars that are made first come first, each on sides of its own.
    """
    made_first = [page for bar in report.bars for page in _bar_pages(report, bar, units, holds)]
    return (*made_first, *_pages(report, forge_statement(report, units), units, holds))


def _bar_pages(
    report: Report, bar: MadeBarRow, units: Units, holds: Callable[[Page], bool]
) -> tuple[Page, ...]:
    times = f"Make {bar.times} bars {bar.name}" if bar.times > 1 else f"First bar {bar.name}"
    view = bar_view(report, bar)
    last = view.schedule[-1]
    size = wording.bench_size(last.height_mm, last.width_mm, last.length_mm, units)
    return _pages(view, f"{times}: {wording.count(last.layers_visible, 'layer')}, {size}", units, holds)


def bar_view(report: Report, bar: MadeBarRow) -> Report:
    """The report as if this bar made first were the bar: its rows, its carbon, its part of the recipe."""
    recipe = {**report.recipe, **report.recipe["bars"][bar.name]}
    recipe.setdefault("steps", [])
    prefix = f"bars.{bar.name}."
    told = (place.removeprefix(prefix) for place in report.defaults_used if place.startswith(prefix))
    return replace(
        report, schedule=bar.schedule, carbon=bar.carbon, recipe=recipe, blade=None, bars=(),
        defaults_used=tuple(told),
    )  # fmt: skip


def _pages(report: Report, statement: str, units: Units, holds: Callable[[Page], bool]) -> tuple[Page, ...]:
    made = [operation(report, row, units) for row in report.schedule[1:]]
    order = stop_order(report)

    def page(part: Part) -> Page:
        start, stop = part
        side = _side(report, made[start:stop], start == 0, stop == len(made), units)
        return Page(statement, order, side)

    return tuple(page(part) for part in spread(made, lambda part: holds(page(part))))


def _side(
    report: Report, side: Sequence[Operation], first: bool, last: bool, units: Units
) -> tuple[Section, ...]:
    begins = side[0].number - 1 if side else 0
    few = len(side) > MANY_STEPS or not first
    return filled(
        _pile(report, begins, units),
        text("", _rules(report)) if first else None,
        _steps(report, side, units),
        *_cuts(report, side, units),
        text("", [" ".join(_below(report, side, last, few, units))]),
        caution_section(report, OPERATIONS, lambda notice: _belongs(notice, side, last), few),
    )


def _below(report: Report, side: Sequence[Operation], last: bool, few: bool, units: Units) -> list[str]:
    """Under the steps: what is left, what hot means, what the program filled in because nobody told it."""
    told = end_words(report, units, few, sums=len(side) <= MANY_SUMS) if last else []
    if any(stop.hot for made in side for stop in made.stops):
        told.append(HOT_RULE)
    numbers = [made.number for made in side]
    proposed, assumed = proposed_words(report, numbers), assumed_words(report, numbers, units)
    told += [proposed_line(proposed)] if proposed else []
    return [*told, *([f"Never told, filled in: {assumed}."] if assumed else [])]


def _pile(report: Report, begins: int, units: Units) -> Section:
    """The pile that this side begins with, drawn; or the bar where none is laid there."""
    if begins == 0:
        return stack_section(report, units)
    row = report.schedule[begins]
    if row.loose:
        return drawn(f"From step {begins}", pile_figure(report, begins), pile_words(report, begins, units))
    size = wording.bench_size(row.height_mm, row.width_mm, row.length_mm, units)
    made = operation(report, row, units)
    assert made.figure is not None
    return drawn(f"From step {begins}", made.figure, [f"The bar {size}, {made.layers}."])


def _rules(report: Report) -> list[str]:
    """What holds for every step; empty for a plate that sees no fire."""
    if all(row.temperature_c is None for row in report.schedule):
        return []
    told = [fires_line(report)]
    if any(row.do == "weld" for row in report.schedule):
        told.append(WELD_RULE)
    return [" ".join(told)]


def _steps(report: Report, side: Sequence[Operation], units: Units) -> Section:
    rows = [cells for made in side for cells in operation_cells(made)]
    fires = sum(row.heats or 0 for row in report.schedule)
    steps = wording.count(len(report.schedule) - 1, "step")
    sizes = "inches" if units == "inch" else "mm"
    heading = f"{steps}, {wording.count(fires, 'heat')}; sizes in {sizes}"
    return Section(heading, "steps", COLUMNS, tuple(rows), operations=tuple(side))


def _cuts(report: Report, side: Sequence[Operation], units: Units) -> list[Section]:
    cut = [made.number for made in side if report.schedule[made.number].cut_marks_mm]
    return [cut_section(report, number, units) for number in cut]


def _belongs(notice: Notice, side: Sequence[Operation], last: bool) -> bool:
    """Faults of forging on the side of their step, those of the layers on the last; none of hardening."""
    if notice.where.startswith(("steels.", "bars.", "stack.")):
        return last
    return any(notice.where.startswith(f"steps[{made.number - 1}]") for made in side)
