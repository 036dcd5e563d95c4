"""Judging and keeping the hardening heat: the magnet, the colour, and the way from fire to bath."""

from typing import Literal

from billet.contract.report import Estimate
from billet.contract.study import AirTime, ColourRow, HoldingStudy, MagnetRow
from billet.contract.values import Fact, Reason
from billet.formulas.equilibrium import critical_lines
from billet.formulas.heating import seconds_in_air
from billet.formulas.thermometry import magnet_point_c, why_no_magnet
from billet.hardening.austenite_state import SteelState
from billet.hardening.decision import HardeningDecision, blade_thickness_mm, dissolved
from billet.hardening.layer import LayerSteel, is_high_alloy
from billet.published import outside_fit
from billet.recipe.model import Recipe
from billet.report.words import said
from billet.tables.colours import colour_words, colours_note
from billet.tables.control import control_method
from billet.tables.practice import decision_numbers

Where = Literal["thickest section", "edge"]
MAGNET_METHOD = "magnet_plus_shade"


def holding_study(recipe: Recipe, judged: HardeningDecision, states: dict[str, SteelState]) -> HoldingStudy:
    """How the heat of this plan looks to magnet and eye, and how long it lasts in still air."""
    heat_c = judged.heat_c
    if heat_c is None:
        why = "no temperature was found, so there is none to hold"
        return HoldingStudy(None, None, None, None, (), None, (), why)
    low_c = None if judged.window is None else judged.window.low.c
    turns_c, first = _turns(judged, states)
    air = _air(recipe, heat_c, low_c, turns_c)
    magnet = tuple(_magnet(layer, heat_c) for layer in judged.layers)
    words = _air_words(air, turns_c, first)
    return HoldingStudy(heat_c, low_c, turns_c, first, magnet, _colour(heat_c), air, words)


def _turns(judged: HardeningDecision, states: dict[str, SteelState]) -> tuple[float | None, str | None]:
    """The highest Ae3 or Ae1 of what is dissolved in the hardening layers, and whose it is. [C]"""
    found: list[tuple[float, str]] = []
    for layer in judged.layers:
        austenite = dissolved(states.get(layer.name), layer)
        if austenite is None or is_high_alloy(layer.composition):
            continue
        lines = critical_lines(austenite)
        ends = [c for c in (lines.ae1_c, lines.ae3_c) if c is not None]
        if ends:
            found.append((max(ends), layer.name))
    return max(found) if found else (None, None)


def _magnet(layer: LayerSteel, heat_c: float) -> MagnetRow:
    found = magnet_point_c(layer.composition)
    if found is None:
        why = why_no_magnet(layer.composition) or "a magnet says nothing about this steel"
        return MagnetRow(layer.name, None, None, f"no magnet: {why}")
    above = Estimate(heat_c - found.value, heat_c - found.high, heat_c - found.low)
    return MagnetRow(
        layer.name, Estimate(found.value, found.low, found.high), above, _magnet_words(above.value)
    )


def _magnet_words(above_k: float) -> str:
    useful = control_method(MAGNET_METHOD).useful_above_magnet_k
    if useful is None:
        return said(Reason("study-magnet-floor"))
    low, high = useful
    near = "near" if above_k < low else "far" if above_k > high else "helps"
    return said(Reason(f"study-magnet-{near}", {"above_k": above_k}))


def _colour(heat_c: float) -> ColourRow:
    found = colour_words(heat_c)
    return ColourRow(
        found.words, found.from_c, found.to_c, found.spread_k, found.practised_k, found.source, found.seen,
        colours_note(),
    )  # fmt: skip


def _air(recipe: Recipe, heat_c: float, low_c: float | None, turns_c: float | None) -> tuple[AirTime, ...]:
    """The thickest section, and the edge, which is the first to be too cold."""
    thickest = _air_time("thickest section", blade_thickness_mm(recipe), heat_c, low_c, turns_c)
    if recipe.blade is None:
        return (thickest,)
    return (thickest, _air_time("edge", recipe.blade.edge_mm, heat_c, low_c, turns_c))


def _air_time(
    where: Where, thickness_mm: float, heat_c: float, low_c: float | None, turns_c: float | None
) -> AirTime:
    first_k = decision_numbers("study")["air_first_k"]
    rate = first_k / seconds_in_air(thickness_mm, heat_c, heat_c - first_k)
    outside = bool(outside_fit(seconds_in_air, {"thickness_mm": thickness_mm}))
    window_s, turns_s = (_seconds(thickness_mm, heat_c, end) for end in (low_c, turns_c))
    return AirTime(where, thickness_mm, rate, window_s, turns_s, outside)


def _seconds(thickness_mm: float, heat_c: float, end_c: float | None) -> float | None:
    if end_c is None:
        return None
    return seconds_in_air(thickness_mm, heat_c, end_c) if heat_c > end_c else 0.0


def _air_words(air: tuple[AirTime, ...], turns_c: float | None, first: str | None) -> str:
    told = [
        said(
            Reason(
                "study-in-air",
                {
                    "where": item.where,
                    "thickness_mm": item.thickness_mm,
                    "rate_k_s": item.first_rate_k_s,
                    "window_s": item.window_s,
                },
            )
        )
        for item in air
    ]
    shortest = min((item.turns_s for item in air if item.turns_s is not None), default=None)
    if turns_c is None or shortest is None:
        return "; ".join(told)
    wanted_s = float(decision_numbers("shop")["fire_to_bath_s"])
    values: dict[str, Fact] = {"steel": first, "turns_c": turns_c, "turns_s": shortest, "wanted_s": wanted_s}
    told.append(said(Reason("study-turns-in-air", values)))
    told += [said(Reason("study-air-too-short", values))] if shortest < wanted_s else []
    return "; ".join(told)
