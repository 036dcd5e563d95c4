"""How fast a layer must cool to become martensite at its middle, from what is dissolved in it."""

from dataclasses import dataclass

from billet.composition import ELEMENTS, Composition
from billet.contract.report import Estimate
from billet.formulas.hardenability import ideal_diameter_in
from billet.published import REGISTRY
from billet.tables.practice import decision_numbers
from billet.units import inch_to_mm

A255_LIMITS_WT = {
    element: high
    for element, (_, high) in REGISTRY["hardenability.ideal_diameter_in"].fitted.items()
    if element in ELEMENTS and high > 0.0
}
"""Upper ends of the standard's factors, wt%."""
GRAIN_OF_FACTORS = 7.0


@dataclass(frozen=True)
class Hardenability:
    """Ideal diameter (ASTM A255 on the dissolved analysis) and the critical rate drawn from it."""

    ideal_diameter_mm: Estimate
    critical_rate_k_s: Estimate
    outside: tuple[str, ...]


def hardenability(dissolved: Composition, cycled: bool) -> Hardenability:
    """Critical cooling rate at the middle, 700-550 C, for 95 % martensite. [K/s]

    The centre of a round cools as 1 / diameter squared, so the critical rate goes as 1 / DI squared.
    The constant is set by the eutectoid steel whose rates are published (all martensite from 140 K/s,
    all pearlite to 35 K/s); that steel is taken as having the fine grain of a cycled blade. Uncycled
    blades are coarser and harden deeper: 8 % of DI for one grain number, from memory.
    """
    limits = decision_numbers("quench")
    kept, outside = _inside_a255(dissolved)
    reference_in = ideal_diameter_in(Composition(limits["eutectoid_wt"]), GRAIN_OF_FACTORS)
    finer = limits["grain_cycled"] - (limits["grain_cycled"] if cycled else limits["grain_uncycled"])
    diameter_in = ideal_diameter_in(kept, GRAIN_OF_FACTORS - finer)
    rate = _rate_for_share(limits["martensite_frac"]) * (reference_in / diameter_in) ** 2
    factor = limits["rate_band_factor"]
    diameter_mm = inch_to_mm(diameter_in)
    wide = factor**0.5
    return Hardenability(
        Estimate(diameter_mm, diameter_mm / wide, diameter_mm * wide),
        Estimate(rate, rate / factor, rate * factor),
        outside,
    )


def _rate_for_share(martensite_frac: float) -> float:
    """Rate of the eutectoid steel for this share of martensite, between its two published rates."""
    limits = decision_numbers("quench")
    least, most = limits["eutectoid_all_pearlite_k_s"], limits["eutectoid_all_martensite_k_s"]
    return float(least * (most / least) ** martensite_frac)


def _inside_a255(dissolved: Composition) -> tuple[Composition, tuple[str, ...]]:
    """The analysis held at the ends of the standard's factors, and the elements that lay beyond."""
    beyond = tuple(e for e, top in A255_LIMITS_WT.items() if dissolved[e] > top)
    kept = {e: min(v, A255_LIMITS_WT.get(e, v)) for e, v in dissolved.wt.items()}
    return Composition(kept), beyond
