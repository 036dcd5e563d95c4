"""The medium that every bar would ask for, and the bars that harden through in the advised one.

By the rules of `quench`, on what is dissolved at the temperature of the plan. A layer over 5 % chromium
has no computed rate: it keeps its published medium and counts as hardened.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition
from billet.contract.report import Medium
from billet.formulas import hardenability as factors
from billet.hardening.austenite import austenitised
from billet.hardening.critical_rate import A255_LIMITS_WT, hardenability
from billet.hardening.layer import LayerSteel, is_high_alloy
from billet.hardening.quench import MEDIA_BY_COOLING, class_by_practice, layer_quench, severity
from billet.hardening.samples import Array, LayerSamples, Mask
from billet.tables.plate_cooling import centre_rate_k_s
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start
from billet.tables.uncertainty import spread

FACTORS: dict[str, Callable[[float], float]] = {
    "C": factors.carbon_factor_in, "Mn": factors.manganese_factor, "Si": factors.silicon_factor,
    "Ni": factors.nickel_factor, "Cr": factors.chromium_factor, "Mo": factors.molybdenum_factor,
    "V": factors.vanadium_factor,
}  # fmt: skip
POINTS = 65


@dataclass(frozen=True)
class Asked:
    """What one layer asks in every bar, (bars,): place on the ladder, and its critical rate (0: none)."""

    slowest: np.ndarray[tuple[int], np.dtype[np.int_]]
    critical_rate_k_s: Array


@dataclass(frozen=True)
class Hold:
    """The plan's temperature, the structure before it, and the blade's thickness."""

    heat_c: float
    start: Start
    thickness_mm: float
    cycled: bool


def asked_of(layer: LayerSamples, told: LayerSteel, hold: Hold) -> Asked:
    """What a layer asks in every bar; `told` is the plan's own layer."""
    limits, count = decision_numbers("quench"), layer.samples
    if is_high_alloy(told.composition):
        own = layer_quench(told, None, hold.thickness_mm, hold.cycled).slowest
        return Asked(np.full(count, severity(own)), np.zeros(count))
    found = austenitised(layer.wt, np.full(count, hold.heat_c), hold.start, layer.errors)
    dissolved = found.dissolved_wt
    rate = _critical_rates(dissolved, hold.cycled) * layer.errors.rate_factor
    film = layer.errors.film_factor
    cooling = np.stack([cooling_rates(m, hold.thickness_mm, film) for m in MEDIA_BY_COOLING])
    enough = cooling >= rate
    by_rate = np.where(enough.any(axis=0), np.argmax(enough, axis=0), severity("brine"))
    practice = class_by_practice(told, hold.thickness_mm)
    needed = np.maximum(by_rate, 0 if practice is None else severity(practice))
    too_fast = (needed > severity("fast oil")) & (dissolved["C"] >= limits["no_water_from_c_wt"])
    return Asked(np.where(too_fast, severity("fast oil"), needed), rate)


def cooling_rates(name: Medium, thickness_mm: float, film_factor: Array) -> Array:
    """Cooling of the middle with the film of every bar, K/s: a power of the film through the table's ends."""
    rate, table = centre_rate_k_s(name, thickness_mm), spread("film")["table_frac"]
    power = np.log(rate.high / rate.low) / np.log((1.0 + table) / (1.0 - table))
    found: Array = rate.value * film_factor**power
    return found


def medium_shares(asked: list[Asked], takes_part: list[Mask], has_window: Mask) -> dict[Medium, float]:
    """Share of all bars that would ask for each medium; bars without a window ask for none."""
    needed = np.zeros(len(has_window), dtype=np.int_)
    for layer, here in zip(asked, takes_part, strict=True):
        needed = np.where(here, np.maximum(needed, layer.slowest), needed)
    found = {name: float(np.mean(has_window & (needed == i))) for i, name in enumerate(MEDIA_BY_COOLING)}
    return {name: share for name, share in found.items() if share > 0.0}


def hardened_through(asked: list[Asked], takes_part: list[Mask], cooling_k_s: Array) -> Mask:
    """Bars in which every hardening layer cools at least at its critical rate: (bars,)."""
    through: Mask = np.any(takes_part, axis=0)
    for layer, here in zip(asked, takes_part, strict=True):
        through &= ~here | (cooling_k_s >= layer.critical_rate_k_s)
    return through


def _critical_rates(dissolved: Mapping[str, Array], cycled: bool) -> Array:
    """Critical rate of every bar, from that of one and the ratio of the ideal diameters. [K/s]"""
    one = {e: float(np.median(v)) for e, v in dissolved.items()}
    diameter = np.ones(len(dissolved["C"]))
    for element, factor in FACTORS.items():
        content = np.minimum(dissolved[element], A255_LIMITS_WT[element])
        nodes = np.linspace(content.min(), content.max() + 1e-6, POINTS)
        diameter *= np.interp(content, nodes, [factor(float(v)) for v in nodes])
        diameter /= factor(min(one[element], A255_LIMITS_WT[element]))
    rate: Array = hardenability(Composition(one), cycled).critical_rate_k_s.value / diameter**2
    return rate
