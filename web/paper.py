"""How a sheet is set on paper: sections side by side, the drawings, and the type that fills the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from billet import (
    BarFigure,
    CutFigure,
    Operation,
    Report,
    Section,
    Sheet,
    StackFigure,
    Stop,
    WindowFigure,
    wording,
)
from web.charts.paper import cut_ruler, end_scale, ruler_scale, stack_drawing, step_drawing, windows_drawing
from web.charts.paper.sheet import DrawingScale
from web.paper_fit import fitting_setting


@dataclass(frozen=True)
class Block:
    """Sections over the whole width, or two columns of them."""

    wide: tuple[Section, ...] = ()
    left: tuple[Section, ...] = ()
    right: tuple[Section, ...] = ()


@dataclass(frozen=True)
class Side:
    """One side of paper: `setting` is its type in half points; the title block ends it."""

    statement: str
    order: str
    blocks: tuple[Block, ...]
    cuts: Mapping[int, Section]
    """The marks of each step that cuts, drawn with the step."""
    title_block: tuple[tuple[str, str], ...]
    setting: int

    @property
    def steps(self) -> int:
        """How many steps stand on this side."""
        return sum(len(section.operations) for block in self.blocks for section in block.wide)


def sides(sheet: Sheet, kind: str, with_code: bool = False) -> tuple[Side, ...]:
    """The sheet's pages with the largest type at which each fills no more than its side."""
    found = []
    for place, page in enumerate(sheet.pages):
        block = (("What it is", f"{sheet.kind}, sheet {sheet.place(place)}"), *sheet.title_block)
        cuts = {s.figure.step: s for s in page.sections if isinstance(s.figure, CutFigure)}
        blocks = _blocks([s for s in page.sections if not isinstance(s.figure, CutFigure)])
        setting = fitting_setting(kind, page, block, with_code)
        found.append(Side(page.statement, page.order, blocks, cuts, block, setting))
    return tuple(found)


def _blocks(sections: Sequence[Section]) -> tuple[Block, ...]:
    """Neighbours that stand in columns come together."""
    found = []
    for wide, group in groupby(sections, key=lambda section: section.column == "wide"):
        members = tuple(group)
        if wide:
            found.append(Block(wide=members))
        else:
            left = tuple(s for s in members if s.column == "left")
            found.append(Block(left=left, right=tuple(s for s in members if s.column == "right")))
    return tuple(found)


STACK_ROOM_MM = (72.0, 34.0)
SMALL_STACK_ROOM_MM = (60.0, 27.0)


def figure_drawing(
    section: Section, report: Report, key: str, units: wording.Units, small: bool = False
) -> Markup:
    """The drawing of a section; empty for a face, whose picture is made where it is shown."""
    figure = section.figure
    steels = [row.steel for row in report.steels]
    if isinstance(figure, StackFigure | BarFigure):
        room = SMALL_STACK_ROOM_MM if small else STACK_ROOM_MM
        return stack_drawing(figure, steels, key, units, room)
    if isinstance(figure, CutFigure):
        return cut_ruler(figure, key, units)
    if isinstance(figure, WindowFigure):
        return windows_drawing(figure, key, units)
    return Markup("")


def bars_scale(sheet: Sheet) -> DrawingScale:
    """The one scale at which the bars of all steps are drawn, on all sides of the sheet."""
    return end_scale([made for section in sheet.sections for made in section.operations])


def bar_drawing(made: Operation, report: Report, scale: DrawingScale, key: str) -> Markup:
    """The bar after a step at that scale."""
    if made.figure is None:
        return Markup("")
    return step_drawing(made.figure, [row.steel for row in report.steels], scale, key)


TALL_MM = 8.0
LONG_LETTERS = 20


def bar_is_tall(made: Operation, scale: DrawingScale) -> bool:
    """Whether the drawing of the bar leaves no room for words under it, or the words ask for more width."""
    tall = made.figure is not None and made.figure.height_mm * scale.ratio > TALL_MM
    return tall or len(made.bar) > LONG_LETTERS


def stop_rows(made: Operation) -> list[tuple[Stop, ...]]:
    """The stops in rows that fit the width: six plain numbers, four fractions with their decimals."""
    a_row = 4 if any(stop.decimal for stop in made.stops) else 6
    rows = -(-len(made.stops) // a_row) or 1
    each = -(-len(made.stops) // rows)
    return [made.stops[i : i + each] for i in range(0, len(made.stops), each)] if made.stops else []


def cut_scale(section: Section) -> str:
    """The name of the scale of a ruler."""
    return ruler_scale(section.figure).name if isinstance(section.figure, CutFigure) else ""
