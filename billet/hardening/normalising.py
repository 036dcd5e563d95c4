"""Falling heats in still air before hardening: as many and as hot as the metal stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from billet.contract.values import Reason
from billet.hardening.cycle_layer import (
    CycleLayer,
    air_over_critical,
    martensite_from_air,
    most,
    ramp,
    weighted,
)
from billet.tables.heat_cycle import cycle_numbers

ROUND_TO_C = 5.0
MORE_THAN_HALF = 0.5


@dataclass(frozen=True)
class Normalising:
    """`temperatures_c` in order, rounded, as they are printed; empty where they would do harm.

    `heats` are the same unrounded with their minutes, every heat counted by how far it is taken, so that
    what they do to the carbon moves with the metal. `hard_from_air` (0 to 1) tells how far the bar comes
    hard out of still air, `withheld` (0 to 1) how far it must not be normalised at all.
    """

    temperatures_c: tuple[float, ...]
    heats: tuple[tuple[float, float], ...]
    hard_from_air: float
    withheld: float
    because: Reason

    @property
    def cycled(self) -> bool:
        """Whether the grain of forging is refined before hardening."""
        return bool(self.temperatures_c)

    @property
    def cycles(self) -> float:
        """How many heats, each counted by how far it is taken."""
        each_min = float(cycle_numbers("normalising")["minutes_each_min"])
        return sum(minutes for _, minutes in self.heats) / each_min


def normalising(layers: Sequence[CycleLayer], top_c: float | None, forged_mm: float) -> Normalising:
    """Three falling heats, one at the published figure, or none, by what still air makes of the bar.

    `top_c` is the top of the bar's hardening window, `forged_mm` the thickness of the bar when it is
    normalised. Common practice, no source; the ramps are our own.
    """
    if top_c is None:
        return Normalising((), (), 0.0, 0.0, Reason("normalise-no-window"))
    air = air_over_critical([layer for layer in layers if layer.weight > 0.0], forged_mm)
    hard, hardest = weighted(layers, lambda layer: _hard(air[layer.name]))
    withheld, never = weighted(layers, lambda layer: _withheld(layer, air[layer.name]))
    first_c, second_c, last_c = _falling(layers, top_c)
    first_c += hard * (_published_c(layers, air, first_c) - first_c)
    minutes = float(cycle_numbers("normalising")["minutes_each_min"])
    shares = (1.0, 1.0 - hard, 1.0 - hard)
    exact = ((first_c, shares[0]), (second_c, shares[1]), (last_c, shares[2]))
    heats = tuple((c, minutes * share * (1.0 - withheld)) for c, share in exact)
    if withheld > MORE_THAN_HALF:
        return Normalising((), heats, hard, withheld, Reason("normalise-never", {"steel": never}))
    taken = exact[:1] if hard > MORE_THAN_HALF else exact
    printed = tuple(ROUND_TO_C * round(c / ROUND_TO_C) for c, _ in taken)
    return Normalising(printed, heats, hard, withheld, _because(layers, hard, hardest))


def _because(layers: Sequence[CycleLayer], hard: float, hardest: str) -> Reason:
    low_hrc, high_hrc = cycle_numbers("normalising")["hard_from_air_hrc"]
    if hard > MORE_THAN_HALF:
        values = {"steel": hardest, "low_hrc": low_hrc, "high_hrc": high_hrc}
        return Reason("normalise-hard-from-air", values)
    start = "spheroidised" if any(layer.start == "spheroidised" for layer in layers) else "normalised"
    return Reason("normalise-falling", {"start": start})


def _hard(air_over_critical: float) -> float:
    return ramp(martensite_from_air(air_over_critical), cycle_numbers("still_air")["hardened_frac"])


def _withheld(layer: CycleLayer, air_over_critical: float) -> float:
    air = ramp(air_over_critical, cycle_numbers("still_air")["times_critical_rate"])
    return 1.0 - (1.0 - layer.never_normalised) * (1.0 - air)


def _falling(layers: Sequence[CycleLayer], top_c: float) -> tuple[float, float, float]:
    """The three heats before the published figure has its say. [C]"""
    rule, fade_k = cycle_numbers("normalising"), float(cycle_numbers("fading")["temperature_k"])
    above_top_c = top_c + rule["above_top_k"]
    acm = most(layers, lambda layer: None if layer.lines is None else layer.lines.acm_c, fade_k)
    ae1 = most(layers, lambda layer: layer.ae1_c, fade_k)
    dissolving_c = above_top_c if acm is None else acm[0] + rule["above_acm_k"]
    first_c = min(max(above_top_c, dissolving_c), rule["at_most_c"])
    last_c = top_c if ae1 is None else ae1[0] + rule["last_above_ae1_k"]
    return first_c, min(above_top_c, rule["at_most_c"]), min(last_c, above_top_c)


def _published_c(layers: Sequence[CycleLayer], air: Mapping[str, float], otherwise_c: float) -> float:
    """Middle of the published normalising ranges of the layers that come hard out of the air. [C]"""
    told = [
        (layer.weight * _hard(air[layer.name]), 0.5 * sum(layer.grade.normalise_c))
        for layer in layers
        if layer.name in air and layer.grade is not None and layer.grade.normalise_c is not None
    ]
    total = sum(weight for weight, _ in told)
    return sum(weight * c for weight, c in told) / total if total > 0.0 else otherwise_c
