"""How a sheet is set on paper: sections side by side, the drawings, and the type that fills the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from billet import CutFigure, Operation, Report, Section, Sheet, SheetPage, build_sheet, wording
from web.charts.paper import end_scale
from web.charts.paper.sheet import DrawingScale
from web.paper_drawings import Drawings
from web.paper_fit import SETTINGS, Pairs, Setting, fits, fitting_setting

CODE_MM, LARGE_CODE_MM = 30.0, 52.0
LONG_LINK = 600
"""Letters of a link whose square is drawn large."""
MOST_TYPED = 120
"""Letters of a link that can be typed; of a longer one the title block says so where it stands by a job."""
TOO_LONG = "too long to type: scan the square, or ask for the recipe by its number"
LINK_WORDS = "The plan behind this sheet: scan the square"


@dataclass(frozen=True)
class Block:
    """Sections over the whole width, or two columns of them."""

    wide: tuple[Section, ...] = ()
    left: tuple[Section, ...] = ()
    right: tuple[Section, ...] = ()


@dataclass(frozen=True)
class Side:
    """One side of paper in the type of `setting`; the title block ends it."""

    statement: str
    order: str
    blocks: tuple[Block, ...]
    cuts: Mapping[int, Section]
    """The marks of each step that cuts, drawn with the step."""
    title_block: tuple[tuple[str, str], ...]
    drawings: Drawings
    setting: Setting
    link: str
    """What stands beside the square with the link, in the title block; empty on a side without."""

    @property
    def code(self) -> bool:
        """Whether the square with the link stands in its title block."""
        return self.link != ""


def paper_sheet(report: Report, kind: str, units: wording.Units) -> Sheet:
    """The sheet on as many sides as its steps need in the least type."""
    whole = build_sheet(report, kind, units)
    made = _operations(whole.pages)
    if not made:
        return whole

    def holds(page: SheetPage) -> bool:
        alone = replace(whole, pages=(page,))
        scale = end_scale(made, len(_operations(alone.pages)))
        page, drawings = _with_drawings(page, report, scale, units, None)
        return fits(kind, page, _title_block(alone, 0), SETTINGS[-1], 0.0, drawings)

    return build_sheet(report, kind, units, holds=holds)


def sides(
    sheet: Sheet, kind: str, report: Report, units: wording.Units, link: str | None, face_ratio: float | None
) -> tuple[Side, ...]:
    """The sheet's pages with the largest type at which each fills no more than its side.

    The square with the link stands on the first, where it has room beside all else, or on a side of its own.
    """
    scale = end_scale(_operations(sheet.pages), max(len(_operations([page])) for page in sheet.pages))
    found: list[Side] = []
    for place, page in enumerate(sheet.pages):
        rest, drawings = _with_drawings(page, report, scale, units, face_ratio)
        found.append(_side(kind, rest, _title_block(sheet, place), None if place else link, drawings))
    if link and not found[0].code:
        drawings = Drawings(report, scale, units, {}, 0, None)
        block = (("Sheet", f"{sheet.kind}, link"), *sheet.title_block)
        found.append(Side(LINK_WORDS, "", (), {}, block, drawings, SETTINGS[0], link))
    return tuple(found)


def _operations(pages: Sequence[SheetPage]) -> list[Operation]:
    return [made for page in pages for section in page.sections for made in section.operations]


def _title_block(sheet: Sheet, place: int) -> Pairs:
    return (("Title", sheet.title), ("Sheet", f"{sheet.kind}, {sheet.place(place)}"), *sheet.title_block)


def _with_drawings(
    page: SheetPage, report: Report, scale: DrawingScale, units: wording.Units, face_ratio: float | None
) -> tuple[SheetPage, Drawings]:
    """The page without the marks of its cuts, which are drawn with their steps, and all its drawings."""
    cuts = {s.figure.step: s for s in page.sections if isinstance(s.figure, CutFigure)}
    rest = tuple(s for s in page.sections if not isinstance(s.figure, CutFigure))
    drawings = Drawings(report, scale, units, cuts, len(_operations([page])), face_ratio)
    return replace(page, sections=rest), drawings


def _side(kind: str, page: SheetPage, block: Pairs, link: str | None, drawings: Drawings) -> Side:
    """One page in the largest type it has room for, with the square of this link if it has room for that."""
    setting, words = None, ""
    if link:
        words = link if len(link) <= MOST_TYPED else TOO_LONG
        code_mm = LARGE_CODE_MM if len(link) > LONG_LINK else CODE_MM
        linked = (*block, ("Link to this plan", words))
        setting = fitting_setting(kind, page, linked, code_mm, drawings)
    if setting is None:
        words = ""
        setting = fitting_setting(kind, page, block, 0.0, drawings) or SETTINGS[-1]
    blocks = _blocks(page.sections)
    return Side(page.statement, page.order, blocks, drawings.cuts, tuple(block[1:]), drawings, setting, words)


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
