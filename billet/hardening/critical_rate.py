"""How fast a layer must cool to become martensite at its middle, from what is dissolved in it."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from billet.composition import Composition
from billet.contract.values import Estimate
from billet.formulas.hardenability import diameters_of_factors_in, factors_of, ideal_diameters_in
from billet.hardening.bands import off_band
from billet.hardening.residuals import with_usual_residuals
from billet.hardening.samples import Array, Mask
from billet.published import REGISTRY
from billet.tables.practice import decision_numbers
from billet.units import inch_to_mm

A255_LIMITS_WT = {
    element: high
    for element, (_, high) in REGISTRY["hardenability.ideal_diameter_in"].fitted.items()
    if element in ("C", "Mn", "Si", "Ni", "Cr", "Mo", "Cu", "V")
}
"""Upper ends of the standard's factors, wt%."""
COUNTED = tuple(A255_LIMITS_WT)
CARRIED_ON = frozenset({"Cr", "Mo"})
"""Straight factors that are carried on beyond their end; the others are held there."""
NO_FACTOR = ("W", "Co")
LEAST_CARBON_WT = 0.01
GRAIN_OF_FACTORS = 7.0


@dataclass(frozen=True)
class CriticalRates:
    """Of samples of one steel, each array (samples,). Rates in K/s at the middle from 700 to 550 C.

    `asked` is the rate that a medium has to reach: the safe end of the formula's band for a plain steel,
    the middle for an alloyed one, by `alloy_factor`, the product of the A255 factors of Cr, Ni and Mo.
    `low` and `high` also hold the residuals that were assumed. `estimated`: from the whole analysis,
    because nothing dissolved is computed for such a steel. `outside`: elements beyond the factors.
    """

    value: Array
    low: Array
    high: Array
    asked: Array
    alloy_factor: Array
    plainness: Array
    ideal_diameter_mm: Array
    estimated: bool
    outside: tuple[str, ...]


@dataclass(frozen=True)
class Hardenability:
    """Ideal diameter (ASTM A255 on the dissolved analysis) and the critical rate drawn from it."""

    ideal_diameter_mm: Estimate
    critical_rate_k_s: Estimate
    outside: tuple[str, ...]


@dataclass(frozen=True)
class Dissolved:
    """What is dissolved in samples of one steel, each (samples,), with what its formula is off by.

    `assumed` names the elements whose content is the usual residual and not told, `estimated` as in
    CriticalRates. `moved_wt`, as `austenite_state.Varied` has it, with residuals, is the same of a plan's one
    sample with one input moved in every sample but the first: it widens the band.
    """

    wt: Mapping[str, Array]
    rate_factor: Array
    assumed: Collection[str] = ()
    estimated: bool = False
    moved_wt: Mapping[str, Array] | None = None


def critical_rates(
    dissolved_wt: Mapping[str, Array],
    rate_factor: Array,
    cycled: bool,
    assumed: Collection[str] = (),
    estimated: bool = False,
) -> CriticalRates:
    """`rates_of` of one steel."""
    (found,) = rates_of([Dissolved(dissolved_wt, rate_factor, assumed, estimated)], cycled)
    return found


def rates_of(steels: Sequence[Dissolved], cycled: bool) -> tuple[CriticalRates, ...]:
    """Critical rates for 95 % martensite of samples of several steels.

    The centre of a round cools as 1 / diameter squared, so the critical rate goes as 1 / DI squared.
    The constant is set by the eutectoid steel whose rates are published (all martensite from 140 K/s,
    all pearlite to 35 K/s); that steel is taken with the usual residuals and the fine grain of a cycled
    blade. Uncycled blades are coarser and harden deeper: 8 % of DI for one grain number, from memory.
    """
    limits = decision_numbers("quench")
    parts = [wt for steel in steels for wt in (steel.wt, steel.moved_wt) if wt is not None]
    table, beyond = _inside_a255(parts)
    finer = limits["grain_cycled"] - (limits["grain_cycled"] if cycled else limits["grain_uncycled"])
    factors = factors_of(dict(zip(COUNTED, table, strict=True)))
    diameter_in = diameters_of_factors_in(factors, GRAIN_OF_FACTORS - finer)
    value = _rate_for_share(limits["martensite_frac"]) * (_reference_in() / diameter_in) ** 2
    alloy = factors["Cr"] * factors["Ni"] * factors["Mo"]
    found, begin = [], 0
    for steel in steels:
        here = slice(begin, begin + len(steel.wt["C"]))
        begin = here.stop
        rates = _with_band(steel, value[here], alloy[here], diameter_in[here], _named(beyond[:, here]))
        if steel.moved_wt is not None:
            begin += len(steel.moved_wt["C"])
            rates = _widened(rates, value[here.stop : begin])
        found.append(rates)
    return tuple(found)


def _with_band(
    steel: Dissolved, exact_k_s: Array, alloy: Array, diameter_in: Array, outside: tuple[str, ...]
) -> CriticalRates:
    limits = decision_numbers("quench")
    value, plainness = exact_k_s * steel.rate_factor, plainness_of(alloy)
    formula = limits["rate_band_factor"]
    told = limits["estimated_band_factor"] if steel.estimated else formula
    band = math.exp(math.hypot(math.log(told), _residual_log_rate(frozenset(steel.assumed))))
    diameter_mm: Array = inch_to_mm(1.0) * diameter_in
    return CriticalRates(
        value, value / band, value * band, value * formula**plainness, alloy, plainness,
        diameter_mm, steel.estimated, outside,
    )  # fmt: skip


def _widened(rates: CriticalRates, moved_k_s: Array) -> CriticalRates:
    """With the band that its analysis and what is dissolved put in too."""
    down, up = off_band(np.log(moved_k_s))
    low, high = np.log(rates.value / rates.low), np.log(rates.high / rates.value)
    return replace(
        rates,
        low=rates.value * np.exp(-np.hypot(low, down)),
        high=rates.value * np.exp(np.hypot(high, up)),
    )


def plainness_of(alloy_factor: Array) -> Array:
    """1 for a plain steel, 0 for an alloyed one, straight in the logarithm of its factor between. (p)"""
    limits = decision_numbers("quench")
    plain, alloyed = math.log(limits["plain_factor"]), math.log(limits["alloyed_factor"])
    return np.clip((alloyed - np.log(alloy_factor)) / (alloyed - plain), 0.0, 1.0)


def estimated_dissolved(wt: Mapping[str, Array]) -> dict[str, Array]:
    """What may be dissolved of a steel too rich for the equilibria, from its whole analysis. (own)

    Carbon to the eutectoid's; chromium and molybdenum in the share of the carbon that dissolves.
    """
    limits = decision_numbers("quench_estimate")
    carbon = np.minimum(wt["C"], limits["most_c_wt"])
    share = carbon / np.maximum(wt["C"], LEAST_CARBON_WT)
    found = {e: v * share if e in CARRIED_ON else v for e, v in wt.items()}
    found["C"] = carbon
    if "V" in wt:
        found["V"] = np.minimum(wt["V"], limits["most_v_wt"])
    return found


def quenched_wt(dissolved_wt: Mapping[str, Array] | None, wt: Mapping[str, Array]) -> Mapping[str, Array]:
    """What the quench counts as dissolved, each (samples,): what is computed, passing over to what is
    estimated from the whole analysis `wt` as the steel grows too rich for it, so that no rate jumps there.

    `dissolved_wt` is None where nothing is computed.
    """
    if dissolved_wt is None:
        return estimated_dissolved(wt)
    share = _estimate_share(wt)
    if not np.any(share > 0.0):
        return dissolved_wt
    instead, zero = estimated_dissolved(wt), np.zeros(len(share))
    return {
        e: (1.0 - share) * dissolved_wt.get(e, zero) + share * instead.get(e, zero)
        for e in dissolved_wt.keys() | instead.keys()
    }


def _estimate_share(wt: Mapping[str, Array]) -> Array:
    limits, zero = decision_numbers("quench_estimate"), np.zeros(len(wt["C"]))
    heavy = wt.get("W", zero) + wt.get("Mo", zero) + wt.get("V", zero)
    shares = [
        np.clip((value - low) / (high - low), 0.0, 1.0)
        for value, (low, high) in (
            (wt.get("Cr", zero), limits["instead_cr_wt"]),
            (heavy, limits["instead_w_mo_v_wt"]),
        )
    ]
    found: Array = np.maximum(*shares)
    return found


def hardenability(dissolved: Composition, cycled: bool, assumed: Collection[str] = ()) -> Hardenability:
    """`critical_rates` of one analysis, residuals in it, with its bands; `assumed` as there."""
    return told_rates(
        critical_rates({e: np.array([v]) for e, v in dissolved.wt.items()}, np.ones(1), cycled, assumed)
    )


def told_rates(found: CriticalRates) -> Hardenability:
    """The first sample with its bands: that of the diameter is the root of the rate's."""
    rate, diameter_mm = _estimate(found), float(found.ideal_diameter_mm[0])
    wide = (rate.high / rate.value) ** 0.5
    return Hardenability(Estimate(diameter_mm, diameter_mm / wide, diameter_mm * wide), rate, found.outside)


def _estimate(found: CriticalRates) -> Estimate:
    return Estimate(float(found.value[0]), float(found.low[0]), float(found.high[0]))


@cache
def _reference_in() -> float:
    limits = decision_numbers("quench")
    whole = Composition(with_usual_residuals(limits["eutectoid_wt"], ()))
    return float(ideal_diameters_in({e: np.array(v) for e, v in whole.wt.items()}, GRAIN_OF_FACTORS))


def _rate_for_share(martensite_frac: float) -> float:
    """Rate of the eutectoid steel for this share of martensite, between its two published rates."""
    limits = decision_numbers("quench")
    least, most = limits["eutectoid_all_pearlite_k_s"], limits["eutectoid_all_martensite_k_s"]
    return float(least * (most / least) ** martensite_frac)


@cache
def _residual_log_rate(assumed: frozenset[str]) -> float:
    """Half of what assumed residuals, from none to the most, change the logarithm of the rate by."""
    limits = decision_numbers("residuals")
    most = {e: np.array(limits["band"] * limits["usual_wt"][e]) for e in assumed}
    if not most:
        return 0.0
    factors = factors_of(most)
    return math.sqrt(sum(math.log(float(factors[e])) ** 2 for e in assumed))


def _inside_a255(parts: Sequence[Mapping[str, Array]]) -> tuple[Array, Mask]:
    """Steels one after another: their analyses held at the ends of the standard's factors, and where they
    lay beyond; (elements, samples) in the order of COUNTED, the second with NO_FACTOR behind."""
    sizes = [len(wt["C"]) for wt in parts]
    table = np.zeros((len(COUNTED) + len(NO_FACTOR), sum(sizes)))
    begin = 0
    for wt, size in zip(parts, sizes, strict=True):
        for row, element in zip(table, (*COUNTED, *NO_FACTOR), strict=True):
            if element in wt:
                row[begin : begin + size] = wt[element]
        begin += size
    tops = np.array([*A255_LIMITS_WT.values(), *(0.0 for _ in NO_FACTOR)])
    held = np.array([np.inf if e in CARRIED_ON else top for e, top in A255_LIMITS_WT.items()])
    kept = np.minimum(table[: len(COUNTED)], held[:, None])
    carbon = kept[COUNTED.index("C")]
    np.maximum(carbon, LEAST_CARBON_WT, out=carbon)
    return kept, table > tops[:, None]


def _named(beyond: Mask) -> tuple[str, ...]:
    """The elements that lie beyond the factors in any sample."""
    if not beyond.any():
        return ()
    named = zip((*COUNTED, *NO_FACTOR), beyond, strict=True)
    return tuple(element for element, there in named if there.any())
