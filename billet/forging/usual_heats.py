"""The heat and the minutes at which a pair is usually welded and drawn: one rule for whoever proposes a step.

The figures are common practice without a source (billet/data/forging.toml, [proposed]).
"""

from collections.abc import Mapping

from billet.forging.burning import burning_limit, forging_range
from billet.recipe.steel import RecipeSteel
from billet.tables.forging import forging_rule


def usual_weld_heat_c(steels: Mapping[str, RecipeSteel]) -> float:
    """A welding heat, lower where one of the steels burns early. [C]"""
    return _rounded(_weld_most_c(steels))


def usual_draw_heat_c(steels: Mapping[str, RecipeSteel]) -> float:
    """A heat to draw at, inside the range in which all of the steels forge. [C]"""
    rule = forging_rule("proposed")
    low_c, high_c, _, _ = forging_range(steels) or (0.0, rule["draw_most_c"], "", "")
    inside_c = max(high_c - rule["draw_under_top_k"], min(low_c + rule["draw_over_low_k"], high_c))
    return _rounded(min(_weld_most_c(steels), rule["draw_most_c"], inside_c))


def usual_weld_minutes(height_mm: float, width_mm: float) -> float:
    """Minutes at the welding heat, by the lesser side of the pile."""
    rule = forging_rule("proposed")
    return float(round(max(rule["weld_least_min"], rule["weld_min_per_mm"] * min(height_mm, width_mm))))


def usual_minutes(heats: int) -> float:
    """Minutes at heat of any other step, all heats together."""
    return float(round(forging_rule("proposed")["heat_min"] * heats))


def _weld_most_c(steels: Mapping[str, RecipeSteel]) -> float:
    rule = forging_rule("proposed")
    compositions = {name: steel.composition for name, steel in steels.items()}
    burns_c = burning_limit(compositions, {name: wt["C"] for name, wt in compositions.items()}).limit_c
    return float(min(rule["weld_c"], burns_c - rule["weld_under_burning_k"]))


def _rounded(temperature_c: float) -> float:
    step_c: float = forging_rule("proposed")["step_c"]
    return temperature_c // step_c * step_c
