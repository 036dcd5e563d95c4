"""What forging wants the smith to know, as notices for the report."""

from collections.abc import Mapping

from billet import wording
from billet.contract.report import Level, Notice
from billet.forging.pile import Pile
from billet.recipe.model import FireStep, Recipe, Step, Weld
from billet.tables.forging import forging_rule


def _notice(code: str, level: Level, step: Step, text: str) -> Notice:
    return Notice(code, level, f"steps[{step.number - 1}]", f"Step {step.number} ({step.do}): {text}")


def gone_notices(step: Step, gone: tuple[tuple[str, str], ...], pile: Pile, how: str) -> list[Notice]:
    """Layers that vanished at a face, told once a face."""
    found: list[Notice] = []
    piece = pile.pieces[0]
    for face in ("bottom", "top"):
        lost = [steel for at, steel in gone if at == face]
        if lost:
            now = piece.names[0] if face == "bottom" else piece.names[-1]
            count = "the outermost layer" if len(lost) == 1 else f"the {len(lost)} outermost layers"
            steels = " and ".join(dict.fromkeys(lost))
            text = f"{how} takes {count} at the {face} ({steels}); {now} is the face from here on"
            found.append(_notice("outer-layer-gone", "caution", step, text))
    return found


def weld_notices(step: Weld, was_loose: bool, reduction: float) -> list[Notice]:
    """A weld that is pressed too little, or one with nothing to join."""
    least = forging_rule("shape")["pressed_least_frac"]
    if not was_loose:
        text = "nothing lies loose here; it counts as one more welding heat"
        return [_notice("nothing-to-weld", "note", step, text)]
    if reduction < least:
        told = f"pressed by {wording.percent(reduction)} only" if reduction > 0.0 else "not pressed"
        text = f"the weld is {told}; {wording.percent(least)} or more is common practice"
        return [_notice("weld-not-pressed", "note", step, text)]
    return []


def shape_notices(step: Step, pile: Pile, before_height_mm: float) -> list[Notice]:
    """Sizes that are hard to heat evenly or to hold."""
    rule = forging_rule("shape")
    found: list[Notice] = []
    if pile.loose and pile.height_mm > rule["tall_over_width"] * pile.width_mm:
        size = f"{wording.length(pile.height_mm)} high on {wording.length(pile.width_mm)}"
        text = f"the pile is {size}: it may lean or buckle; wire or tack it well (common practice)"
        found.append(_notice("tall-pile", "caution", step, text))
    if pile.loose and pile.length_mm < rule["short_piece_mm"]:
        text = f"pieces of {wording.length(pile.length_mm)} are hard to hold (common practice)"
        found.append(_notice("short-pieces", "note", step, text))
    if not isinstance(step, FireStep):
        return found
    if pile.length_mm > rule["long_mm"]:
        size = wording.length(pile.length_mm)
        text = f"the bar grows to {size}: hard to heat evenly (common practice)"
        found.append(_notice("long-bar", "note", step, text))
    if before_height_mm < rule["thin_mm"]:
        text = f"only {wording.length(before_height_mm)} high in the fire: it burns in moments"
        found.append(_notice("thin-bar", "caution", step, text))
    return found


def disturbed_notice(step: Step, what: str) -> Notice:
    text = f"after {what} the layers no longer lie flat; sizes of layers are those of the flat bar"
    return _notice("pattern-disturbed", "note", step, text)


def on_edge_notice(step: Step) -> Notice:
    text = (
        "the layers stand on edge from here on; carbon that leaves through the faces is counted at the "
        "sides of the bar only"
    )
    return _notice("on-edge", "note", step, text)


def recipe_notices(recipe: Recipe, laid: set[str], steel_kg: Mapping[str, float]) -> list[Notice]:
    """Steels that never come into the bar or leave it, and measured sizes that are only kept."""
    found: list[Notice] = []
    for name in recipe.steels:
        if name not in laid:
            text = f"Steels: {name} is named but never laid"
            found.append(Notice("steel-not-laid", "note", f"steels.{name}", text))
        elif steel_kg[name] <= 0.0:
            text = f"Steels: nothing of {name} is left in the bar; scale or grinding took it all"
            found.append(Notice("steel-gone", "caution", f"steels.{name}", text))
    for step in recipe.steps:
        if step.measured is not None:
            text = "measured sizes are kept with the recipe and not used"
            found.append(_notice("measured-not-used", "note", step, text))
    return found
