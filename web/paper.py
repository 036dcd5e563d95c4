"""How a sheet is set on paper: sections side by side, the drawings, and the type that fills the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from billet import CutFigure, Operation, Report, Section, Sheet, SheetPage, build_sheet, wording
from web.charts.paper import end_scale
from web.charts.paper.sheet import DrawingScale
from web.paper_blocks import Block, blocks_of, with_code
from web.paper_drawings import Drawings
from web.paper_fit import (
    CODE_MM,
    LARGE_CODE_MM,
    SETTINGS,
    Code,
    Content,
    Pairs,
    Setting,
    fits,
    fitting_setting,
)

LONG_LINK = 600
"""Letters of a link whose square is drawn large."""
MOST_TYPED = 120
"""Letters of a link that can be typed; of a longer one the title block says so where it stands by a job."""
TOO_LONG = "too long to type: scan the square, or ask for the recipe by its number"
LINK_LABEL = "Link to this plan"
LINK_WORDS = "The plan behind this sheet: scan the square"


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
    code: Code | None = None
    """The square with the link, on the one side that has it."""
    link: str = ""
    """What is told beside the square."""


def paper_sheet(
    report: Report,
    kind: str,
    units: wording.Units,
    link: str | None = None,
    face_ratio: float | None = None,
) -> Sheet:
    """The sheet on as many sides as it needs in the least type; with its link, but for a forge sheet, on two
    where one has no room for the square."""
    whole = build_sheet(report, kind, units)
    made = _operations(whole.pages)
    needed = [section for section in whole.sections if section.stands != "spare"]
    if kind == "label" or (kind == "forge" and not made):
        return whole

    def holds(page: SheetPage) -> bool:
        alone = replace(whole, pages=(page,))
        scale = end_scale(made, len(_operations(alone.pages)))
        all_of_it = kind != "forge" and all(section in page.sections for section in needed)
        rest, drawings = _with_drawings(page, report, scale, units, face_ratio)
        content = Content(kind, rest, _title_block(alone, 0), drawings)
        return any(fits(way, SETTINGS[-1]) for way in _ways(content, link if all_of_it else None))

    return build_sheet(report, kind, units, holds=holds)


def sides(
    sheet: Sheet, kind: str, report: Report, units: wording.Units, link: str | None, face_ratio: float | None
) -> tuple[Side, ...]:
    """The sheet's pages with the largest type at which each fills no more than its side.

    The square with the link stands where it makes the type least smaller, or on a side of its own.
    """
    scale = end_scale(_operations(sheet.pages), max(len(_operations([page])) for page in sheet.pages))
    contents = []
    for place, page in enumerate(sheet.pages):
        rest, drawings = _with_drawings(page, report, scale, units, face_ratio)
        contents.append(Content(kind, rest, _title_block(sheet, place), drawings))
    found = [_side(content, fitting_setting(content) or SETTINGS[-1], "") for content in contents]
    if not link:
        return tuple(found)
    told = told_link(link)
    ways = [
        (SETTINGS.index(setting) - SETTINGS.index(found[place].setting), place, _side(way, setting, told))
        for place, content in enumerate(contents)
        for way in _ways(content, link)
        if (setting := fitting_setting(way)) is not None
    ]
    if not ways:
        drawings = Drawings(report, scale, units, {}, 0, None)
        block = (("Sheet", f"{sheet.kind}, link"), *sheet.title_block)
        alone = Side(LINK_WORDS, "", (), {}, block, drawings, SETTINGS[0], _code(link, free=False), told)
        return (*found, alone)
    _, place, side = min(ways, key=lambda way: way[0])
    return (*found[:place], side, *found[place + 1 :])


def _ways(content: Content, link: str | None) -> list[Content]:
    """The side as it is; with a link, with its square in each place that it may have."""
    if link is None:
        return [content]
    told = told_link(link)
    linked = (*content.block, (LINK_LABEL, told))
    return [
        replace(content, code=_code(link, free=True)),
        replace(content, code=_code(link, free=False), block=linked),
    ]


def told_link(link: str) -> str:
    """What stands beside the square: the link, where it can be typed."""
    return link if len(link) <= MOST_TYPED else TOO_LONG


def large_code(link: str) -> bool:
    """Whether the square of this link is drawn large."""
    return len(link) > LONG_LINK


def _code(link: str, free: bool) -> Code:
    return Code(LARGE_CODE_MM if large_code(link) else CODE_MM, free)


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


def _side(content: Content, setting: Setting, told: str) -> Side:
    """The side in this type, with the square of its link where it has one."""
    page, drawings, code = content.page, content.drawings, content.code
    blocks = blocks_of(content.kind, page.sections, setting.points, drawings)
    if code is not None and code.free and content.kind != "forge":
        blocks = with_code(content.kind, blocks, setting.points, drawings)
    block = tuple(pair for pair in content.block[1:] if pair[0] != LINK_LABEL)
    told = told if code is not None else ""
    return Side(page.statement, page.order, blocks, drawings.cuts, block, drawings, setting, code, told)
