"""Cold work: grinding, cropping, cutting and laying again. Each takes the pile and changes it."""

from dataclasses import dataclass
from typing import Literal, NoReturn

from billet.errors import Fault, RecipeError
from billet.forging.events import Event, Remove, RemoveAlike
from billet.forging.hot_bar import HotBar
from billet.forging.laying import Bench, misfit
from billet.forging.pile import HEIGHT, LENGTH, Pile
from billet.forging.solid import Change, Laid, Taken
from billet.recipe.model import BarPiece, Beside, Crop, Grind, LayItem, Restack

NEARLY_ALL = 1.0 - 1e-9
"""What is left when numbers that should meet differ by their last digit is nothing."""


@dataclass(frozen=True)
class CutUp:
    """What was cut: the length of a piece, and where to mark the cuts from the handle end."""

    piece_mm: float
    cut_marks_mm: tuple[float, ...]


@dataclass(frozen=True)
class Ground:
    """What grinding or cropping did: events for the carbon, changes of the solid, and what it left behind."""

    events: tuple[Event, ...] = ()
    changes: tuple[Change, ...] = ()
    gone: tuple[tuple[str, str], ...] = ()
    """Layers that vanished: face and steel."""
    cut_marks_mm: tuple[float, ...] = ()


def grind(pile: Pile, step: Grind) -> Ground:
    """Take metal off faces and sides."""
    height_mm, width_mm = pile.height_mm, pile.width_mm
    if 2.0 * step.per_face_mm >= height_mm * NEARLY_ALL:
        rule = f"grinding {step.per_face_mm:g} mm off both faces goes through {height_mm:.4g} mm"
        _refuse(step, "per_face_mm", rule)
    if 2.0 * step.side_mm >= width_mm * NEARLY_ALL:
        rule = f"grinding {step.side_mm:g} mm off both sides goes through a bar {width_mm:.4g} mm wide"
        _refuse(step, "side_mm", rule)
    before_kg, size = pile.mass_kg, pile.size
    off_mm = (step.side_mm, step.per_face_mm, 0.0)
    events, gone = _grind_alike(pile, step, off_mm) if pile.alike else _grind_flat(pile, step, off_mm)
    for axis in pile.other_axes:
        pile.sizes_mm[axis] -= 2.0 * off_mm[axis]
    pile.lost.grind += before_kg - pile.mass_kg
    return Ground(events, (Taken(step.number, size, pile.size, off_mm),), gone)


def _grind_flat(
    pile: Pile, step: Grind, off_mm: tuple[float, float, float]
) -> tuple[tuple[Event, ...], tuple[tuple[str, str], ...]]:
    """Off the outer layers, at both ends of the list."""
    across_mm = off_mm[pile.axis]
    bar = HotBar(pile.pieces[0], pile.palette)
    bar.grind_face(False, across_mm)
    bar.grind_face(True, across_mm)
    pile.pieces = [bar.cooled()]
    events: tuple[Event, ...] = (Remove(step.number, across_mm, across_mm),) if across_mm > 0.0 else ()
    return events, tuple(bar.gone)


def _grind_alike(
    pile: Pile, step: Grind, off_mm: tuple[float, float, float]
) -> tuple[tuple[Event, ...], tuple[tuple[str, str], ...]]:
    """Off all layers in proportion."""
    left = 1.0 - 2.0 * off_mm[pile.axis] / pile.layers_mm
    face_mm = off_mm[HEIGHT]
    event = RemoveAlike(step.number, pile.solid_height_mm, face_mm, face_mm, left)
    pile.stretch_layers(left)
    return (event,) if face_mm > 0.0 or left < 1.0 else (), ()


def crop(pile: Pile, step: Crop) -> Ground:
    """Cut the ends off."""
    length_mm, size = pile.length_mm, pile.size
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
    marks = tuple(mark for mark, cut in ((near_mm, near_mm), (length_mm - far_mm, far_mm)) if cut > 0.0)
    events = crop_ends(pile, step.number, near_mm + far_mm)
    return Ground(events, (Taken(step.number, size, pile.size, (0.0, 0.0, near_mm)),), (), marks)


def crop_ends(pile: Pile, step: int, off_mm: float) -> tuple[Event, ...]:
    """Take so much off the length, of all layers in proportion."""
    before_kg, left = pile.mass_kg, 1.0 - off_mm / pile.length_mm
    height_mm = pile.solid_height_mm
    ratio = pile.set_size(LENGTH, pile.length_mm - off_mm)
    pile.lost.trim += before_kg - pile.mass_kg
    return (RemoveAlike(step, height_mm, 0.0, 0.0, left),) if ratio != 1.0 else ()


def restack(pile: Pile, step: Restack, bench: Bench) -> tuple[Laid, list[Event], CutUp]:
    """Trim, cut and lay the pieces one on another; the pile is loose afterwards. `pile.laid` stays."""
    near_mm, far_mm = step.trim_mm
    kerfs_mm = step.kerf_mm * (step.pieces - 1)
    piece_mm = (pile.length_mm - near_mm - far_mm - kerfs_mm) / step.pieces
    if piece_mm <= pile.length_mm * (1.0 - NEARLY_ALL):
        cuts = f"trimming {near_mm:g} and {far_mm:g} mm and {step.pieces - 1} cuts of {step.kerf_mm:g}"
        _refuse(step, "pieces", f"{cuts} mm leaves nothing of a bar of {pile.length_mm:.5g} mm")
    items = laid_items(step)
    _check_laid(pile, step, bench, piece_mm)
    bar, before = pile.pieces[0], pile.size
    kg_mm = bar.kg_mm2(pile.palette) * pile.width_mm
    used = sum(isinstance(item, str) for item in items)
    pile.lost.trim += kg_mm * (near_mm + far_mm)
    pile.lost.kerf += kg_mm * kerfs_mm
    pile.lost.left_over += kg_mm * piece_mm * (step.pieces - used)
    marks_mm = _marks(step, piece_mm, pile.length_mm)
    starts_mm = [near_mm + k * (piece_mm + step.kerf_mm) for k in range(step.pieces)]
    laid = bench.lay(step.number, items, pile.width_mm, piece_mm, bar, starts_mm)
    pile.pieces = laid.pieces
    pile.sizes_mm[LENGTH] = piece_mm
    pile.lost.added += laid.added_kg
    pile.lost.left_over += laid.over_kg
    change = Laid(step.number, before, pile.size, laid.placed)
    return change, [laid.event], CutUp(piece_mm, marks_mm)


def _check_laid(pile: Pile, step: Restack, bench: Bench, piece_mm: float) -> None:
    """Raises RecipeError for a bar made first that does not fit on the pieces."""
    for index, item in enumerate(step.lay or ()):
        if isinstance(item, BarPiece | Beside):
            wrong = misfit(item, bench.made, pile.width_mm, piece_mm)
            if wrong is not None:
                _refuse(step, f"lay[{index}]", wrong)


def laid_items(step: Restack) -> tuple[LayItem, ...]:
    """What lies in the pile, bottom up. A fold is a zigzag: every second piece lies upside down."""
    if step.lay is not None:
        return step.lay
    second: Literal["piece", "turned"] = "piece" if step.order == "same" else "turned"
    return tuple(second if index % 2 else "piece" for index in range(step.pieces))


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
