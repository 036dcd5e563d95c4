"""Cooling of the blade in every medium, and what each hardening layer asks of it by three routes."""

from itertools import pairwise

import numpy as np

from billet.composition import Composition
from billet.contract.report import Estimate, Medium
from billet.contract.study import (
    CoolingStudy,
    LayerCooling,
    MediumCooling,
    Product,
    StartOfTransformation,
    TimeCurve,
)
from billet.contract.values import Fact, Reason
from billet.formulas.equilibrium import CriticalLines, critical_lines
from billet.formulas.martensite import ms_van_bohemen_c
from billet.formulas.severity import critical_plate_thickness_in
from billet.formulas.transformation import (
    CriticalRate,
    StartCurve,
    critical_cooling_rate_k_s,
    pearlite_factor,
    start_curve,
)
from billet.hardening.austenite_state import SteelState
from billet.hardening.critical_rate import CriticalRates, Hardenability, told_rates
from billet.hardening.decision import HardeningDecision, blade_thickness_mm, dissolved
from billet.hardening.layer import LayerSteel, is_high_alloy, low_alloy_limits
from billet.hardening.quench import MEDIA_BY_COOLING, BarQuench
from billet.published import OutsideFit, outside_fit
from billet.recipe.model import Recipe
from billet.report.words import said
from billet.tables.plate_cooling import centre_rate_k_s, cooling_curve
from billet.tables.practice import decision_numbers
from billet.units import inch_to_mm, mm_to_inch

CLOCK_FROM_C, CLOCK_TO_C = 700.0, 550.0
MEDIA: tuple[Medium, ...] = (*reversed(MEDIA_BY_COOLING), "hot oil")
PRODUCTS: tuple[Product, ...] = ("ferrite", "pearlite", "bainite")


def cooling_study(
    recipe: Recipe, judged: HardeningDecision, states: dict[str, SteelState], quench: BarQuench
) -> CoolingStudy:
    """Media at the blade's thickness (3 mm where none is told) and the hardening layers against them."""
    thickness_mm = blade_thickness_mm(recipe)
    cycled = judged.normalising.cycled
    layers = [layer for layer in judged.layers if layer.role != "soft"]
    rates = {found.ask.name: found.ask.rates for found in quench.per_steel}
    steels = tuple(
        _layer(layer, dissolved(states.get(layer.name), layer), cycled, rates.get(layer.name))
        for layer in layers
    )
    media = tuple(_medium(name, thickness_mm, steels) for name in MEDIA)
    return CoolingStudy(thickness_mm, recipe.blade is None, quench.medium, media, steels)


def _medium(name: Medium, thickness_mm: float, steels: tuple[LayerCooling, ...]) -> MediumCooling:
    rate = centre_rate_k_s(name, thickness_mm)
    times = {
        steel.steel: rate.value / steel.critical_rate_k_s.value
        for steel in steels
        if steel.critical_rate_k_s is not None
    }
    band = Estimate(rate.value, rate.low, rate.high)
    return MediumCooling(name, band, times, timed_cooling(name, thickness_mm))


def timed_cooling(name: str, thickness_mm: float) -> TimeCurve:
    """A cooling curve of the middle with its clock started when it passes 700 C."""
    pairs = list(zip(*cooling_curve(name, thickness_mm), strict=True))
    (before, above), (after, below) = next(
        (one, two) for one, two in pairwise(pairs) if one[1] >= CLOCK_FROM_C > two[1]
    )
    start_s = before + (above - CLOCK_FROM_C) / (above - below) * (after - before)
    later = [(seconds - start_s, c) for seconds, c in pairs if seconds > start_s]
    return TimeCurve(name, tuple(s for s, _ in later), tuple(c for _, c in later))


def _layer(
    layer: LayerSteel, austenite: Composition | None, cycled: bool, rates: CriticalRates | None
) -> LayerCooling:
    grain = float(decision_numbers("quench")["grain_cycled" if cycled else "grain_uncycled"])
    if austenite is None or rates is None or is_high_alloy(layer.composition):
        rich = is_high_alloy(layer.composition)
        why = said(Reason("study-no-rate", low_alloy_limits()) if rich else Reason("study-no-heat"))
        nothing = (None, None, None, None, None, None, None)
        return LayerCooling(layer.name, {}, grain, *nothing, (), why, why)
    found = told_rates(rates)
    lines = critical_lines(austenite)
    start = start_of_transformation(layer.name, austenite, grain, lines)
    li = _li_rate(austenite, grain, lines)
    band = None if li is None else _li_band(li, austenite)
    return LayerCooling(
        layer.name, dict(austenite.wt), grain, start, found.critical_rate_k_s,
        _within_s(found.critical_rate_k_s), band, None if li is None else li.product,
        found.ideal_diameter_mm, _grossmann_plate(found.ideal_diameter_mm), found.outside,
        _words(layer.name, found, band), None,
    )  # fmt: skip


def _grossmann_plate(ideal_diameter_mm: Estimate) -> Estimate:
    """Plate with half martensite at its middle in oil, for the severities from still to strongly moved."""
    still, moved, strong = decision_numbers("severity")["oil_per_in"]
    ends = (ideal_diameter_mm.value, moved), (ideal_diameter_mm.low, still), (ideal_diameter_mm.high, strong)
    plates = [inch_to_mm(critical_plate_thickness_in(mm_to_inch(mm), h)) for mm, h in ends]
    return Estimate(*plates)


def _within_s(rate_k_s: Estimate) -> Estimate:
    span_k = CLOCK_FROM_C - CLOCK_TO_C
    return Estimate(span_k / rate_k_s.value, span_k / rate_k_s.high, span_k / rate_k_s.low)


def _li_rate(austenite: Composition, grain: float, lines: CriticalLines) -> CriticalRate | None:
    if lines.ae1_c is None or lines.ae3_c is None:
        return None
    return critical_cooling_rate_k_s(
        austenite, grain, lines.ae3_c, lines.ae1_c, ms_c=ms_van_bohemen_c(austenite)
    )


def _li_band(li: CriticalRate, austenite: Composition) -> Estimate:
    """Li's rate with our factor around it; the upper end never under pearlite that forms down to Ms."""
    limits = decision_numbers("study")
    low_wt, high_wt = limits["li_carbon_wt"]
    inside = low_wt <= austenite["C"] <= high_wt and not li_outside(austenite)
    factor = limits["li_factor_inside" if inside else "li_factor_outside"]
    return Estimate(li.rate_k_s, li.rate_k_s / factor, max(li.rate_k_s * factor, li.high_k_s))


def li_outside(austenite: Composition) -> list[OutsideFit]:
    """What of a dissolved analysis lies outside the range that Li's formulas were fitted to."""
    return outside_fit(pearlite_factor, {e: austenite[e] for e in ("C", "Cr", "Ni", "Mo")})


def start_of_transformation(
    name: str, austenite: Composition, grain: float, lines: CriticalLines
) -> StartOfTransformation | None:
    """The earliest of ferrite, pearlite and bainite at each temperature from Ms up, after Li.

    Times over a quarter of an hour are left out; None where nothing begins sooner.
    """
    limits = decision_numbers("study")
    if lines.ae1_c is None or lines.ae3_c is None:
        return None
    top_c = max(lines.ae1_c, lines.ae3_c)
    low_c = max(ms_van_bohemen_c(austenite), 0.0)
    at_c = np.arange(top_c - 1.0, low_c, -limits["start_step_k"])
    curve = start_curve(austenite, grain, at_c, ae3_c=lines.ae3_c, ae1_c=lines.ae1_c)
    return _earliest(name, curve, limits["start_longest_s"], li_outside(austenite))


def _earliest(
    name: str, curve: StartCurve, longest_s: float, outside: list[OutsideFit]
) -> StartOfTransformation | None:
    times = np.stack([curve.ferrite_s, curve.pearlite_s, curve.bainite_s])
    soonest, first = times.min(axis=0), times.argmin(axis=0)
    kept = np.flatnonzero(soonest <= longest_s)
    if len(kept) == 0:
        return None
    nose = kept[int(np.argmin(soonest[kept]))]
    line = TimeCurve(
        name, tuple(float(soonest[i]) for i in kept), tuple(float(curve.temperature_c[i]) for i in kept)
    )
    told = tuple(
        said(Reason("study-outside", {"name": o.name, "value": o.value, "low": o.low, "high": o.high}))
        for o in outside
    )
    return StartOfTransformation(
        line, tuple(PRODUCTS[int(first[i])] for i in kept), float(soonest[nose]),
        float(curve.temperature_c[nose]), PRODUCTS[int(first[nose])], told, _note(bool(told)),
    )  # fmt: skip


def _note(is_outside: bool) -> str:
    return said(Reason("study-start-outside" if is_outside else "study-start-inside"))


def _words(name: str, found: Hardenability, li: Estimate | None) -> str:
    """How the second and third route stand to the rate that the decision used."""
    used = found.critical_rate_k_s
    against = "none" if li is None else "agrees"
    if li is not None and (li.high < used.low or li.low > used.high):
        against = "lower" if li.high < used.low else "higher"
    values: dict[str, Fact] = {
        "steel": name, "rate_k_s": used.value, "low_k_s": used.low, "high_k_s": used.high,
    }  # fmt: skip
    return said(Reason(f"study-rate-{against}", values))
