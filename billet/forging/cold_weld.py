"""A heat at which steel does not weld under the hammer: refused, a limit, or a caution. (practice)"""

from collections.abc import Mapping

from billet.contract.values import Fact, Finding, Level, Reason
from billet.forging.burning import BurningLimit
from billet.recipe.faults import Faults
from billet.recipe.laid_bars import place_in, words_for
from billet.recipe.model import Recipe, Split, Weld
from billet.tables.forging import forging_rule


def has_press(recipe: Recipe) -> bool:
    """Whether the recipe's shop closes its welds in a press."""
    return recipe.shop is not None and recipe.shop.press


def refuse_cold_welds(recipe: Recipe, faults: Faults) -> None:
    """Add a fault for every weld in a fire that is colder than any steel welds at.

    A sealed can and a press, which weld by time and pressure, are excepted, and the sentence says so.
    """
    least_c = float(forging_rule("cold_weld")["refused_under_c"])
    if has_press(recipe):
        return
    welds = [(bar, s) for bar, plan in recipe.parts for s in plan.steps if isinstance(s, Weld | Split)]
    for bar, step in welds:
        if step.atmosphere != "sealed" and step.temperature_c < least_c:
            message = (
                f"{step.temperature_c:g} C is too cold to weld in a fire, "
                f"where steel wants at least {least_c:g} C and mostly far more (common practice); only a "
                'sealed can (atmosphere = "sealed") or a press (press = true in [shop]) welds so cold'
            )
            place = place_in(bar, f"steps[{step.number - 1}].temperature_c")
            faults.add(place, words_for(bar, f"Step {step.number} ({step.do})") + message)


def cold_weld_findings(recipe: Recipe, burning: Mapping[int, BurningLimit]) -> list[Finding]:
    """Welds colder than common practice; `burning` holds the burning limit of each step by number.

    A bar that burns early is welded colder: the guard stays so far under its burning limit.
    """
    found = []
    for step in recipe.steps:
        if isinstance(step, Weld | Split) and step.number in burning:
            found += _of_weld(step, burning[step.number].limit_c, has_press(recipe))
    return found


def _of_weld(step: Weld | Split, burns_c: float, press: bool) -> list[Finding]:
    rule = forging_rule("cold_weld")
    caution_c = min(rule["caution_under_c"], burns_c - rule["under_burning_k"])
    limit_c = min(rule["limit_under_c"], caution_c - rule["under_burning_k"])
    if step.temperature_c >= caution_c:
        return []
    values: dict[str, Fact] = {
        "step": step.number,
        "do": step.do,
        "c": step.temperature_c,
        "from_c": caution_c,
    }
    where = f"steps[{step.number - 1}]"
    if step.atmosphere == "sealed" or press:
        values["how"] = "sealed" if step.atmosphere == "sealed" else "press"
        return [Finding(Reason("cold-weld-held", values), "note", where)]
    level: Level = "limit" if step.temperature_c < limit_c else "caution"
    code = "cold-weld-test-first" if level == "limit" else "cold-weld"
    return [Finding(Reason(code, values), level, where)]
