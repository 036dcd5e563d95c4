"""The type of a side of paper: as large as its content allows on A4 and on Letter alike.

Heights are worked out as static/paper.css sets them; the browser tests hold the result against the paper.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from billet import Section, SheetPage
from web.letter_widths import POINT_MM, line_count, width_mm
from web.paper_drawings import PILE_MM, Drawings
from web.paper_steps import BOX_MM, LINE, SIDE_MM

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
RESERVE_MM = {"forge": 3.0, "harden": 18.0, "buyer": 8.0, "kiln": -12.0}
DRIFT = 0.015
"""What wraps otherwise than worked out here: millimetres, and a share for each point over twelve."""
HEAD_GAP_MM, COLUMN_GAP_MM = 4.0, 5.0
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


def fitting_setting(
    kind: str, page: SheetPage, block: Pairs, code_mm: float, drawings: Drawings
) -> Setting | None:
    """The largest type at which the side holds all that stands on it; None where the least does not."""
    return next((s for s in SETTINGS if fits(kind, page, block, s, code_mm, drawings)), None)


def fits(
    kind: str, page: SheetPage, block: Pairs, setting: Setting, code_mm: float, drawings: Drawings
) -> bool:
    """Whether the side holds all that stands on it in this type."""
    return all(
        side_mm(kind, page, block, setting, code_mm, drawings, wide) <= high - RESERVE_MM[kind]
        for wide, high in PAPERS_MM.values()
    )


def side_mm(
    kind: str,
    page: SheetPage,
    block: Pairs,
    setting: Setting,
    code_mm: float,
    drawings: Drawings,
    wide_mm: float = SIDE_MM,
) -> float:
    """About how high a side of this width stands in this type."""
    sections, points = list(page.sections), setting.points
    high = _head(kind, page, sections, points, drawings, wide_mm)
    for wide, group in groupby(sections, key=lambda s: s.column == "wide"):
        members = list(group)
        if wide:
            high += sum(_wide_mm(kind, s, setting, drawings, wide_mm) for s in members)
        else:
            high += _columns(kind, members, points, drawings, wide_mm)
    foot = max(_title_block(block, wide_mm - (code_mm + 4.0 if code_mm else 0.0)), code_mm) + 2.0
    return (high + foot) * (1.0 + DRIFT * (points - LEAST / 2.0))


def _text(
    words: str, room: float, points: float, size: float = 1.0, line: float = LINE, bold: bool = False
) -> float:
    return line_count(words, room, points * size, bold) * points * size * POINT_MM * line


def _head(
    kind: str, page: SheetPage, sections: list[Section], points: float, drawings: Drawings, wide_mm: float
) -> float:
    """The answer and the order; on a forge sheet the pile and the rules, which are taken from the list."""
    em = points * POINT_MM
    big = {"harden": 1.6, "kiln": 2.0}.get(kind, 1.5)
    order, line = (1.0, LINE) if kind in {"harden", "buyer"} else (1.5, LINE)
    if kind != "forge":
        high = _text(page.statement, wide_mm, points, big, LINE, True) + 0.15 * em * big + em * LINE + 1.0
        return high + (_text(page.order, wide_mm, points, order, line) if page.order else 0.0)
    pile = sections.pop(0)
    room = wide_mm - PILE_MM - HEAD_GAP_MM
    left = _text(page.statement, room, points, big, LINE, True) + 0.15 * em * big
    left += _text(page.order, room, points, order, line, True) if page.order else 0.0
    if sections and sections[0].kind == "text":
        left += sum(_text(row[0], room, points) + 0.3 * em for row in sections.pop(0).rows)
    return max(left, _pile(pile, points, drawings))


def _pile(pile: Section, points: float, drawings: Drawings) -> float:
    heading = _text(pile.heading, PILE_MM, points, 1.08, 1.1, True) + 0.2 * points * POINT_MM
    return heading + min(drawings.pile_under_mm(pile, points), drawings.pile_beside_mm(pile, points))


def _columns(kind: str, members: list[Section], points: float, drawings: Drawings, wide_mm: float) -> float:
    left = [s for s in members if s.column == "left"]
    right = [s for s in members if s.column == "right"]
    tables = [_table_width(s, points) for s in left if s.columns]
    room = min(max(tables, default=90.0), 104.0)
    rest = wide_mm - room - COLUMN_GAP_MM
    return max(
        sum(section_mm(kind, s, room, points, drawings) for s in left),
        sum(section_mm(kind, s, rest, points, drawings) for s in right),
    )


def _table_width(section: Section, points: float) -> float:
    """As wide as the cells of every column ask."""
    rows = [section.columns, *section.rows]
    count = len(section.columns)
    wide = [
        max((_cell_width(row[i], points) for row in rows if i < len(row)), default=0.0) for i in range(count)
    ]
    return sum(wide) + 2.0 * count


def _cell_width(cell: str, points: float) -> float:
    return BOX_MM if cell == "\u2610" else 14.0 if cell == "" else width_mm(cell, 1.08 * points, True)


def _wide_mm(kind: str, section: Section, setting: Setting, drawings: Drawings, wide_mm: float) -> float:
    """A section over the whole width; the steps under the line that names their columns."""
    if section.kind != "steps":
        return section_mm(kind, section, wide_mm, setting.points, drawings)
    names = 1.4 * setting.points * POINT_MM
    made = (drawings.step_layout(m, setting.points, setting.heat_points) for m in section.operations)
    return names + sum(layout.high_mm for layout in made)


def section_mm(kind: str, section: Section, room: float, points: float, drawings: Drawings) -> float:
    """About how high a section stands in a column of this width."""
    em = points * POINT_MM
    high = 0.2 * em
    if section.heading:
        high += _text(section.heading, room, points, 1.08, 1.1, True) + 0.65 * 1.08 * em
    if section.figure is not None:
        return high + drawings.figure_mm(section, points)
    if section.kind == "table":
        return high + _table(kind, section, room, points)
    if section.kind == "blanks":
        return high + -(-len(section.rows) // (4 if kind == "buyer" else 3)) * max(6.6, 1.2 * em)
    if section.kind == "checks":
        return high + sum(max(BOX_MM, _text(row[-1], room - 10.0, points)) for row in section.rows)
    return high + sum(_text("    " + " ".join(row), room, points) for row in section.rows)


def _table(kind: str, section: Section, room: float, points: float) -> float:
    em = points * POINT_MM
    if section.columns:
        text_mm = [_row_lines(kind, row, room, points) * LINE * 1.08 * em + 1.2 for row in section.rows]
        boxed = [any(cell == "\u2610" for cell in row) for row in section.rows]
        return 1.4 * em + sum(
            max(mm, BOX_MM + 0.8 if box else 0.0) for mm, box in zip(text_mm, boxed, strict=True)
        )
    label = max(width_mm(row[0], points, True) for row in section.rows) + 2.5
    label = min(label, 0.3 * room)
    rows = (_text(row[-1], room - label, points, 1.0, LINE) for row in section.rows)
    return sum(rows) + 1.2 * len(section.rows)


def _row_lines(kind: str, row: Sequence[str], room: float, points: float) -> int:
    """On the furnace programme what comes then wraps; elsewhere a row of figures is one line."""
    if kind != "kiln":
        return 1
    then = room - 14.0 - width_mm("".join(row[:3]), points, True) - 14.0
    return line_count(row[3], then, points)


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
