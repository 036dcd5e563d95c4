"""Steps that make a pattern: twist, grooves, dimples, a die, standing on end, splitting.

All but the cuts that still lie open leave a bar whose layers reach every face alike.
"""

from dataclasses import dataclass, replace
from typing import NoReturn

import numpy as np

from billet.errors import Fault, RecipeError
from billet.forging.cut_shapes import FACES, Cut, MarkRow, carved_mm, count_of_marks, cut_of, marks_of
from billet.forging.cuts import crop_ends
from billet.forging.events import Carve, Event, Forge, Mix, RemoveAlike
from billet.forging.fires import Burnt, Target, fire
from billet.forging.pile import HEIGHT, LENGTH, Piece, Pile
from billet.forging.solid import Carved, Change, Dragged, Pressed, Size, Stood, Twisted
from billet.recipe.model import Dimple, Groove, Press, Split, Stand, Step, Twist
from billet.tables.forging import forging_rule

MOST_MARKS = 2000
TALLEST_ON_END_MM = 400.0
"""As high as a stack may lie."""
Marked = Groove | Dimple | Press


@dataclass(frozen=True)
class Worked:
    """What a step did beside changing the pile; `burnt` is None without a fire."""

    events: tuple[Event, ...]
    changes: tuple[Change, ...]
    marks: tuple[MarkRow, ...] = ()
    burnt: Burnt | None = None


def twist(pile: Pile, step: Twist, scale_factor: float) -> Worked:
    """Twist a square bar: sizes stay, but for what scale takes. Raises RecipeError for a flat one."""
    within = float(forging_rule("twist")["square_within_frac"])
    if abs(pile.height_mm / pile.width_mm - 1.0) > within:
        size = f"{pile.height_mm:.4g} mm high and {pile.width_mm:.4g} mm wide"
        rule = f"the bar is {size}: a twist wants it square within {100.0 * within:g} %; draw it square first"
        _refuse(step, "turns", rule)
    burnt = fire(pile, step, scale_factor, Target())
    mixed = _mixed(pile, step)
    twisted = Twisted(step.number, pile.size, pile.size, step.turns)
    return Worked((*burnt.events, *mixed), (*burnt.changes, twisted), (), burnt)


def carve(pile: Pile, step: Groove | Dimple) -> Worked:
    """Cut grooves or dimples: the faces stand where they were, the volume is less."""
    _check_count(pile, step)
    marks, bottom, top = _cuts(pile, step, pile.length_mm)
    before, before_kg, height_mm = pile.size, pile.mass_kg, pile.solid_height_mm
    left = None if _is_flat(pile) else _carve_alike(pile, bottom, top)
    if left is None:
        pile.pieces = [_carved(pile.pieces[0], bottom, top)]
    pile.relief_mm = before.height_mm - pile.solid_height_mm
    pile.thinnest_mm = before.height_mm - step.depth_mm * _cuts_across(step)
    pile.lost.cut += before_kg - pile.mass_kg
    event = Carve(step.number, height_mm, bottom, top, left)
    events: tuple[Event, ...] = (event, *_mixed(pile, step))
    return Worked(events, (Carved(step.number, before, pile.size, marks, bottom, top),), marks)


def _cuts_across(step: Groove | Dimple) -> int:
    """How many cuts lie one over the other at the thinnest place."""
    return 1 if isinstance(step, Groove) and step.offset else len(FACES[step.faces])


def press(pile: Pile, step: Press, scale_factor: float) -> Worked:
    """Push a die in, which makes the bar longer, and grind it flat to the bottom of the marks."""
    burnt = fire(pile, step, scale_factor, Target())
    mixed = _mixed(pile, step)
    _check_count(pile, step)
    length_mm = _pressed_length_mm(pile, step)
    before, height_mm = pile.size, pile.solid_height_mm
    marks, bottom, top = _cuts(pile, step, length_mm)
    mean_mm = height_mm * before.length_mm / length_mm
    pressed = Size(before.width_mm, before.height_mm, length_mm)
    ratio = pile.set_size(LENGTH, length_mm) * pile.set_size(HEIGHT, mean_mm)
    events: list[Event] = [*burnt.events, *mixed, Forge(step.number, ratio, mean_mm / height_mm)]
    pressed_kg, faces = pile.mass_kg, FACES[step.faces]
    left = pile.set_size(HEIGHT, height_mm - len(faces) * step.depth_mm)
    each_mm = (mean_mm - pile.solid_height_mm) / len(faces)
    off_mm = [each_mm if face in faces else 0.0 for face in ("bottom", "top")]
    events.append(RemoveAlike(step.number, mean_mm, off_mm[0], off_mm[1], left))
    pile.lost.grind += pressed_kg - pile.mass_kg
    change = Pressed(step.number, before, pressed, pile.size, marks, bottom, top)
    return Worked(tuple(events), (*burnt.changes, change), marks, burnt)


def stand(pile: Pile, step: Stand) -> Worked:
    """Stand the bar on end: the layers lie across it from here on."""
    if pile.length_mm > TALLEST_ON_END_MM:
        rule = f"a bar of {pile.length_mm:.4g} mm would stand higher than {TALLEST_ON_END_MM:g} mm"
        _refuse(step, "do", f"{rule}; cut it shorter first")
    before = pile.size
    pile.exchange(HEIGHT, LENGTH)
    pile.alike = True
    events = (Mix(step.number, pile.solid_height_mm, False),)
    return Worked(events, (Stood(step.number, before, pile.size),))


def split(pile: Pile, step: Split, scale_factor: float) -> Worked:
    """Drive a wedge along the middle and weld the halves again; what was dragged is cropped off."""
    if step.drag_mm >= 0.5 * pile.length_mm:
        rule = f"the drag must be less than half of the length, {0.5 * pile.length_mm:.4g} mm"
        _refuse(step, "drag_mm", f"{rule}, got {step.drag_mm:g} mm")
    burnt = fire(pile, step, scale_factor, Target())
    mixed = _mixed(pile, step)
    before = pile.size
    events = crop_ends(pile, step.number, step.drag_mm)
    change = Dragged(step.number, before, pile.size, step.drag_mm, step.width_mm)
    return Worked((*burnt.events, *mixed, *events), (*burnt.changes, change), (), burnt)


def _is_flat(pile: Pile) -> bool:
    return pile.axis == HEIGHT and not pile.alike


def _mixed(pile: Pile, step: Step) -> tuple[Event, ...]:
    """The event that ends the flat lie of the layers, where they still lay flat."""
    if pile.alike:
        return ()
    pile.alike = True
    return (Mix(step.number, pile.solid_height_mm, pile.axis == HEIGHT),)


def _check_count(pile: Pile, step: Marked) -> None:
    """Raises RecipeError where there would be too many marks, before any is laid out."""
    count = count_of_marks(step, pile.width_mm, pile.length_mm)
    if count > MOST_MARKS:
        _refuse(step, "pitch_mm", f"more than {MOST_MARKS} marks are not computed, here about {count}")


def _cuts(pile: Pile, step: Marked, length_mm: float) -> tuple[tuple[MarkRow, ...], Cut | None, Cut | None]:
    """The marks on a bar of this length, and the cut of bottom and top. Raises RecipeError."""
    height_mm, width_mm = pile.height_mm, pile.width_mm
    if step.depth_mm >= 0.5 * height_mm:
        rule = f"deeper than the half of the bar, {0.5 * height_mm:.4g} mm"
        _refuse(step, "depth_mm", f"{rule}, got {step.depth_mm:g} mm")
    marks = marks_of(step, width_mm, length_mm)
    if {row.face for row in marks} != set(FACES[step.faces]):
        size = f"{width_mm:.4g} mm wide and {length_mm:.5g} mm long"
        _refuse(step, "pitch_mm", f"not one finds room on each face of a bar {size}")
    cuts = {
        face: cut_of(step, tuple(row for row in marks if row.face == face), width_mm, length_mm)
        for face in FACES[step.faces]
    }
    return marks, cuts.get("bottom"), cuts.get("top")


def _pressed_length_mm(pile: Pile, step: Press) -> float:
    """Length once the die is in: the metal of the marks goes along, the height between them stays."""
    length_mm = pile.length_mm
    while True:
        count = sum(len(row.along_mm) for row in marks_of(step, pile.width_mm, length_mm))
        pressed_mm = pile.length_mm + 0.5 * count * step.width_mm * step.depth_mm / pile.height_mm
        if pressed_mm <= length_mm:
            return pressed_mm
        length_mm = pressed_mm


def _carved(piece: Piece, bottom: Cut | None, top: Cut | None) -> Piece:
    """Flat layers, each without what the cuts take out of its depth."""
    kept_mm = carved_mm(np.asarray(piece.mm), bottom, top)
    return replace(piece, mm=[float(mm) for mm in kept_mm])


def _carve_alike(pile: Pile, bottom: Cut | None, top: Cut | None) -> float:
    """Take the cuts out of all layers in proportion; returns what is left of their thickness."""
    taken_mm = sum(cut.mean_mm for cut in (bottom, top) if cut is not None)
    return pile.set_size(HEIGHT, pile.solid_height_mm - taken_mm)


def _refuse(step: Step, key: str, message: str) -> NoReturn:
    where = f"steps[{step.number - 1}].{key}"
    raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
