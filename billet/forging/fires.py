"""The fires of one step: scale, then forging, once for each heat."""

import math
from dataclasses import dataclass
from typing import NoReturn

from billet.contract.report import HeatSize
from billet.errors import Fault, RecipeError
from billet.forging.events import Event, Forge, Heat, HeatAlike
from billet.forging.heating_through import heating_of_heats
from billet.forging.hot_bar import HotBar
from billet.forging.pile import HEIGHT, LENGTH, WIDTH, Pile
from billet.forging.solid import Change, Size, Stretched, Taken
from billet.formulas.scaling import metal_loss_mm
from billet.recipe.model import FireStep, Weld
from billet.tables.forging import forging_rule

SLACK = 1e-9


@dataclass(frozen=True)
class Burnt:
    """What the fires of one step did to the bar, beside changing it."""

    each_heat: tuple[HeatSize, ...]
    fire_min: float
    events: tuple[Event, ...]
    changes: tuple[Change, ...]
    gone: tuple[tuple[str, str], ...]
    """Layers that vanished in the scale: face and steel."""


@dataclass(frozen=True)
class Target:
    """Cold sizes after the last heat; None where forging does not set one."""

    height_mm: float | None = None
    width_mm: float | None = None
    length_mm: float | None = None


def fire(pile: Pile, step: FireStep, scale_factor: float, target: Target) -> Burnt:
    """Run all heats of a step on a joined bar and change the bar. Raises RecipeError."""
    run = _Run(pile, step, scale_factor, target)
    for number in range(1, step.heats + 1):
        run.one_heat(number)
    pile.pieces = [run.bar.cooled()]
    return run.burnt()


@dataclass(frozen=True)
class _ScaleOff:
    """Scale of one fire: off the outer layers at both ends of the list, or off all of them alike (height
    before, metal off each face, and the share of every thickness that is left)."""

    faces_mm: tuple[float, float]
    alike: tuple[float, float, float] = (0.0, 0.0, 1.0)


class _Run:
    def __init__(self, pile: Pile, step: FireStep, scale_factor: float, target: Target) -> None:
        self.pile, self.step, self.target = pile, step, target
        self.bar = HotBar(pile.pieces[0], pile.palette)
        self.minutes = step.minutes / step.heats
        rate = forging_rule("scale_atmosphere")[step.atmosphere] * scale_factor
        self.plain_loss_mm = rate * metal_loss_mm(step.temperature_c, self.minutes)
        self.start_mm = (pile.width_mm, pile.height_mm, pile.length_mm)
        self.before_mm: list[tuple[float, float]] = []
        self.taken: list[_ScaleOff] = []
        self.ratios: list[tuple[float, float]] = []
        self.changes: list[Change] = []
        self.each_heat: list[HeatSize] = []

    def one_heat(self, number: int) -> None:
        """One fire: scale, then forging."""
        self.before_mm.append((self._mm(HEIGHT), self._mm(WIDTH)))
        size = self._outer()
        taken = self._scale()
        scaled = self._outer()
        self.changes.append(Taken(self.step.number, size, scaled, self._low_mm(taken, size, scaled)))
        ratio, height_ratio = self._forge(number)
        forged = self._outer()
        if forged != scaled:
            self.changes.append(Stretched(self.step.number, scaled, forged))
        self.taken.append(taken)
        self.ratios.append((ratio, height_ratio))
        self.each_heat.append(HeatSize(forged.height_mm, forged.length_mm))

    def _mm(self, axis: int) -> float:
        """Size along an axis while the layers are in the fire; the height by volume."""
        return self.bar.thickness_mm if axis == self.pile.axis else self.pile.sizes_mm[axis]

    def _outer(self) -> Size:
        return Size(self._mm(WIDTH), self._mm(HEIGHT) + self.pile.relief_mm, self._mm(LENGTH))

    def _low_mm(self, taken: "_ScaleOff", before: Size, after: Size) -> tuple[float, float, float]:
        """What scale took off the left side, the bottom and the handle end: half, but for the layers' own."""
        halves = [
            0.5 * (before.width_mm - after.width_mm),
            0.5 * (before.height_mm - after.height_mm),
            0.5 * (before.length_mm - after.length_mm),
        ]
        if not self.pile.alike:
            halves[self.pile.axis] = taken.faces_mm[0]
        return halves[0], halves[1], halves[2]

    def burnt(self) -> Burnt:
        """The story of the step, with the times of heating through."""
        step = self.step
        times = heating_of_heats(self.before_mm, step.temperature_c)
        events: list[Event] = []
        fires = zip(times, self.taken, self.ratios, strict=True)
        for index, (time, taken, (ratio, height_ratio)) in enumerate(fires):
            fire = (step.number, index + 1, step.temperature_c, self.minutes, time.above_900_min)
            if self.pile.alike:
                events.append(HeatAlike(*fire, step.atmosphere, *taken.alike))
            else:
                events.append(Heat(*fire, step.atmosphere, taken.faces_mm))
            if ratio != 1.0 or height_ratio != 1.0:
                events.append(Forge(step.number, ratio, height_ratio if self.pile.alike else None))
        fire_min = step.minutes + math.fsum(time.through_min for time in times)
        changes, gone = tuple(self.changes), tuple(self.bar.gone)
        return Burnt(tuple(self.each_heat), fire_min, tuple(events), changes, gone)

    def _scale(self) -> "_ScaleOff":
        pile, bar = self.pile, self.bar
        before_kg = bar.kg_mm2 * pile.face_mm2
        taken = self._off_all() if pile.alike else self._off_faces()
        side_mm = 2.0 * bar.mean_scale_rate * self.plain_loss_mm
        if taken is None or side_mm >= min(pile.sizes_mm[axis] for axis in pile.other_axes):
            self._refuse("minutes", "scale would eat the whole bar; less time, or a lower scale_factor")
        for axis in pile.other_axes:
            pile.sizes_mm[axis] -= side_mm
        pile.lost.scale += before_kg - bar.kg_mm2 * pile.face_mm2
        return taken

    def _off_faces(self) -> "_ScaleOff | None":
        """Scale off the two outer layers."""
        bottom_mm = self.bar.scale_face(False, self.plain_loss_mm)
        top_mm = None if bottom_mm is None else self.bar.scale_face(True, self.plain_loss_mm)
        return None if bottom_mm is None or top_mm is None else _ScaleOff((bottom_mm, top_mm))

    def _off_all(self) -> "_ScaleOff | None":
        """Scale off faces that all layers reach: each of them loses its share."""
        each_mm = self.bar.mean_scale_rate * self.plain_loss_mm
        through_mm, height_mm = self.bar.thickness_mm, self._mm(HEIGHT)
        if 2.0 * each_mm >= through_mm:
            return None
        left = 1.0 - 2.0 * each_mm / through_mm
        self.bar.stretch(left)
        return _ScaleOff((0.0, 0.0), (height_mm, each_mm, left))

    def _forge(self, number: int) -> tuple[float, float]:
        """Forge to the sizes of this heat; returns the ratios of the layers' thickness and of the height."""
        pile, target = self.pile, self.target
        before_mm = [self._mm(axis) for axis in (WIDTH, HEIGHT, LENGTH)]
        volume_mm3 = math.prod(before_mm)
        after_mm = list(before_mm)
        if target.length_mm is not None:
            after_mm[LENGTH] = self._size(LENGTH, target.length_mm, number)
            if after_mm[LENGTH] > before_mm[LENGTH] * (1.0 + SLACK):
                self._refuse("length_mm", f"scale alone leaves less than {target.length_mm:g} mm")
            thicker = math.sqrt(before_mm[LENGTH] / after_mm[LENGTH])
            after_mm[WIDTH], after_mm[HEIGHT] = before_mm[WIDTH] * thicker, before_mm[HEIGHT] * thicker
        elif target.height_mm is not None or target.width_mm is not None:
            if target.height_mm is not None:
                after_mm[HEIGHT] = self._height(target.height_mm, before_mm[HEIGHT], number)
            if target.width_mm is not None:
                after_mm[WIDTH] = self._size(WIDTH, target.width_mm, number)
            after_mm[LENGTH] = volume_mm3 / (after_mm[HEIGHT] * after_mm[WIDTH])
        ratio = after_mm[pile.axis] / before_mm[pile.axis]
        self.bar.stretch(ratio)
        for axis in pile.other_axes:
            pile.sizes_mm[axis] = after_mm[axis]
        return ratio, after_mm[HEIGHT] / before_mm[HEIGHT]

    def _height(self, target_mm: float, left_mm: float, number: int) -> float:
        """Height of this heat. Open grooves or dimples are closed in the first."""
        pile, height_mm = self.pile, self._size(HEIGHT, target_mm, number)
        if pile.relief_mm > 0.0:
            if target_mm > left_mm:
                rule = f"the metal fills {left_mm:.4g} mm of height, so what is cut in stays open"
                self._refuse("height_mm", f"{rule}; forge it to less than that, got {target_mm:g} mm")
            pile.relief_mm = 0.0
            return min(height_mm, left_mm)
        if isinstance(self.step, Weld) and height_mm > left_mm * (1.0 + SLACK):
            self._refuse("height_mm", f"scale alone takes it below {target_mm:g} mm")
        return height_mm

    def _size(self, which: int, target_mm: float, number: int) -> float:
        """Size after this heat: from start to target by the same ratio each heat."""
        if number == self.step.heats:
            return target_mm
        start_mm = self.start_mm[which]
        return float(start_mm * (target_mm / start_mm) ** (number / self.step.heats))

    def _refuse(self, key: str, message: str) -> NoReturn:
        step = self.step
        where = f"steps[{step.number - 1}].{key}"
        raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
