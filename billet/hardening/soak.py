"""How long the steel is held at the set point, and how long it takes to come to it."""

from collections.abc import Sequence
from dataclasses import dataclass

from billet.contract.values import Fact, Reason
from billet.formulas.heating import ROOM_C, heating_through
from billet.hardening.cycle_layer import CycleLayer, carbides_at, most, ramp
from billet.tables.heat_cycle import cycle_numbers

SLOW_ENOUGH = 0.25


@dataclass(frozen=True)
class Soak:
    """Minutes from when the steel is at heat, and which layer asks for them."""

    minutes: float
    because: Reason


def soak(
    layers: Sequence[CycleLayer], set_point_c: float, carbides: Sequence[float | None] | None = None
) -> Soak | None:
    """The longest that any hardening layer asks; None where nothing hardens. `carbides` are those of each
    layer at the set point, where they were solved before.

    Plain steel needs no more than to be hot right through; alloyed carbide asks for time by how much of
    it is left to dissolve once the pearlite has turned, and so does a spheroidised start. Where the
    carbide that held the grain is nearly gone the soak is short. Common practice, no source.
    """
    fade_min = float(cycle_numbers("fading")["time_min"])
    if carbides is None:
        carbides = carbides_at([layer.composition for layer in layers], [set_point_c] * len(layers))
    pinned = {layer.name: _held_by(carbide) for layer, carbide in zip(layers, carbides, strict=True)}
    longest = most(layers, lambda layer: _asked_min(layer, pinned[layer.name]), fade_min)
    if longest is None:
        return None
    _, layer = longest
    return Soak(max(longest[0], 0.0), _because(layer, pinned[layer.name]))


def heat_through_min(thickness_mm: float, set_point_c: float) -> float:
    """Minutes from room temperature until the middle of a plate is at heat, chamber a little hotter."""
    hotter_k = cycle_numbers("soaking")["hotter_k"]
    return heating_through(thickness_mm, set_point_c, set_point_c + hotter_k, ROOM_C).minutes


def _asked_min(layer: CycleLayer, held: float) -> float:
    """`held` (0 to 1): how far carbide still holds the grain at the set point. [min]"""
    times = cycle_numbers("soaking")
    slow = times["plain_min"] + layer.slow_carbide * (times["alloyed_min"] - times["plain_min"])
    if layer.start == "spheroidised":
        slow *= times["spheroidised_longer"]
    slow = min(slow, times["pinned_max_min"] + held * max(slow - times["pinned_max_min"], 0.0))
    return float(slow + layer.high_alloy * (times["high_alloy_min"] - slow))


def _held_by(carbide: float | None) -> float:
    """0 to 1: how far so much carbide holds the grain."""
    return 1.0 if carbide is None else ramp(carbide, cycle_numbers("soaking")["pinned_frac"])


def _because(layer: CycleLayer, held: float) -> Reason:
    values: dict[str, Fact] = {"steel": layer.name, "start": layer.start}
    if layer.high_alloy > 0.5:
        return Reason("soak-high-alloy", values)
    if layer.slow_carbide > SLOW_ENOUGH:
        return Reason("soak-pinned" if held < 0.5 else "soak-alloyed-carbide", values)
    return Reason("soak-plain", values)
