"""Where a heat of the schedule burns a layer, or leaves the range in which the pair forges."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from billet import wording
from billet.composition import Composition
from billet.contract.report import Level, Notice
from billet.recipe.melting import melts_from_c
from billet.recipe.model import Draw, Recipe, Upset, Weld
from billet.tables.practice import decision_numbers

CHROMIUM_FLUX_WT = 5.0


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


def forging_range(recipe: Recipe, names: Collection[str]) -> tuple[float, float, str, str] | None:
    """The range in which the grades that lie in the bar forge: low, high, and who sets each end."""
    ranges = [
        (steel.grade.forge_c, name)
        for name, steel in recipe.steels.items()
        if name in names and steel.grade is not None and steel.grade.forge_c is not None
    ]
    if not ranges:
        return None
    low, low_by = max((r[0], name) for r, name in ranges)
    high, high_by = min((r[1], name) for r, name in ranges)
    return low, high, low_by, high_by


def heat_notices(
    recipe: Recipe, limits_by_step: dict[int, BurningLimit], laid: Mapping[int, Collection[str]]
) -> list[Notice]:
    """Cautions and limits for every heat of the schedule; `laid` names the steels in the bar by step."""
    found: list[Notice] = []
    for step in recipe.steps:
        shared = forging_range(recipe, laid[step.number])
        if isinstance(step, Weld | Draw | Upset):
            found += _burning(step, limits_by_step.get(step.number))
        if isinstance(step, Draw | Upset) and shared is not None:
            found += _outside_forging(step, shared)
        if isinstance(step, Weld):
            found += _chromium_flux(step, recipe)
    return found


def _where(step: Weld | Draw | Upset) -> str:
    return f"steps[{step.number - 1}]"


def _burning(step: Weld | Draw | Upset, limit: BurningLimit | None) -> list[Notice]:
    if limit is None or step.temperature_c <= limit.limit_c:
        return []
    told = (
        f"Step {step.number} ({step.do}) at {wording.temperature(step.temperature_c)}: {limit.steel} begins "
        f"to melt at about {wording.temperature(limit.solidus_c)} and may burn from about "
        f"{wording.temperature(limit.limit_c)}"
    )
    if step.temperature_c > limit.solidus_c - decision_numbers("burning")["limit_below_solidus_k"]:
        return [Notice("too-hot", "limit", _where(step), f"{told}: stay below it")]
    return [Notice("near-burning", "caution", _where(step), f"{told}: watch for sparks, keep it short")]


def _outside_forging(step: Draw | Upset, shared: tuple[float, float, str, str]) -> list[Notice]:
    low, high, low_by, high_by = shared
    if low >= high:
        text = (
            f"Step {step.number} ({step.do}): {low_by} forges from {wording.temperature(low)} up, {high_by} "
            f"only to {wording.temperature(high)}: the published forging ranges do not meet"
        )
        return [Notice("no-forging-range", "caution", _where(step), text)]
    if step.temperature_c > high:
        text = (
            f"Step {step.number} ({step.do}) at {wording.temperature(step.temperature_c)} is over the "
            f"published forging range of {high_by}, which ends at {wording.temperature(high)}"
        )
        return [Notice("over-forging-range", "caution", _where(step), text)]
    if step.temperature_c < low:
        text = (
            f"Step {step.number} ({step.do}) at {wording.temperature(step.temperature_c)} is under the "
            f"published forging range of {low_by}, which begins at {wording.temperature(low)}"
        )
        return [Notice("under-forging-range", "caution", _where(step), text)]
    return []


def _chromium_flux(step: Weld, recipe: Recipe) -> list[Notice]:
    rich = [n for n, s in recipe.steels.items() if s.composition["Cr"] > CHROMIUM_FLUX_WT]
    if not rich or not step.flux or step.atmosphere == "sealed":
        return []
    level: Level = "limit" if step.atmosphere == "air" else "caution"
    fire = "in air" if step.atmosphere == "air" else "in an open fire, reducing or not (from memory)"
    text = (
        f"Step {step.number} (weld): borax does not lift chromium oxide, so {', '.join(rich)} will hardly "
        f"weld {fire}; weld it in a sealed can or under argon"
    )
    return [Notice("chromium-oxide", level, _where(step), text)]
