"""How a sheet is set on paper: sections side by side, the drawings, and the type that fills the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from billet import CutFigure, Report, Section, Sheet, SheetPage, wording
from web.paper_drawings import Drawings
from web.paper_fit import SETTINGS, Pairs, Setting, fitting_setting

CODE_MM, LARGE_CODE_MM = 30.0, 52.0
LONG_LINK = 600
"""Letters of a link whose square is drawn large."""
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
    code: bool
    """Whether the square with the link stands in its title block."""


def sides(
    sheet: Sheet, kind: str, report: Report, units: wording.Units, link: str | None, face_ratio: float | None
) -> tuple[Side, ...]:
    """The sheet's pages with the largest type at which each fills no more than its side.

    The square with the link stands on the first, where it has room beside all else, or on a side of its own.
    """
    code_mm = (LARGE_CODE_MM if len(link) > LONG_LINK else CODE_MM) if link else 0.0
    found: list[Side] = []
    for place, page in enumerate(sheet.pages):
        named = (("Title", sheet.title), ("Sheet", f"{sheet.kind}, {sheet.place(place)}"))
        cuts = {s.figure.step: s for s in page.sections if isinstance(s.figure, CutFigure)}
        rest = tuple(s for s in page.sections if not isinstance(s.figure, CutFigure))
        steps = sum(len(section.operations) for section in rest)
        drawings = Drawings(report, sheet, units, cuts, steps, face_ratio)
        asked = code_mm if place == 0 else 0.0
        found.append(_side(kind, replace(page, sections=rest), (*named, *sheet.title_block), asked, drawings))
    if code_mm and not found[0].code:
        drawings = Drawings(report, sheet, units, {}, 0, None)
        block = (("Sheet", f"{sheet.kind}, link"), *sheet.title_block)
        found.append(Side(LINK_WORDS, "", (), {}, block, drawings, SETTINGS[0], True))
    return tuple(found)


def _side(kind: str, page: SheetPage, block: Pairs, code_mm: float, drawings: Drawings) -> Side:
    """One page in the largest type it has room for, with a square of this height if it has room for that."""
    setting = fitting_setting(kind, page, block, code_mm, drawings)
    code = setting is not None and code_mm > 0.0
    if setting is None:
        setting = fitting_setting(kind, page, block, 0.0, drawings) or SETTINGS[-1]
    blocks = _blocks(page.sections)
    return Side(page.statement, page.order, blocks, drawings.cuts, tuple(block[1:]), drawings, setting, code)


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
