"""The medium that every bar would ask for, and the bars that harden through in the advised one.

By the rules of `quench`, on what is dissolved at the temperature of the plan. A layer over 5 % chromium
has no computed rate: it keeps its published medium and counts as hardened.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition
from billet.contract.report import Medium
from billet.formulas import hardenability as factors
from billet.hardening.critical_rate import A255_LIMITS_WT, hardenability
from billet.hardening.layer import forms_alloy_carbide, is_high_alloy
from billet.hardening.quench import MEDIA_BY_COOLING, class_by_practice, layer_quench, severity
from billet.recipe.model import Start
from billet.tables.plate_cooling import centre_rate_k_s
from billet.tables.practice import decision_numbers
from billet.tables.uncertainty import spread
from billet.variation.draws import Array
from billet.variation.surfaces import carbon_nodes, state_surfaces
from billet.variation.windows import LayerBars, Mask

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


def asked_of(bars: LayerBars, hold: Hold, film_factor: Array) -> Asked:
    """What a layer asks in every bar."""
    layer, limits = bars.layer, decision_numbers("quench")
    count = len(film_factor)
    if is_high_alloy(layer.composition):
        own = layer_quench(layer, None, hold.thickness_mm, hold.cycled).slowest
        return Asked(np.full(count, severity(own)), np.zeros(count))
    dissolved = _dissolved(bars, hold)
    rate = _critical_rates(dissolved, hold.cycled) * bars.drawn.rate_factor
    cooling = np.stack([cooling_rates(m, hold.thickness_mm, film_factor) for m in MEDIA_BY_COOLING])
    enough = cooling >= rate
    by_rate = np.where(enough.any(axis=0), np.argmax(enough, axis=0), severity("brine"))
    practice = _practice_place(bars, hold)
    needed = np.maximum(by_rate, practice)
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


def _practice_place(bars: LayerBars, hold: Hold) -> int:
    """Place of the class that the trade takes for this kind of steel: what is asked where no rate does."""
    practice = class_by_practice(bars.layer, hold.thickness_mm)
    return 0 if practice is None else severity(practice)


def _dissolved(bars: LayerBars, hold: Hold) -> dict[str, Array]:
    """Analysis of the austenite of every bar after the soak, wt%."""
    carbon, shares = bars.carbon.mean, decision_numbers("state")
    surfaces = state_surfaces(bars.layer.composition, bars.off, carbon_nodes(carbon), np.array([hold.heat_c]))
    found = {
        e: np.maximum(np.nan_to_num(surfaces[f"{e}_in_austenite"].at(carbon, bars.off)[:, 0]), 0.0)
        for e in FACTORS
    }
    kind = "alloyed" if forms_alloy_carbide(bars.layer.composition) else "plain"
    least = shares[f"{hold.start}_{kind}"]
    upper = np.minimum(found["C"] + bars.drawn.dissolved_wt, np.maximum(carbon, found["C"]))
    found["C"] = np.maximum((least + (1.0 - least) * bars.drawn.soak) * upper, 0.0)
    return found


def _critical_rates(dissolved: dict[str, Array], cycled: bool) -> Array:
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
