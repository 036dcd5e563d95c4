"""The fires of one step: scale, then forging, once for each heat."""

import math
from dataclasses import dataclass
from typing import NoReturn

from billet.contract.report import HeatSize
from billet.errors import Fault, RecipeError
from billet.forging.events import Event, Forge, Heat
from billet.forging.heating_through import heating_of_heats
from billet.forging.hot_bar import HotBar
from billet.forging.pile import Pile
from billet.formulas.scaling import metal_loss_mm
from billet.recipe.model import Draw, Other, Upset, Weld
from billet.tables.forging import forging_rule

Fired = Weld | Draw | Upset | Other
SLACK = 1e-9


@dataclass(frozen=True)
class Burnt:
    """What the fires of one step did to the bar, beside changing it."""

    each_heat: tuple[HeatSize, ...]
    fire_min: float
    events: tuple[Event, ...]
    gone: tuple[tuple[str, str], ...]
    """Layers that vanished in the scale: face and steel."""


@dataclass(frozen=True)
class Target:
    """Cold sizes after the last heat; None where forging does not set one."""

    height_mm: float | None = None
    width_mm: float | None = None
    length_mm: float | None = None


def fire(pile: Pile, step: Fired, scale_factor: float, target: Target) -> Burnt:
    """Run all heats of a step on a joined bar and change the bar. Raises RecipeError."""
    run = _Run(pile, step, scale_factor, target)
    for number in range(1, step.heats + 1):
        run.one_heat(number)
    pile.pieces = [run.bar.cooled()]
    return run.burnt()


class _Run:
    def __init__(self, pile: Pile, step: Fired, scale_factor: float, target: Target) -> None:
        self.pile, self.step, self.target = pile, step, target
        self.bar = HotBar(pile.pieces[0], pile.palette)
        self.minutes = step.minutes / step.heats
        rate = forging_rule("scale_atmosphere")[step.atmosphere] * scale_factor
        self.plain_loss_mm = rate * metal_loss_mm(step.temperature_c, self.minutes)
        self.start_mm = (pile.height_mm, pile.width_mm, pile.length_mm)
        self.before_mm: list[tuple[float, float]] = []
        self.scale_mm: list[tuple[float, float]] = []
        self.ratios: list[float] = []
        self.each_heat: list[HeatSize] = []

    def one_heat(self, number: int) -> None:
        """One fire: scale, then forging."""
        self.before_mm.append((self.bar.thickness_mm, self.pile.side_mm))
        self.scale_mm.append(self._scale())
        self.ratios.append(self._forge(number))
        height_mm = self.pile.side_mm if self.pile.on_edge else self.bar.thickness_mm
        self.each_heat.append(HeatSize(height_mm, self.pile.length_mm))

    def burnt(self) -> Burnt:
        """The story of the step, with the times of heating through."""
        step = self.step
        times = heating_of_heats(self.before_mm, step.temperature_c)
        events: list[Event] = []
        fires = zip(times, self.scale_mm, self.ratios, strict=True)
        for index, (time, taken_mm, ratio) in enumerate(fires):
            events.append(
                Heat(
                    step=step.number,
                    fire=index + 1,
                    temperature_c=step.temperature_c,
                    minutes=self.minutes,
                    extra_minutes=time.above_900_min,
                    atmosphere=step.atmosphere,
                    scale_mm=taken_mm,
                )
            )
            if ratio != 1.0:
                events.append(Forge(step.number, ratio))
        fire_min = step.minutes + math.fsum(time.through_min for time in times)
        return Burnt(tuple(self.each_heat), fire_min, tuple(events), tuple(self.bar.gone))

    def _scale(self) -> tuple[float, float]:
        pile, bar = self.pile, self.bar
        before_kg = bar.kg_mm2 * pile.side_mm * pile.length_mm
        bottom_mm = bar.scale_face(False, self.plain_loss_mm)
        top_mm = None if bottom_mm is None else bar.scale_face(True, self.plain_loss_mm)
        side_mm = 2.0 * bar.mean_scale_rate * self.plain_loss_mm
        if bottom_mm is None or top_mm is None or side_mm >= min(pile.side_mm, pile.length_mm):
            self._refuse("minutes", "scale would eat the whole bar; less time, or a lower scale_factor")
        pile.side_mm -= side_mm
        pile.length_mm -= side_mm
        pile.lost.scale += before_kg - bar.kg_mm2 * pile.side_mm * pile.length_mm
        return bottom_mm, top_mm

    def _forge(self, number: int) -> float:
        """Forge to the sizes of this heat; returns the ratio of the layers' thicknesses."""
        pile, bar = self.pile, self.bar
        across_mm, side_mm, length_mm = bar.thickness_mm, pile.side_mm, pile.length_mm
        volume_mm3 = across_mm * side_mm * length_mm
        if self.target.length_mm is not None:
            after_mm = self._size(2, self.target.length_mm, number)
            if after_mm > length_mm * (1.0 + SLACK):
                self._refuse("length_mm", f"scale alone leaves less than {self.target.length_mm:g} mm")
            thicker = math.sqrt(length_mm / after_mm)
            bar.stretch(thicker)
            pile.side_mm, pile.length_mm = side_mm * thicker, after_mm
            return thicker
        height_mm, width_mm = (side_mm, across_mm) if pile.on_edge else (across_mm, side_mm)
        if self.target.height_mm is not None:
            left_mm, height_mm = height_mm, self._size(0, self.target.height_mm, number)
            if isinstance(self.step, Weld) and height_mm > left_mm * (1.0 + SLACK):
                self._refuse("height_mm", f"scale alone takes it below {self.target.height_mm:g} mm")
        if self.target.width_mm is not None:
            width_mm = self._size(1, self.target.width_mm, number)
        new_across_mm, new_side_mm = (width_mm, height_mm) if pile.on_edge else (height_mm, width_mm)
        ratio = new_across_mm / across_mm
        bar.stretch(ratio)
        pile.side_mm, pile.length_mm = new_side_mm, volume_mm3 / (new_across_mm * new_side_mm)
        return ratio

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
