"""How a sheet is set on paper: sections side by side, the drawings, and the type that fills the page."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from billet import CutFigure, Report, Section, Sheet, wording
from web.paper_drawings import Drawings
from web.paper_fit import Setting, fitting_setting

CODE_MM = 30.0


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


def sides(
    sheet: Sheet, kind: str, report: Report, units: wording.Units, with_code: bool, face_ratio: float | None
) -> tuple[Side, ...]:
    """The sheet's pages with the largest type at which each fills no more than its side."""
    found = []
    for place, page in enumerate(sheet.pages):
        named = (("Title", sheet.title), ("Sheet", f"{sheet.kind}, {sheet.place(place)}"))
        block = (*named, *sheet.title_block)
        cuts = {s.figure.step: s for s in page.sections if isinstance(s.figure, CutFigure)}
        rest = tuple(s for s in page.sections if not isinstance(s.figure, CutFigure))
        steps = sum(len(section.operations) for section in rest)
        drawings = Drawings(report, sheet, units, cuts, steps, face_ratio)
        code_mm = CODE_MM if with_code and place == 0 else 0.0
        setting = fitting_setting(kind, replace(page, sections=rest), block, code_mm, drawings)
        found.append(Side(page.statement, page.order, _blocks(rest), cuts, block[1:], drawings, setting))
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
