"""How high the parts of a sheet stand on paper, as static/paper.css sets them.

The browser tests hold the sums against the paper.
"""

from collections.abc import Sequence

from billet import Section
from web.letter_widths import POINT_MM, line_count, width_mm
from web.lettering import unbroken
from web.paper_drawings import PILE_MM, Drawings
from web.paper_steps import BOX_MM, LINE

BOX, BLANK = "\u2610", ""
LARGER = 1.08
"""Of the words: headings, and the figures of a hardening sheet."""
SLACK_MM = 0.6
"""What words are taken to be wider than they are: the two ways of a temperature are bold."""
HEADING_MARGINS_EM, PART_MARGIN_EM = 0.65, 0.2
CELL_MM, CELL_GAP_MM, HEADS_MM = 1.15, 2.0, 1.4
"""Above and below the words of a row with its rule; beside them; above and below the heads of columns."""
BOXED_MM, CHECK_GAP_MM = 0.8, 3.0
LINE_MM = 14.0
"""The least length of a line to write on."""
BLANKS_IN_A_ROW = {"buyer": 2}
LARGE_EM, LARGE_GAP_MM = 1.4, 6.0
LONG_NAME, LABEL_FRAC = 16, 0.3
"""Letters of a name over which the names of a table break, and what of the width they have then."""
NAMES_EM = {"harden": 4.4}
"""Names of two tables one under the other are as wide."""
NAME_LEAST_MM = 44.0
"""Least room for the names of the steels on a buyer's sheet."""


def text_mm(words: str, room: float, points: float, size: float = 1.0, bold: bool = False) -> float:
    """The height of words that break in so wide a room."""
    return line_count(unbroken(words), room - SLACK_MM, points * size, bold) * points * size * POINT_MM * LINE


def heading_mm(words: str, room: float, points: float) -> float:
    """A heading of a part with its margins."""
    if not words:
        return 0.0
    return text_mm(words, room, points, LARGER, True) * 1.1 / LINE + HEADING_MARGINS_EM * LARGER * _em(points)


def pile_mm(pile: Section, points: float, drawings: Drawings) -> float:
    """The pile that a side of a forge sheet begins with, drawn and told."""
    heading = text_mm(pile.heading, PILE_MM, points, LARGER, True) * 1.1 / LINE + 0.2 * _em(points)
    return heading + min(drawings.pile_under_mm(pile, points), drawings.pile_beside_mm(pile, points))


def least_mm(kind: str, section: Section, points: float) -> float:
    """The least width of a section: figures and the two ways of a temperature do not break."""
    if section.kind == "table" and section.columns:
        wide = _column_widths(kind, section, points)
        if kind == "buyer" and section.marked is None:
            wide[0] = min(wide[0], NAME_LEAST_MM)
        return sum(wide) + CELL_GAP_MM * (len(wide) - 1)
    words = max(width_mm(word, points) for row in section.rows for word in unbroken(row[-1]).split(" "))
    if section.kind != "table":
        return words
    return words + SLACK_MM + (0.0 if long_names(section) else _names_mm(kind, section, points))


def section_mm(kind: str, section: Section, room: float, points: float, drawings: Drawings) -> float:
    """About how high a section stands in a column of this width."""
    em = _em(points)
    high = heading_mm(section.heading, room, points) + _margin_em(section) * em
    if section.figure is not None:
        return high + drawings.figure_mm(section, points)
    if section.kind == "table":
        return high + _table(kind, section, room, points)
    if section.kind == "large":
        return high + _large_mm(section, room, points)
    if section.kind == "blanks":
        return high + -(-len(section.rows) // BLANKS_IN_A_ROW.get(kind, 3)) * max(6.8, LINE * em)
    if section.kind == "checks":
        beside = room - BOX_MM - CHECK_GAP_MM
        return high + sum(max(BOX_MM, text_mm(" ".join(row[1:]), beside, points)) for row in section.rows)
    if section.kind == "cautions":
        return high + sum(text_mm(f"\u26a0 {row[0]} {row[-1]}", room, points) for row in section.rows)
    return high + sum(text_mm(" ".join(row), room, points) for row in section.rows)


def _margin_em(section: Section) -> float:
    """What stands above a part; in a column that of its heading takes it in."""
    return 0.0 if section.heading and section.column != "wide" else PART_MARGIN_EM


def _em(points: float) -> float:
    return points * POINT_MM


def _table(kind: str, section: Section, room: float, points: float) -> float:
    em = _em(points)
    if not section.columns:
        return sum(_pair_mm(kind, section, row, room, points) for row in section.rows)
    size = LARGER if kind == "harden" else 1.0
    line = size * em * LINE
    wraps = _wrapping(kind, section)
    wide = _column_widths(kind, section, points)
    rest = room - sum(w for i, w in enumerate(wide) if i != wraps) - CELL_GAP_MM * (len(wide) - 1)
    high = LINE * em + HEADS_MM
    for row in section.rows:
        lines = line_count(unbroken(row[wraps]), rest, points * size, wraps == 0) if wraps is not None else 1
        high += max(lines * line + CELL_MM, BOX_MM + BOXED_MM if BOX in row else 0.0)
    return high


def _large_mm(section: Section, room: float, points: float) -> float:
    """Names with their values, which are larger, one after another in as many rows as they need."""
    rows, used = 1, 0.0
    for name, value in section.rows:
        wide = width_mm(f"{name} ", points) + width_mm(value, LARGE_EM * points, True)
        rows, used = (rows + 1, 0.0) if used and used + wide > room - SLACK_MM else (rows, used)
        used += wide + LARGE_GAP_MM
    return rows * LARGE_EM * _em(points) * LINE


def long_names(section: Section) -> bool:
    """Whether the names of a table of names and values are so long that they break."""
    return max(len(row[0]) for row in section.rows) > LONG_NAME


def _pair_mm(kind: str, section: Section, row: Sequence[str], room: float, points: float) -> float:
    """A name and its value, which breaks; where names are long they break in three tenths of the width."""
    label = LABEL_FRAC * room if long_names(section) else _names_mm(kind, section, points)
    name = text_mm(row[0], label - CELL_GAP_MM, points, 1.0, True) if long_names(section) else 0.0
    return max(name, text_mm(row[-1], room - label, points)) + CELL_MM


def _names_mm(kind: str, section: Section, points: float) -> float:
    """The column of the names, where they do not break."""
    names = max(width_mm(row[0], points, True) for row in section.rows) + CELL_GAP_MM
    return max(names, NAMES_EM.get(kind, 0.0) * _em(points))


def _wrapping(kind: str, section: Section) -> int | None:
    """The column whose words break: what comes then in the furnace, the steels of a buyer's sheet."""
    if kind == "kiln":
        return 3
    return 0 if kind == "buyer" and section.marked is None else None


def _column_widths(kind: str, section: Section, points: float) -> list[float]:
    """Each column as wide as its cells ask."""
    size = LARGER if kind == "harden" else 1.0
    widths = []
    for i, name in enumerate(section.columns):
        cells = (row[i] for row in section.rows if i < len(row))
        wide = max(
            (_cell_mm(c, points * size, i == 0 or section.marked is not None) for c in cells), default=0.0
        )
        widths.append(max(wide, width_mm(name, points, True)))
    return widths


def _cell_mm(cell: str, points: float, bold: bool) -> float:
    return BOX_MM if cell == BOX else LINE_MM if cell == BLANK else width_mm(cell, points, bold)
