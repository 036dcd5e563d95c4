"""Grain of the steel after the last fire, and after the heats that refine it: an order of magnitude."""

from collections.abc import Sequence
from dataclasses import dataclass

from billet.composition import Composition
from billet.contract.values import Estimate
from billet.formulas.grain import austenite_grain_um, grain_size_from_diameter
from billet.hardening.cycle_layer import CycleLayer, most, weighted
from billet.published import REGISTRY
from billet.tables.heat_cycle import cycle_numbers

LARGEST_ASTM, COARSEST_ASTM = 14.0, -1.0
HARDENING_HEAT = 1.0


@dataclass(frozen=True)
class Heat:
    """One hold: temperature in C and minutes."""

    temperature_c: float
    minutes: float


@dataclass(frozen=True)
class GrainSize:
    """ASTM numbers; the larger, the finer. After forging None where no fire is told."""

    after_forging: Estimate | None
    after_cycles: Estimate | None


def grain_size(
    layers: Sequence[CycleLayer], last_fire: Heat | None, cycles: float, hardening: Heat | None
) -> GrainSize:
    """The coarsest hardening layer after its last fire, and after `cycles` heats and the hardening one.

    `hardening` is None where no set point stands.

    A fire's grain follows Lee and Lee (2008), each heat counted afresh since forging breaks it up; every
    later heat through the change takes the grain nearer to a fine one, as remembered of blades, and the
    hardening heat grows it again by the same law. Steels rich in chromium keep carbide there that holds
    the grain, so in them it does not grow; elsewhere such carbide is left out.
    """
    if last_fire is None:
        return GrainSize(None, None)
    coarse = _coarsest(layers, last_fire)
    if coarse is None:
        return GrainSize(None, None)
    rule = cycle_numbers("grain")
    left = float(rule["left_each_heat"]) ** (cycles + HARDENING_HEAT)
    fine = rule["fine_astm"] + left * (coarse.value - rule["fine_astm"])
    grown = None if hardening is None else _coarsest(layers, hardening)
    pinned, _ = weighted(layers, lambda layer: layer.high_alloy)
    growth = 0.0 if grown is None else min(grown.value - fine, 0.0)
    value = fine + (1.0 - pinned) * growth
    return GrainSize(coarse, _banded(value, float(rule["band_astm"])))


def _coarsest(layers: Sequence[CycleLayer], heat: Heat) -> Estimate | None:
    """The least number over the hardening layers, each taken finer as it hardens less."""
    fade = float(cycle_numbers("grain")["fading_astm"])
    found = most(layers, lambda layer: -_after(layer.composition, heat).value, fade)
    return None if found is None else _after(found[1].composition, heat)


def _after(composition: Composition, heat: Heat) -> Estimate:
    rule = cycle_numbers("grain")
    kept = {e: min(composition[e], most_wt) for e, most_wt in rule["law_most_wt"].items()}
    um = austenite_grain_um(Composition(kept), heat.temperature_c, 60.0 * max(heat.minutes, 0.1))
    value = min(max(grain_size_from_diameter(um), COARSEST_ASTM), LARGEST_ASTM)
    fitted = REGISTRY["grain.austenite_grain_um"].fitted
    inside = all(
        low <= here <= high
        for here, (low, high) in (
            (composition["C"], fitted["C"]),
            (heat.temperature_c, fitted["temperature_c"]),
        )
    )
    return _banded(value, float(rule["band_astm" if inside else "band_outside_fit_astm"]))


def _banded(value: float, band: float) -> Estimate:
    return Estimate(value, value - band, value + band)
