"""Cold work: grinding, cropping, cutting and laying again. Each takes the pile and changes it."""

from dataclasses import dataclass
from typing import Literal, NoReturn

from billet.errors import Fault, RecipeError
from billet.forging.events import Copy, Event, Lay, Remove
from billet.forging.hot_bar import HotBar
from billet.forging.pile import Piece, Pile
from billet.recipe.model import Crop, Grind, Layer, LayItem, Restack
from billet.recipe.sequence import laid_after

NEARLY_ALL = 1.0 - 1e-9
"""What is left when numbers that should meet differ by their last digit is nothing."""


@dataclass(frozen=True)
class CutUp:
    """What was cut: the length of a piece, and where to mark the cuts from the handle end."""

    piece_mm: float
    cut_marks_mm: tuple[float, ...]


def grind(pile: Pile, step: Grind) -> tuple[list[Event], tuple[tuple[str, str], ...]]:
    """Take metal off faces and sides; returns the event and the layers that vanished."""
    height_mm, width_mm = pile.height_mm, pile.width_mm
    if 2.0 * step.per_face_mm >= height_mm * NEARLY_ALL:
        rule = f"grinding {step.per_face_mm:g} mm off both faces goes through {height_mm:.4g} mm"
        _refuse(step, "per_face_mm", rule)
    if 2.0 * step.side_mm >= width_mm * NEARLY_ALL:
        rule = f"grinding {step.side_mm:g} mm off both sides goes through a bar {width_mm:.4g} mm wide"
        _refuse(step, "side_mm", rule)
    before_kg = pile.mass_kg
    across_mm, side_mm = step.per_face_mm, step.side_mm
    if pile.on_edge:
        across_mm, side_mm = side_mm, across_mm
    bar = HotBar(pile.pieces[0], pile.palette)
    bar.grind_face(False, across_mm)
    bar.grind_face(True, across_mm)
    pile.pieces = [bar.cooled()]
    pile.side_mm -= 2.0 * side_mm
    pile.lost.grind += before_kg - pile.mass_kg
    events: list[Event] = [Remove(step.number, across_mm, across_mm)] if across_mm > 0.0 else []
    return events, tuple(bar.gone)


def crop(pile: Pile, step: Crop) -> tuple[float, ...]:
    """Cut the ends off; returns where to mark the cuts."""
    length_mm = pile.length_mm
    if step.length_mm is not None:
        if step.length_mm > length_mm:
            rule = f"the bar is {length_mm:.5g} mm long; {step.length_mm:g} mm cannot stay of it"
            _refuse(step, "length_mm", rule)
        near_mm, far_mm = 0.0, length_mm - step.length_mm
    else:
        near_mm, far_mm = step.end_mm or (0.0, 0.0)
        if near_mm + far_mm >= length_mm * NEARLY_ALL:
            rule = f"cutting {near_mm:g} and {far_mm:g} mm off leaves nothing of {length_mm:.5g} mm"
            _refuse(step, "end_mm", rule)
    pile.lost.trim += pile.kg_mm2 * pile.side_mm * (near_mm + far_mm)
    pile.length_mm = length_mm - near_mm - far_mm
    return tuple(mark for mark, cut in ((near_mm, near_mm), (length_mm - far_mm, far_mm)) if cut > 0.0)


def restack(pile: Pile, step: Restack) -> tuple[list[Event], CutUp]:
    """Trim, cut and lay the pieces one on another; the pile is loose afterwards."""
    near_mm, far_mm = step.trim_mm
    kerfs_mm = step.kerf_mm * (step.pieces - 1)
    piece_mm = (pile.length_mm - near_mm - far_mm - kerfs_mm) / step.pieces
    if piece_mm <= pile.length_mm * (1.0 - NEARLY_ALL):
        cuts = f"trimming {near_mm:g} and {far_mm:g} mm and {step.pieces - 1} cuts of {step.kerf_mm:g}"
        _refuse(step, "pieces", f"{cuts} mm leaves nothing of a bar of {pile.length_mm:.5g} mm")
    bar = pile.pieces[0]
    kg_mm = bar.kg_mm2(pile.palette) * pile.side_mm
    items = laid_items(step)
    used = sum(not isinstance(item, Layer) for item in items)
    pile.lost.trim += kg_mm * (near_mm + far_mm)
    pile.lost.kerf += kg_mm * kerfs_mm
    pile.lost.left_over += kg_mm * piece_mm * (step.pieces - used)
    marks_mm = _marks(step, piece_mm, pile.length_mm)
    upside_down = bar.turned()
    pile.pieces = [_piece(item, bar, upside_down) for item in items]
    pile.length_mm = piece_mm
    density, face_mm2 = pile.palette.density_kg_mm3, pile.side_mm * piece_mm
    fresh = [item for item in items if isinstance(item, Layer)]
    pile.lost.added += sum(density[plate.steel] * plate.thickness_mm * face_mm2 for plate in fresh)
    pile.laid = laid_after(step, pile.laid)
    events: list[Event] = [
        Lay(step.number, tuple(i if isinstance(i, Layer) else Copy(i == "turned") for i in items))
    ]
    return events, CutUp(piece_mm, marks_mm)


def laid_items(step: Restack) -> tuple[LayItem, ...]:
    """What lies in the pile, bottom up. A fold is a zigzag: every second piece lies upside down."""
    if step.lay is not None:
        return step.lay
    second: Literal["piece", "turned"] = "piece" if step.order == "same" else "turned"
    return tuple(second if index % 2 else "piece" for index in range(step.pieces))


def _piece(item: LayItem, bar: Piece, upside_down: Piece) -> Piece:
    if isinstance(item, Layer):
        return Piece((item.steel,), (item.thickness_mm,))
    return upside_down if item == "turned" else bar


def _marks(step: Restack, piece_mm: float, length_mm: float) -> tuple[float, ...]:
    """The handle-side line of each cut, measured from the handle end of the bar before trimming."""
    near_mm, far_mm = step.trim_mm
    marks = [near_mm] if near_mm > 0.0 else []
    marks += [near_mm + k * piece_mm + (k - 1) * step.kerf_mm for k in range(1, step.pieces)]
    if far_mm > 0.0:
        marks.append(length_mm - far_mm)
    return tuple(marks)


def _refuse(step: Grind | Crop | Restack, key: str, message: str) -> NoReturn:
    where = f"steps[{step.number - 1}].{key}"
    raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
