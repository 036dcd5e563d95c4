"""The relief that marks in the faces make, as one mirrored cell."""

from dataclasses import replace

import numpy as np

from billet.forging.cut_shapes import Cut, MarkRow
from billet.forging.solid import Carved, Pressed, Size
from billet.pattern.flattening import Relief, mean_of_cell
from billet.pattern.points import Floats

ALONG, CELL_ACROSS, CELL_ALONG = 257, 33, 33
LEVELS, CELL_LEVELS = 129, 33


def relief_of(change: Carved | Pressed, height_mm: float, mean_mm: float) -> Relief:
    """The cell of these marks in a bar so high, its depths so scaled that the mean thickness is that of the
    books, which count every mark while a cell goes on beyond the ends.
    """
    relief = _round(change, height_mm) if _is_round(change) else _straight(change, height_mm)
    cut_mm = height_mm - mean_of_cell(relief.thickness_mm)
    scale = (height_mm - mean_mm) / cut_mm if cut_mm > 0.0 else 1.0
    return replace(relief, top_mm=scale * relief.top_mm, bottom_mm=scale * relief.bottom_mm)


def levels_of(relief: Relief) -> int:
    """How many levels the table of a flattening takes: fewer where it has three axes."""
    return LEVELS if relief.top_mm.shape[0] == 1 else CELL_LEVELS


def _is_round(change: Carved | Pressed) -> bool:
    return any(cut is not None and cut.round for cut in (change.bottom, change.top))


def _rows(change: Carved | Pressed, face: str) -> list[MarkRow]:
    return [row for row in change.marks if row.face == face]


def _straight(change: Carved | Pressed, height_mm: float) -> Relief:
    first, pitch_mm = _along(change.marks, change.before)
    z = np.linspace(0.0, 0.5 * pitch_mm, ALONG)
    depths = []
    for face, cut in (("top", change.top), ("bottom", change.bottom)):
        rows = _rows(change, face)
        if cut is None or not rows:
            depths.append(np.zeros((1, ALONG)))
            continue
        phase = np.mod(rows[0].along_mm[0] - first, pitch_mm)
        phase = min(phase, pitch_mm - phase)
        depths.append(cut.depth_at_mm(z - phase)[None])
    return Relief(height_mm, depths[0], depths[1], (1.0, 0.5 * pitch_mm), first)


def _round(change: Carved | Pressed, height_mm: float) -> Relief:
    first, pitch_mm = _along(change.marks, change.before)
    lines = _rows(change, "top") or _rows(change, "bottom")
    across = [line.across_mm or 0.0 for line in lines]
    apart_mm = across[1] - across[0] if len(lines) > 1 else change.before.width_mm
    off_mm = np.mod(lines[1].along_mm[0] - first, pitch_mm) if len(lines) > 1 else 0.0
    staggered = 0.25 * pitch_mm < off_mm < 0.75 * pitch_mm
    half = (apart_mm if staggered else 0.5 * apart_mm, 0.5 * pitch_mm)
    x, z = np.meshgrid(
        np.linspace(0.0, half[0], CELL_ACROSS), np.linspace(0.0, half[1], CELL_ALONG), indexing="ij"
    )
    depths = [_dimples(cut, x, z, half, staggered) for cut in (change.top, change.bottom)]
    middle = 0.5 * change.before.width_mm
    return Relief(height_mm, depths[0], depths[1], half, first, across[0] - middle)


def _dimples(cut: Cut | None, x: Floats, z: Floats, half: tuple[float, float], staggered: bool) -> Floats:
    if cut is None:
        return np.zeros_like(x)
    depth = cut.depth_at_mm(np.hypot(x, z))
    if staggered:
        depth = np.maximum(depth, cut.depth_at_mm(np.hypot(x - half[0], z - half[1])))
    return depth


def _along(marks: tuple[MarkRow, ...], size: Size) -> tuple[float, float]:
    """Place of a mark from the handle end, and from one mark to the next; the length where there is one."""
    row = max(marks, key=lambda each: (len(each.along_mm), each.face))
    along = row.along_mm
    return along[0], along[1] - along[0] if len(along) > 1 else size.length_mm
