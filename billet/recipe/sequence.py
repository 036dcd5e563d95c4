"""What must hold from step to step: what lies loose, how many layers there are, what would melt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

from billet.recipe.declaration import MOST_LAYERS
from billet.recipe.faults import Faults, quoted
from billet.recipe.laid_bars import making_order, place_in, words_for
from billet.recipe.melting import melts_from_c
from billet.recipe.model import (
    BarPiece,
    BarPlan,
    Beside,
    Draw,
    FireStep,
    Layer,
    LayItem,
    Recipe,
    RecipeSteel,
    Restack,
    Split,
    Stand,
    Step,
    Turn,
    Weld,
)
from billet.units import c_to_f, f_to_c

NEEDS_JOINED = "lies loose; weld the stack first"
NO_MOSAIC = "mosaic stacks are not computed"
ACROSS = {"edge": "turned on edge", "end": "stood on end"}
MOST_TOGETHER = 2 * MOST_LAYERS
COLDEST_FORGE_C = 650.0
Lie = Literal["flat", "edge", "end"]
"""How the layers lie: one on another, side by side across the width, or one behind another along the bar."""
TURNED: dict[Lie, Lie] = {"flat": "edge", "edge": "flat", "end": "end"}
STOOD: dict[Lie, Lie] = {"flat": "end", "end": "flat", "edge": "edge"}


@dataclass(frozen=True)
class Ended:
    """What a bar is after its last step, as far as the order of the steps tells."""

    laid: int
    steels: frozenset[str]
    lie: Lie


def check_sequence(recipe: Recipe, faults: Faults) -> None:
    """Add a fault for every step that cannot follow on the ones before it, in each bar that is made."""
    made: dict[str, Ended] = {}
    for name in making_order(recipe.bars):
        made[name] = _Sequence(name, recipe.bars[name], recipe.steels, made, faults).ended()
    whole = _Sequence(None, BarPlan(recipe.stack, recipe.steps), recipe.steels, made, faults).ended()
    together = whole.laid + sum(ended.laid for ended in made.values())
    if together > MOST_TOGETHER:
        rule = f"more than {MOST_TOGETHER} layers in all bars together are not computed"
        faults.add("bars", f"Bars: {rule}, got {together}")


@dataclass
class _Sequence:
    """One bar, followed from its stack to its last step."""

    bar: str | None
    plan: BarPlan
    steels: Mapping[str, RecipeSteel]
    made: Mapping[str, Ended]
    faults: Faults
    laid: int = 0
    lie: Lie = "flat"
    cut_open: str = ""
    """What was cut into the faces and is not yet forged flat."""
    names: set[str] = field(default_factory=set)

    def ended(self) -> Ended:
        plates = self.plan.stack.plates
        before = len(self.faults.listed)
        self._lay(plates, "stack.plates", "Stack")
        loose, what = len(plates) > 1 or isinstance(plates[0], Beside), "the stack"
        self.laid = sum(layers_of(item, 0, self._laid_of_bars) for item in plates)
        self._check_layers("stack.plates", "Stack")
        for index, step in enumerate(self.plan.steps):
            where, words = f"steps[{index}]", f"Step {step.number} ({step.do})"
            if loose and not isinstance(step, Weld):
                self._fault(where, words, f"{what} {NEEDS_JOINED}")
                loose = False
            self._check_lie(step, where, words)
            if isinstance(step, FireStep):
                self._check_heat(step.temperature_c, where, words)
            loose = (loose and not isinstance(step, Weld)) or isinstance(step, Restack)
            if isinstance(step, Restack):
                what = "what was restacked"
                self._lay(step.lay or (), f"{where}.lay", words)
                self.laid = laid_after(step, self.laid, self._laid_of_bars)
                self._check_layers(f"{where}.pieces", words)
        if self.cut_open and len(self.faults.listed) == before:
            last = self.plan.steps[-1]
            rule = f"the {self.cut_open} lie open at the end; forge the bar flat in a step after it (draw)"
            self._fault(f"steps[{len(self.plan.steps) - 1}]", f"Step {last.number} ({last.do})", rule)
        if loose and len(self.faults.listed) == before:
            self._fault_loose_end()
        return Ended(self.laid, frozenset(self.names), self.lie)

    @property
    def _laid_of_bars(self) -> dict[str, int]:
        return {name: ended.laid for name, ended in self.made.items()}

    def _check_lie(self, step: Step, where: str, words: str) -> None:
        """How the layers lie before the step allows it, and how they lie after it."""
        if self.lie != "flat" and isinstance(step, Weld | Restack):
            self._fault(where, words, f"the bar was {ACROSS[self.lie]}; {NO_MOSAIC}")
        if self.cut_open and not isinstance(step, Draw):
            self._fault(where, words, f"the {self.cut_open} lie open; forge the bar flat first (draw)")
        if isinstance(step, Split) and self.lie != "end":
            self._fault(where, words, "the layers must lie across the bar first: stand it on end (stand)")
        self.cut_open = {"groove": "grooves", "dimple": "dimples"}.get(step.do, "")
        if isinstance(step, Turn | Stand):
            self.lie = (TURNED if isinstance(step, Turn) else STOOD)[self.lie]

    def _fault(self, place: str, words: str, message: str) -> None:
        self.faults.add(place_in(self.bar, place), words_for(self.bar, words) + message)

    def _lay(self, items: Sequence[LayItem], place: str, words: str) -> None:
        """The steels that come into the bar with what is laid."""
        for index, item in enumerate(items):
            if isinstance(item, Layer):
                self.names.add(item.steel)
            elif isinstance(item, BarPiece):
                self._lay_bar(item.bar, f"{place}[{index}].bar", words)
            elif isinstance(item, Beside):
                for at, name in enumerate(item.bars):
                    self._lay_bar(name, f"{place}[{index}].beside[{at}]", words)

    def _lay_bar(self, name: str, place: str, words: str) -> None:
        made = self.made[name]
        self.names |= made.steels
        if made.lie != "flat":
            self._fault(place, words, f"bar {quoted(name)} was {ACROSS[made.lie]}; {NO_MOSAIC}")

    def _check_layers(self, place: str, words: str) -> None:
        if self.laid > MOST_LAYERS:
            rule = f"more than {MOST_LAYERS} layers are not computed"
            self._fault(place, words, f"{rule}, got {self.laid}")
            self.faults.raise_if_any()

    def _fault_loose_end(self) -> None:
        if self.plan.steps:
            last = self.plan.steps[-1]
            words = f"Step {last.number} ({last.do})"
            rule = "the pieces still lie loose at the end; weld them in a step after it"
            self._fault(f"steps[{len(self.plan.steps) - 1}]", words, rule)
        else:
            count = len(self.plan.stack.plates)
            self._fault("steps", "Stack", f"{count} plates lie loose at the end; weld them in a step")

    def _check_heat(self, temperature_c: float, place: str, words: str) -> None:
        solidus = {name: melts_from_c(self.steels[name].composition) for name in sorted(self.names)}
        first = min(solidus, key=lambda name: solidus[name])
        lowest_c = solidus[first]
        if temperature_c <= lowest_c:
            return
        # Written in whole kelvins it may have been meant in Fahrenheit; as 2900 F comes it is 1593.33 C.
        whole, as_fahrenheit_c = temperature_c.is_integer(), f_to_c(temperature_c)
        message = f"{temperature_c:g} C melts it" if whole else f"{_both(temperature_c)} melts it"
        if whole and COLDEST_FORGE_C <= as_fahrenheit_c <= lowest_c:
            message += f"; did you mean {temperature_c:g} F, {int(as_fahrenheit_c)} C?"
        message += f" ({quoted(first)} begins to melt at {_both(int(lowest_c))})"
        self._fault(f"{place}.temperature_c", words, message)


def _both(temperature_c: float) -> str:
    return f"{temperature_c:.0f} C ({round(c_to_f(temperature_c))} F)"


def laid_after(step: Restack, laid: int, made: Mapping[str, int] = MappingProxyType({})) -> int:
    """How many layers were laid in all, when pieces of a bar of `laid` layers are laid again.

    `made` holds the layers of the bars that are made first, as far as the step lays any.
    """
    if step.lay is None:
        return laid * step.pieces
    return sum(layers_of(item, laid, made) for item in step.lay)


def layers_of(item: LayItem, laid: int, made: Mapping[str, int]) -> int:
    """Layers that were laid in one item of a pile; `laid` is those of a piece of the bar."""
    if isinstance(item, BarPiece):
        return made[item.bar]
    if isinstance(item, Beside):
        return sum(made[name] for name in item.bars)
    return 1 if isinstance(item, Layer) else laid
