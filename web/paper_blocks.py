"""Sections side by side on paper: which stand in which column, and how wide the columns are."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, product
from typing import Literal

from billet import Section
from web.paper_drawings import Drawings
from web.paper_heights import least_mm, section_mm
from web.paper_steps import SIDE_MM

COLUMN_GAP_MM = 5.0
LEFTS_MM = range(80, 117, 4)
"""Widths that the left column may have; static/paper.css has a class for each."""
ALIKE_MM = 1.0
"""Of ways that stand as high as this, the first is taken."""
Free = Literal["left", "right"]


@dataclass(frozen=True)
class Block:
    """Sections over the whole width, or two columns of them, the left `left_mm` wide."""

    wide: tuple[Section, ...] = ()
    left: tuple[Section, ...] = ()
    right: tuple[Section, ...] = ()
    left_mm: int = 0
    code: Free | None = None
    """The column at whose foot the square with the link stands, where it stands here."""


def blocks_of(kind: str, sections: Sequence[Section], points: float, drawings: Drawings) -> tuple[Block, ...]:
    """Neighbours that stand in columns come together, in the lowest way; a table too wide for its column
    stands below them."""
    found: list[Block] = []
    for wide, group in groupby(sections, key=lambda section: section.column == "wide"):
        members = tuple(group)
        if wide or len({section.column for section in members}) == 1:
            found.append(Block(wide=members))
        else:
            found += _beside(kind, members, points, drawings)
    return tuple(found)


def columns_mm(
    kind: str, block: Block, points: float, drawings: Drawings, wide_mm: float = SIDE_MM
) -> tuple[float, float]:
    """How high the two columns of a block stand."""
    right_mm = wide_mm - block.left_mm - COLUMN_GAP_MM
    return (
        sum(section_mm(kind, s, block.left_mm, points, drawings) for s in block.left),
        sum(section_mm(kind, s, right_mm, points, drawings) for s in block.right),
    )


def with_code(kind: str, blocks: Sequence[Block], points: float, drawings: Drawings) -> tuple[Block, ...]:
    """The blocks with the square of the link under the shorter column of the one where it costs least."""
    apart = [
        abs(a - b) if block.left else -1.0
        for block in blocks
        for a, b in [columns_mm(kind, block, points, drawings)]
    ]
    place = apart.index(max(apart))
    left, right = columns_mm(kind, blocks[place], points, drawings)
    marked = replace(blocks[place], code="left" if left < right else "right")
    return (*blocks[:place], marked, *blocks[place + 1 :])


def _beside(kind: str, members: Sequence[Section], points: float, drawings: Drawings) -> list[Block]:
    """The lowest of all ways: any width of the left column, its widest table in it or below."""
    least = {id(s): least_mm(kind, s, points) for s in members}
    tables = [s for s in members if s.column == "left" and s.columns]
    widest = max(tables, key=lambda s: least[id(s)], default=None)
    ways = []
    for below, left_mm in product((None, widest) if widest is not None else (None,), LEFTS_MM):
        left = tuple(s for s in members if s.column == "left" and s is not below)
        right = tuple(s for s in members if s.column == "right")
        right_mm = SIDE_MM - COLUMN_GAP_MM - left_mm
        if all(least[id(s)] <= left_mm for s in left) and all(least[id(s)] <= right_mm for s in right):
            under = [] if below is None else [Block(wide=(below,))]
            ways.append([Block(left=left, right=right, left_mm=left_mm), *under])
    if not ways:
        return [Block(wide=tuple(members))]
    heights = [_ways_mm(kind, way, points, drawings) for way in ways]
    lowest = min(heights) + ALIKE_MM
    return next(way for way, high in zip(ways, heights, strict=True) if high <= lowest)


def _ways_mm(kind: str, way: Sequence[Block], points: float, drawings: Drawings) -> float:
    below = sum(section_mm(kind, s, SIDE_MM, points, drawings) for block in way for s in block.wide)
    return below + max(columns_mm(kind, way[0], points, drawings))
