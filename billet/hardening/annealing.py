"""How the bar is made soft enough to drill and file after forging."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from billet.contract.values import Fact, Reason
from billet.hardening.cycle_layer import CycleLayer, ramp, weighted
from billet.recipe.model import Recipe
from billet.tables.heat_cycle import cycle_numbers

AnnealKind = Literal["subcritical", "controlled", "none"]
MORE_THAN_HALF = 0.5


@dataclass(frozen=True)
class Cooling:
    """How a shop's furnace cools: whether it puts heat back, and how slowly it can; None if not told."""

    controlled: bool | None = None
    lowest_k_h: float | None = None


@dataclass(frozen=True)
class Anneal:
    """`cool_k_h` at most, down to `until_c`; None where the bar cools as it likes."""

    kind: AnnealKind
    temperature_c: float | None
    hold_min: float | None
    cool_k_h: float | None
    until_c: float | None
    needs_controller: bool
    because: Reason


def shop_cooling(recipe: Recipe) -> Cooling:
    """What a recipe says of the furnace; nothing where only the default stands."""
    if recipe.shop is None:
        return Cooling()
    told = "shop.controlled_cooling" not in recipe.assumed
    return Cooling(recipe.shop.controlled_cooling if told else None, recipe.shop.lowest_cooling_k_h)


def anneal(layers: Sequence[CycleLayer], layer_mm: float, hard_from_air: float, cooling: Cooling) -> Anneal:
    """Under the critical temperature, or over it with a falling ramp; none where nothing hardens.

    `layer_mm` is the mean thickness of a layer. A steel rich in alloyed carbide asks for the ramp; layers
    so thin and so unlike that a long hold would drag carbon to the chromium forbid it, and a furnace that
    cannot follow one rules it out. Which of the two it is may change at a point, for between them lies
    the change itself. Common practice, no source.
    """
    asks, who = weighted(layers, _asks_for_ramp)
    if not any(layer.weight > 0.0 for layer in layers):
        return Anneal("none", None, None, None, None, False, Reason("anneal-none"))
    rich, richest = weighted(layers, lambda layer: layer.high_alloy)
    left_hrc: tuple[float, ...] = tuple(cycle_numbers("annealing")["high_alloy_left_hrc"])
    values: dict[str, Fact] = {
        "at_once": hard_from_air > MORE_THAN_HALF,
        "hard": richest if rich > MORE_THAN_HALF else None,
        "hard_hrc": left_hrc,
    }
    if asks <= MORE_THAN_HALF:
        return _subcritical(Reason("anneal-subcritical", values))
    values["steel"] = who
    if drift(layers, layer_mm) > MORE_THAN_HALF:
        return _subcritical(Reason("anneal-carbon-would-drift", values))
    rate_k_h, until_c = _slowest_k_h(layers), _until_c(layers, hard_from_air)
    values["rate_k_h"] = rate_k_h
    if cooling.controlled is False:
        return _subcritical(Reason("anneal-furnace-cannot", values))
    if cooling.lowest_k_h is not None and cooling.lowest_k_h > rate_k_h:
        values["lowest_k_h"] = cooling.lowest_k_h
        return _subcritical(Reason("anneal-furnace-too-quick", values))
    values["subcritical_c"] = tuple(cycle_numbers("annealing")["subcritical_c"])
    hold_min = float(cycle_numbers("annealing")["controlled_min"])
    at_c = round(_published_c(layers))
    told = "anneal-controlled-own" if cooling.controlled else "anneal-controlled"
    return Anneal("controlled", at_c, hold_min, rate_k_h, until_c, True, Reason(told, values))


def drift(layers: Sequence[CycleLayer], layer_mm: float) -> float:
    """0 to 1: how far a long hold over the critical temperature drags carbon between these layers."""
    rule = cycle_numbers("annealing")
    held = [layer.carbide_formers_wt for layer in layers if layer.share > 0.0]
    if len(held) < 2:
        return 0.0
    unlike = (max(held) - min(held)) / (min(held) + 1.0)
    return ramp(unlike, rule["drift_relative"]) * ramp(layer_mm, rule["drift_layer_mm"])


def _subcritical(because: Reason) -> Anneal:
    rule = cycle_numbers("annealing")
    middle_c = 0.5 * sum(rule["subcritical_c"])
    return Anneal("subcritical", middle_c, float(rule["subcritical_min"]), None, None, False, because)


def _asks_for_ramp(layer: CycleLayer) -> float:
    """0 to 1: alloyed carbide beyond the pearlite, or an alloy rich in chromium."""
    rule = cycle_numbers("annealing")
    if layer.ae1_c is None:
        return layer.high_alloy
    low = layer.alloyed * ramp(layer.carbide_above_ae1 or 0.0, rule["controlled_carbide_frac"])
    return 1.0 - (1.0 - low) * (1.0 - layer.high_alloy)


def _range_c(layer: CycleLayer) -> tuple[float, float]:
    """The published annealing range; without one, a little over Ae1, or a remembered one."""
    rule = cycle_numbers("annealing")
    if layer.grade is not None and layer.grade.anneal_c is not None:
        return layer.grade.anneal_c
    if layer.ae1_c is not None:
        low_k, high_k = rule["above_ae1_k"]
        return layer.ae1_c + low_k, layer.ae1_c + high_k
    low_c, high_c = rule["high_alloy_c"]
    return low_c, high_c


def _published_c(layers: Sequence[CycleLayer]) -> float:
    """Middle of where the ranges of the layers that ask for a ramp meet, or of the gap between. [C]"""
    fade_k = float(cycle_numbers("fading")["temperature_k"])
    ends = [
        (*_range_c(layer), fade_k * (1.0 - layer.weight * _asks_for_ramp(layer)))
        for layer in layers
        if layer.weight > 0.0
    ]
    low_c = max(low - faded for low, _, faded in ends)
    return 0.5 * (low_c + min(high + faded for _, high, faded in ends))


def _slowest_k_h(layers: Sequence[CycleLayer]) -> float:
    """The quickest cooling that every layer stands, in K an hour."""
    rule, bearing = cycle_numbers("annealing"), cycle_numbers("bearing_anneal")
    kind, _ = weighted(
        layers,
        lambda layer: (
            ramp(layer.composition["Cr"], bearing["cr_wt"])
            * ramp(layer.composition["C"], bearing["c_wt"])
            * (1.0 - ramp(layer.composition["Cr"], bearing["cr_no_more_wt"]))
        ),
    )
    slow = 0.5 * sum(bearing["slower_k_h"])
    return float(round(rule["at_most_k_h"] + kind * (slow - rule["at_most_k_h"])))


def _until_c(layers: Sequence[CycleLayer], hard_from_air: float) -> float:
    """Down to here the ramp is held; deeper where the steel hardens deep. [C]"""
    rule = cycle_numbers("annealing")
    deep = max(hard_from_air, weighted(layers, lambda layer: layer.high_alloy)[0])
    return float(round(rule["until_c"] + deep * (rule["until_deep_c"] - rule["until_c"]), -1))
