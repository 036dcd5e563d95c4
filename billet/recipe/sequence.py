"""What must hold from step to step: what lies loose, how many layers there are, what would melt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from billet.recipe.declaration import MOST_LAYERS
from billet.recipe.faults import Faults, quoted
from billet.recipe.laid_bars import making_order, place_in, words_for
from billet.recipe.melting import melts_from_c
from billet.recipe.model import (
    BarPiece,
    BarPlan,
    Draw,
    Layer,
    LayItem,
    Other,
    Recipe,
    RecipeSteel,
    Restack,
    Turn,
    Upset,
    Weld,
)
from billet.units import f_to_c

NEEDS_JOINED = "lies loose; weld the stack first"
NO_MOSAIC = "mosaic stacks are not computed"
COLDEST_FORGE_C = 650.0


@dataclass(frozen=True)
class Ended:
    """What a bar is after its last step, as far as the order of the steps tells."""

    laid: int
    steels: frozenset[str]
    on_edge: bool


def check_sequence(recipe: Recipe, faults: Faults) -> None:
    """Add a fault for every step that cannot follow on the ones before it, in each bar that is made."""
    made: dict[str, Ended] = {}
    for name in making_order(recipe.bars):
        made[name] = _Sequence(name, recipe.bars[name], recipe.steels, made, faults).ended()
    _Sequence(None, BarPlan(recipe.stack, recipe.steps), recipe.steels, made, faults).ended()


@dataclass
class _Sequence:
    """One bar, followed from its stack to its last step."""

    bar: str | None
    plan: BarPlan
    steels: Mapping[str, RecipeSteel]
    made: Mapping[str, Ended]
    faults: Faults
    laid: int = 0
    on_edge: bool = False
    names: set[str] = field(default_factory=set)

    def ended(self) -> Ended:
        plates = self.plan.stack.plates
        before = len(self.faults.listed)
        self._lay(plates, "stack.plates", "Stack")
        loose, what = len(plates) > 1, "the stack"
        self.laid = sum(_layers_of(item, 0, self.made) for item in plates)
        self._check_layers("stack.plates", "Stack")
        for index, step in enumerate(self.plan.steps):
            where, words = f"steps[{index}]", f"Step {step.number} ({step.do})"
            if loose and not isinstance(step, Weld):
                self._fault(where, words, f"{what} {NEEDS_JOINED}")
                loose = False
            if self.on_edge and isinstance(step, Weld | Restack):
                self._fault(where, words, f"the bar was turned on edge; {NO_MOSAIC}")
            if isinstance(step, Weld | Draw | Upset | Other):
                self._check_heat(step.temperature_c, where, words)
            self.on_edge = self.on_edge != isinstance(step, Turn)
            loose = (loose and not isinstance(step, Weld)) or isinstance(step, Restack)
            if isinstance(step, Restack):
                what = "what was restacked"
                self._lay(step.lay or (), f"{where}.lay", words)
                self.laid = laid_after(step, self.laid, self.made)
                self._check_layers(f"{where}.pieces", words)
        if loose and len(self.faults.listed) == before:
            self._fault_loose_end()
        return Ended(self.laid, frozenset(self.names), self.on_edge)

    def _fault(self, place: str, words: str, message: str) -> None:
        self.faults.add(place_in(self.bar, place), words_for(self.bar, words) + message)

    def _lay(self, items: Sequence[LayItem], place: str, words: str) -> None:
        """The steels that come into the bar with what is laid."""
        for index, item in enumerate(items):
            if isinstance(item, Layer):
                self.names.add(item.steel)
            elif isinstance(item, BarPiece):
                self.names |= self.made[item.bar].steels
                if self.made[item.bar].on_edge:
                    rule = f"bar {quoted(item.bar)} was turned on edge; {NO_MOSAIC}"
                    self._fault(f"{place}[{index}].bar", words, rule)

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
        message = f"{temperature_c:g} C melts it"
        as_fahrenheit_c = f_to_c(temperature_c)
        if COLDEST_FORGE_C <= as_fahrenheit_c <= lowest_c:
            message += f"; did you mean {temperature_c:g} F, {int(as_fahrenheit_c)} C?"
        message += f" ({quoted(first)} begins to melt at {int(lowest_c)} C)"
        self._fault(f"{place}.temperature_c", words, message)


def laid_after(step: Restack, laid: int, made: Mapping[str, Ended] = MappingProxyType({})) -> int:
    """How many layers were laid in all, when pieces of a bar of `laid` layers are laid again.

    `made` holds the bars that are made first, as far as the step lays any.
    """
    if step.lay is None:
        return laid * step.pieces
    return sum(_layers_of(item, laid, made) for item in step.lay)


def _layers_of(item: LayItem, laid: int, made: Mapping[str, Ended]) -> int:
    if isinstance(item, BarPiece):
        return made[item.bar].laid
    return 1 if isinstance(item, Layer) else laid
