"""Where a heat of the schedule burns a layer, or leaves the range in which the pair forges."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from billet.composition import Composition
from billet.contract.values import Finding, Level, Reason
from billet.forging.notices import of_step, place
from billet.recipe.melting import melts_from_c
from billet.recipe.model import Draw, FireStep, Other, Press, Recipe, Split, Twist, Upset, Weld
from billet.recipe.steel import RecipeSteel
from billet.tables.practice import decision_numbers

Forged = Draw | Upset | Twist | Press
FORGED = (Draw, Upset, Twist, Press)
Burnt = Weld | Split | Forged


@dataclass(frozen=True)
class BurningLimit:
    """Solidus of the layer that melts first in a fire, and the limit kept below it. [C]"""

    steel: str
    solidus_c: float
    limit_c: float


def burning_limit(compositions: dict[str, Composition], highest_carbon_wt: dict[str, float]) -> BurningLimit:
    """The lowest burning limit among the layers, at the highest carbon each reaches in a fire.

    No solidus is told below the iron-carbon eutectic: so rich in carbon, the formula is outside its fit.
    """
    limits = decision_numbers("burning")
    found = []
    for name, carbon_wt in highest_carbon_wt.items():
        hot = compositions[name].with_carbon(carbon_wt)
        melts_c = max(melts_from_c(hot), decision_numbers("burning")["eutectic_c"])
        below_k = limits["below_solidus_k"]
        alloyed = hot["Cr"] + hot["Mo"] + hot["W"] > limits["alloyed_cr_mo_w_wt"]
        if hot["P"] + hot["S"] > limits["impure_p_s_wt"] or alloyed:
            below_k += limits["more_for_impure_or_alloyed_k"]
        found.append(BurningLimit(name, melts_c, melts_c - below_k))
    return min(found, key=lambda item: item.limit_c)


def forging_range(steels: Mapping[str, RecipeSteel]) -> tuple[float, float, str, str] | None:
    """The range in which the grades of these steels forge: low, high, and who sets each end."""
    ranges = [
        (steel.grade.forge_c, name)
        for name, steel in steels.items()
        if steel.grade is not None and steel.grade.forge_c is not None
    ]
    if not ranges:
        return None
    low, low_by = max((r[0], name) for r, name in ranges)
    high, high_by = min((r[1], name) for r, name in ranges)
    return low, high, low_by, high_by


def heat_findings(
    recipe: Recipe, limits_by_step: dict[int, BurningLimit], laid: Mapping[int, Collection[str]]
) -> list[Finding]:
    """Cautions and limits for every heat of the schedule; `laid` names the steels in the bar by step."""
    found: list[Finding] = []
    for step in recipe.steps:
        shared = forging_range(recipe.steels_in(laid[step.number]))
        if isinstance(step, FireStep) and not isinstance(step, Other):
            found += _burning(step, limits_by_step.get(step.number))
        if isinstance(step, FORGED) and shared is not None:
            found += _outside_forging(step, shared)
        if isinstance(step, Weld):
            found += _chromium_flux(step, recipe)
    return found


def _burning(step: Burnt, limit: BurningLimit | None) -> list[Finding]:
    if limit is None or step.temperature_c <= limit.limit_c:
        return []
    values = of_step(
        step, c=step.temperature_c, steel=limit.steel, melts_c=limit.solidus_c, burns_c=limit.limit_c
    )
    if step.temperature_c > limit.solidus_c - decision_numbers("burning")["limit_below_solidus_k"]:
        return [Finding(Reason("too-hot", values), "limit", place(step))]
    return [Finding(Reason("near-burning", values), "caution", place(step))]


def _outside_forging(step: Forged, shared: tuple[float, float, str, str]) -> list[Finding]:
    low, high, low_by, high_by = shared
    values = of_step(step, c=step.temperature_c, low_c=low, high_c=high, low_by=low_by, high_by=high_by)
    if low >= high:
        return [Finding(Reason("no-forging-range", values), "caution", place(step))]
    if step.temperature_c > high:
        return [Finding(Reason("over-forging-range", values), "caution", place(step))]
    if step.temperature_c < low:
        return [Finding(Reason("under-forging-range", values), "caution", place(step))]
    return []


def _chromium_flux(step: Weld, recipe: Recipe) -> list[Finding]:
    most_wt = decision_numbers("burning")["borax_most_cr_wt"]
    rich = tuple(n for n, s in recipe.steels.items() if s.composition["Cr"] > most_wt)
    if not rich or not step.flux or step.atmosphere == "sealed":
        return []
    level: Level = "limit" if step.atmosphere == "air" else "caution"
    values = of_step(step, steels=rich, atmosphere=step.atmosphere)
    return [Finding(Reason("chromium-oxide", values), level, place(step))]
