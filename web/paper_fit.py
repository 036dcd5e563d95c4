"""The type of a side of paper: as large as its content allows on A4 and on Letter alike."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from billet import Section, SheetPage
from web.letter_widths import POINT_MM, line_count, width_mm
from web.paper_blocks import Block, blocks_of, columns_mm
from web.paper_drawings import PILE_MM, Drawings
from web.paper_heights import pile_mm, section_mm, text_mm
from web.paper_steps import LINE, SIDE_MM

HIGH_MM = 263.0
"""Letter within its margins."""
LEAST, MOST = 24, 34
"""Half points: twelve to seventeen."""
USUAL_HEAT, LEAST_HEAT = 48, 36
"""Half points of the heat of a step where it is no more twice the words beside it: twenty-four, or down to
eighteen where many steps stand on a side."""
PAPERS_MM = {"A4": (SIDE_MM, 281.0), "Letter": (199.0, HIGH_MM)}
"""Width and height within margins of 8 mm, under a millimetre less than there is. Steps are set for the
narrower; all else wraps as it has room."""
RESERVE_MM, STEPS_RESERVE_MM = 2.0, 3.0
DRIFT = {"forge": 0.015}
"""What wraps otherwise than worked out here: millimetres, and of steps a share for each point over twelve."""
HEAD_GAP_MM, CODE_GAP_MM = 4.0, 2.0
CODE_MM, LARGE_CODE_MM = 30.0, 52.0
STATEMENT_EM = {"harden": 1.6, "kiln": 2.0}
"""The answer beside the words; elsewhere one and a half."""
Pairs = Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Setting:
    """The type of a side in half points: its words, and the heat of its steps."""

    words: int
    heat: int

    @property
    def points(self) -> float:
        """The words in points."""
        return self.words / 2.0

    @property
    def heat_points(self) -> float:
        """The heat in points."""
        return self.heat / 2.0


SETTINGS = (
    *(Setting(w, heat) for w in range(MOST, LEAST, -1) for heat in (2 * w, USUAL_HEAT)),
    *(Setting(LEAST, heat) for heat in range(USUAL_HEAT, LEAST_HEAT - 1, -1)),
)
"""From the largest words down; of the least the heat shrinks too."""


@dataclass(frozen=True)
class Code:
    """The square with the link, `mm` wide: in the title block, or `free` where room is left.

    That is under the answer of a forge sheet, and elsewhere under the shorter of two columns.
    """

    mm: float
    free: bool

    @property
    def large(self) -> bool:
        """Whether it is that of a long link."""
        return self.mm > CODE_MM


@dataclass(frozen=True)
class Content:
    """What stands on a side: the page, the pairs of its title block, its drawings, the square if any."""

    kind: str
    page: SheetPage
    block: Pairs
    drawings: Drawings
    code: Code | None = None


def fitting_setting(content: Content) -> Setting | None:
    """The largest type at which the side holds all that stands on it; None where the least does not."""
    place = bisect_left(SETTINGS, True, key=lambda setting: fits(content, setting))
    return SETTINGS[place] if place < len(SETTINGS) else None


def fits(content: Content, setting: Setting) -> bool:
    """Whether the side holds all that stands on it in this type."""
    blocks = _blocks(content, setting)
    reserve = STEPS_RESERVE_MM if content.kind == "forge" else RESERVE_MM
    papers = PAPERS_MM.values()
    return all(_side_mm(content, blocks, setting, wide) <= high - reserve for wide, high in papers)


def side_mm(content: Content, setting: Setting, wide_mm: float = SIDE_MM) -> float:
    """About how high a side of this width stands in this type; endless where its square has no place."""
    return _side_mm(content, _blocks(content, setting), setting, wide_mm)


def _blocks(content: Content, setting: Setting) -> tuple[Block, ...]:
    """The blocks under the head."""
    sections = list(content.page.sections)
    _taken_by_head(content.kind, sections)
    return blocks_of(content.kind, sections, setting.points, content.drawings)


def _taken_by_head(kind: str, sections: list[Section]) -> tuple[Section, Section | None] | None:
    """The pile and the rules of a forge sheet, which stand in its head: they are taken from the list."""
    if kind != "forge":
        return None
    pile = sections.pop(0)
    return pile, (sections.pop(0) if sections and sections[0].kind == "text" else None)


def _side_mm(content: Content, blocks: Sequence[Block], setting: Setting, wide_mm: float) -> float:
    points, code = setting.points, content.code
    high = _head(content, points, wide_mm)
    high += sum(_block(content, part, setting, wide_mm) for part in blocks)
    if code is not None and code.free and content.kind != "forge":
        columns = [columns_mm(content.kind, b, points, content.drawings, wide_mm) for b in blocks if b.left]
        high += min((max(free_mm(code) - abs(a - b), 0.0) for a, b in columns), default=math.inf)
    beside = code.mm if code is not None and not code.free else 0.0
    foot = max(_title_block(content.block, wide_mm - (beside + 4.0 if beside else 0.0)), beside) + 2.0
    return (high + foot) * (1.0 + DRIFT.get(content.kind, 0.0) * (points - LEAST / 2.0))


def free_mm(code: Code | None) -> float:
    """What the square takes where it stands free, with the gap above it."""
    return code.mm + CODE_GAP_MM if code is not None and code.free else 0.0


def _head(content: Content, points: float, wide_mm: float) -> float:
    """The answer and the order; on a forge sheet the rules under them, and the pile beside."""
    page, em, big = content.page, points * POINT_MM, STATEMENT_EM.get(content.kind, 1.5)
    taken = _taken_by_head(content.kind, list(page.sections))
    if taken is None:
        title = f"{content.block[0][1]}, side 2 of 2"
        high = text_mm(page.statement, wide_mm, points, big, True) + 0.15 * em * big + 1.0
        high += text_mm(title, wide_mm, points)
        return high + (text_mm(page.order, wide_mm, points) * 1.16 / LINE if page.order else 0.0)
    pile, rules = taken
    room = wide_mm - PILE_MM - HEAD_GAP_MM
    left = text_mm(page.statement, room, points, big, True) + 0.15 * em * big
    left += text_mm(page.order, room, points, 1.5, True) if page.order else 0.0
    left += sum(text_mm(row[0], room, points) + 0.3 * em for row in (rules.rows if rules else ()))
    return max(left + free_mm(content.code), pile_mm(pile, points, content.drawings))


def _block(content: Content, part: Block, setting: Setting, wide_mm: float) -> float:
    """Columns beside one another; or what stands over the whole width, the steps under the line that names
    their columns."""
    kind, points, drawings = content.kind, setting.points, content.drawings
    high = max(columns_mm(kind, part, points, drawings, wide_mm)) if part.left else 0.0
    for section in part.wide:
        if section.kind != "steps":
            high += section_mm(kind, section, wide_mm, points, drawings)
            continue
        made = (drawings.step_layout(m, points, setting.heat_points) for m in section.operations)
        high += 1.4 * points * POINT_MM + sum(layout.high_mm for layout in made)
    return high


def _title_block(block: Pairs, room: float) -> float:
    """Rows of cells in twelve points, filled one after another; one that has no room in a row wraps in its
    own."""
    rows, used, wrapped = 1, 0.0, 0
    for label, value in block:
        wide = width_mm(f"{label}: {value}", 12.0) + 3.3 + (0.0 if value else 17.0)
        if used > 0.0 and used + wide > room:
            rows, used = rows + 1, 0.0
        used += wide
        wrapped += line_count(f"{label}: {value}", room - 3.3, 12.0) - 1
    return rows * 6.0 + wrapped * 12.0 * POINT_MM * 1.1 + 1.0
