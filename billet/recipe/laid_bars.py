"""Bars that are made first: where each is laid, in which order they are made, and what cannot be."""

from collections.abc import Iterator, Mapping

from billet.errors import Fault
from billet.recipe.faults import Faults, quoted
from billet.recipe.model import BarPiece, BarPlan, Beside, LayItem, Recipe, Restack


def place_in(bar: str | None, place: str) -> str:
    """A place of the bar of that name, `bars.left.steps[1]`; of the recipe's own bar where it is None."""
    return place if bar is None else f"bars.{printed(bar)}.{place}"


def words_for(bar: str | None, what: str) -> str:
    """The head of a sentence: "Step 2 (draw): ", or "Bar left, step 2 (draw): "."""
    return f"{what}: " if bar is None else f"Bar {printed(bar)}, {what[0].lower()}{what[1:]}: "


def in_bar(name: str, fault: Fault) -> Fault:
    """A fault of a bar made first, found while it was forged as a bar of its own."""
    return Fault(place_in(name, fault.where), words_for(name, fault.message)[: -len(": ")])


def printed(name: str) -> str:
    """A name as faults tell it: with a mark for each kind of space that cannot be printed."""
    return name if name.isprintable() else quoted(name)


def laid_in(plan: BarPlan) -> Iterator[tuple[str, str, str]]:
    """Every bar made first that a stack or a step lays: its place, the words for it, and the bar's name."""
    for index, item in enumerate(plan.stack.plates):
        for key, name in _named_in(item):
            yield f"stack.plates[{index}].{key}", f"Stack, laid bar {index + 1}", name
    for at, step in enumerate(plan.steps):
        for index, laid in enumerate((step.lay or ()) if isinstance(step, Restack) else ()):
            for key, name in _named_in(laid):
                yield f"steps[{at}].lay[{index}].{key}", f"Step {step.number} ({step.do})", name


def _named_in(item: LayItem) -> list[tuple[str, str]]:
    """The bars of one item with their keys."""
    if isinstance(item, BarPiece):
        return [("bar", item.bar)]
    if isinstance(item, Beside):
        return [(f"beside[{index}]", name) for index, name in enumerate(item.bars)]
    return []


def making_order(bars: Mapping[str, BarPlan]) -> list[str]:
    """The bars in an order in which each comes after those that it lays; what lies in a circle is left out.

    Bars that do not wait for each other stand in the order in which they were named.
    """
    needs = {name: {laid for _, _, laid in laid_in(plan)} for name, plan in bars.items()}
    order: list[str] = []
    while True:
        ready = next((n for n in needs if n not in order and needs[n] <= set(order)), None)
        if ready is None:
            return order
        order.append(ready)


def times_made(recipe: Recipe) -> dict[str, int]:
    """How many of each bar are made for one bar of the recipe: each time it is laid, one."""
    times: dict[str | None, int] = {None: 1, **dict.fromkeys(recipe.bars, 0)}
    plans = dict(recipe.parts)
    for name in (None, *reversed(making_order(recipe.bars))):
        for _, _, laid in laid_in(plans[name]):
            times[laid] += times[name]
    return {name: times[name] for name in recipe.bars}


def check_bars(recipe: Recipe, faults: Faults) -> None:
    """Add a fault for every bar that is laid into itself, and for every bar that the recipe does not use."""
    made = making_order(recipe.bars)
    circles = [name for name in recipe.bars if name not in made]
    for name in circles:
        found = _circle(recipe.bars, name)
        if found:
            way = " into ".join(map(printed, found))
            words = f"Bar {printed(name)}: a bar cannot be laid into itself"
            faults.add(place_in(name, "stack"), f"{words} ({way})")
    used = _used(recipe)
    for name in made:
        if name not in used:
            words = f"Bar {printed(name)}: nothing lays it; lay it in a stack or step, or leave it out"
            faults.add(f"bars.{printed(name)}", words)


def _used(recipe: Recipe) -> set[str]:
    """The bars that come into the recipe's own bar, straight or inside another."""
    waiting = [BarPlan(recipe.stack, recipe.steps)]
    found: set[str] = set()
    while waiting:
        for _, _, name in laid_in(waiting.pop()):
            if name not in found:
                found.add(name)
                waiting.append(recipe.bars[name])
    return found


def _circle(bars: Mapping[str, BarPlan], name: str) -> list[str]:
    """The shortest way on which a bar is laid into itself, it at both ends; empty where there is none."""
    ways = [[name]]
    seen: set[str] = set()
    while ways:
        way = ways.pop(0)
        for _, _, laid in laid_in(bars[way[0]]):
            if laid == name:
                return [name, *way]
            if laid not in seen:
                seen.add(laid)
                ways.append([laid, *way])
    return []
