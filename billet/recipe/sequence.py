"""What must hold from step to step: what lies loose, how many layers there are, what would melt."""

from collections.abc import Mapping

from billet.recipe.declaration import MOST_LAYERS
from billet.recipe.faults import Faults, quoted
from billet.recipe.melting import melts_from_c
from billet.recipe.model import (
    Draw,
    Layer,
    Other,
    RecipeSteel,
    Restack,
    StackPlan,
    Step,
    Turn,
    Upset,
    Weld,
)
from billet.units import f_to_c

NEEDS_JOINED = "lies loose; weld the stack first"
COLDEST_FORGE_C = 650.0


def check_sequence(
    stack: StackPlan, steps: tuple[Step, ...], steels: Mapping[str, RecipeSteel], faults: Faults
) -> None:
    """Add a fault for every step that cannot follow on the ones before it."""
    loose = len(stack.plates) > 1
    laid = len(stack.plates)
    on_edge = False
    names = {plate.steel for plate in stack.plates}
    for index, step in enumerate(steps):
        where, words = f"steps[{index}]", f"Step {step.number} ({step.do}): "
        if loose and not isinstance(step, Weld):
            what = "the stack" if laid == len(stack.plates) else "what was restacked"
            faults.add(where, f"{words}{what} {NEEDS_JOINED}")
            loose = False
        if on_edge and isinstance(step, Weld | Restack):
            faults.add(where, f"{words}the bar was turned on edge; mosaic stacks are not computed")
        if isinstance(step, Weld | Draw | Upset | Other):
            _check_heat(step.temperature_c, where, words, names, steels, faults)
        on_edge = on_edge != isinstance(step, Turn)
        loose = (loose and not isinstance(step, Weld)) or isinstance(step, Restack)
        if isinstance(step, Restack):
            laid = laid_after(step, laid)
            names |= {item.steel for item in step.lay or () if isinstance(item, Layer)}
            if laid > MOST_LAYERS:
                rule = f"more than {MOST_LAYERS} layers are not computed"
                faults.add(f"{where}.pieces", f"{words}{rule}, got {laid}")
                return
    if loose and not faults:
        _fault_loose_end(stack, steps, faults)


def _fault_loose_end(stack: StackPlan, steps: tuple[Step, ...], faults: Faults) -> None:
    if steps:
        last = steps[-1]
        where, words = f"steps[{len(steps) - 1}]", f"Step {last.number} ({last.do}): "
        faults.add(where, f"{words}the pieces still lie loose at the end; weld them in a step after it")
    else:
        count = len(stack.plates)
        faults.add("steps", f"Stack: {count} plates lie loose at the end; weld them in a step")


def laid_after(step: Restack, laid: int) -> int:
    """How many layers were laid in all, when pieces of a bar of `laid` layers are laid again."""
    if step.lay is None:
        return laid * step.pieces
    return sum(1 if isinstance(item, Layer) else laid for item in step.lay)


def _check_heat(
    temperature_c: float,
    where: str,
    words: str,
    names: set[str],
    steels: Mapping[str, RecipeSteel],
    faults: Faults,
) -> None:
    solidus = {name: melts_from_c(steels[name].composition) for name in sorted(names)}
    first = min(solidus, key=lambda name: solidus[name])
    lowest_c = solidus[first]
    if temperature_c <= lowest_c:
        return
    message = f"{words}{temperature_c:g} C melts it"
    as_fahrenheit_c = f_to_c(temperature_c)
    if COLDEST_FORGE_C <= as_fahrenheit_c <= lowest_c:
        message += f"; did you mean {temperature_c:g} F, {int(as_fahrenheit_c)} C?"
    message += f" ({quoted(first)} begins to melt at {int(lowest_c)} C)"
    faults.add(f"{where}.temperature_c", message)
