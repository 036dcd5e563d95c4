"""What a layer asks of a bath, and how a bath does by it: spine, edge only, or not at all."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from billet.hardening.critical_rate import CriticalRates, critical_rates, quenched_wt
from billet.hardening.media_cooling import Bath, class_baths
from billet.hardening.samples import Array, LayerSamples, Mask
from billet.tables.practice import decision_numbers
from billet.tables.uncertainty import spread

GRADES = ("no", "works", "good")
"""Words for the numbers 0, 1, 2 of a grade: the edge falls short even at the middle of the rate's band; it
hardens and the spine may keep a softer core; surely hardened through."""
NO, WORKS, GOOD = range(3)
Places = np.ndarray[tuple[int], np.dtype[np.int_]]


@dataclass(frozen=True)
class BladeSection:
    """What is quenched: thickest section and edge in mm, half the angle of the bevel in degrees or None.

    `cycled`: normalised in several heats, so of a fine grain.
    """

    thickness_mm: float
    edge_mm: float
    bevel_half_angle_deg: float | None
    cycled: bool

    @property
    def thinnest_mm(self) -> float:
        """The edge, which is never thicker than the blade."""
        return min(self.edge_mm, self.thickness_mm)


@dataclass(frozen=True)
class Sections:
    """Several sections of the same edge, one a sample: thickest section and thinnest in mm, (samples,)."""

    thickness_mm: Array
    thinnest_mm: Array

    @staticmethod
    def of(section: BladeSection, thicknesses_mm: Sequence[float]) -> "Sections":
        """This section in each of these thicknesses."""
        thick_mm = np.array(thicknesses_mm, dtype=np.float64)
        return Sections(thick_mm, np.minimum(section.edge_mm, thick_mm))


@dataclass(frozen=True)
class LayerAsk:
    """One layer in all samples, each array (samples,).

    `asked_k_s` and `crack` are the layer's own; `asked_faded_k_s` and `crack_faded` fade with its weight
    and are what the bar counts, `lost_decades` how far. `crack` runs from 0, cracks in nothing, to 1.
    """

    name: str
    rates: CriticalRates
    carbon_wt: Array
    crack: Array
    crack_faded: Array
    lost_decades: Array
    film_factor: Array
    published: tuple[str, ...]

    @property
    def asked_faded_k_s(self) -> Array:
        """The rate asked for as far as the layer counts, (samples,)."""
        found: Array = self.rates.asked * 10.0**-self.lost_decades
        return found


@dataclass(frozen=True)
class LayerGrade:
    """A bath by a layer, arrays (samples,): grade 0 to 2, thicknesses hardened through, and the margin.

    `through_mm` stands on the rate asked for, `likely_mm` on the middle of its band. `margin` is the
    spine's cooling over what is asked: 1 just hardens through.
    """

    grade: Places
    through_mm: Array
    likely_mm: Array
    margin: Array


def layer_ask(
    layer: LayerSamples,
    dissolved_wt: Mapping[str, Array] | None,
    section: BladeSection,
    assumed: Collection[str] = (),
) -> LayerAsk:
    """What a layer asks. `dissolved_wt` holds what is dissolved at heat, each (samples,), None where it is
    not computed: then the whole analysis stands in for it. `assumed` are the residuals not told.
    """
    estimated = dissolved_wt is None
    wt = quenched_wt(dissolved_wt, layer.wt)
    rates = critical_rates(wt, layer.errors.rate_factor, section.cycled, assumed, estimated)
    lost = decades_lost(layer.weight)
    grade = layer.grade
    row = grade.working_from(layer.start) if grade is not None else None
    return LayerAsk(
        layer.name,
        rates,
        wt["C"],
        crack_index(rates.value, wt["C"]),
        crack_index(rates.value * 10.0**lost, wt["C"]),
        lost,
        layer.errors.film_factor,
        row.media if row is not None else (),
    )


def decades_lost(weight: Array) -> Array:
    """By how many decades of rate a layer counts less: one to where it is soft, and three more to nothing."""
    limits = decision_numbers("quench")
    softer = np.clip(1.0 - weight / limits["soft_weight"], 0.0, 1.0)
    found: Array = limits["weight_decades"] * (1.0 - weight) + limits["soft_decades"] * softer
    return found


def crack_index(critical_k_s: Array, carbon_wt: Array) -> Array:
    """How easily a layer cracks in the bath, 0 to 1: depth of hardening times carbon. (p)"""
    limits = decision_numbers("quench_cracks")
    shallow, deep = limits["shallow_k_s"], limits["deep_k_s"]
    depth = np.clip(np.log(shallow / critical_k_s) / np.log(shallow / deep), 0.0, 1.0)
    ramp = np.clip((carbon_wt - limits["low_c_wt"]) / (limits["high_c_wt"] - limits["low_c_wt"]), 0.0, 1.0)
    found: Array = depth * (limits["least_of_carbon"] + (1.0 - limits["least_of_carbon"]) * ramp)
    return found


def graded(
    ask: LayerAsk,
    bath: Bath,
    section: BladeSection | Sections,
    *,
    alone: bool = False,
    film: float | Array = 1.0,
) -> LayerGrade:
    """How a bath does by a layer as far as it counts in the bar, or `alone`; `film` more or less of it.

    A layer that is a sample of one is judged in every sample of `section`. Of several baths each array is
    (baths, samples).
    """
    lost = 0.0 * ask.lost_decades if alone else ask.lost_decades
    factor = ask.film_factor * film
    asked_k_s, value_k_s = ask.rates.asked * 10.0**-lost, ask.rates.value * 10.0**-lost
    through_mm = bath.depths_mm(asked_k_s, factor)
    likely_mm = np.maximum(bath.depths_mm(value_k_s, factor), through_mm)
    grade = (likely_mm >= section.thinnest_mm).astype(np.int_) + (through_mm >= section.thickness_mm)
    margin = bath.rates_k_s(np.atleast_1d(section.thickness_mm), factor) / asked_k_s
    return LayerGrade(grade, through_mm, likely_mm, margin)


def trusted(
    ask: LayerAsk, names: tuple[str, ...], section: BladeSection | Sections, *, alone: bool = False
) -> Mask:
    """Samples in which practice trusts each bath to harden the layer through, (baths, samples).

    A plain steel has the fastest oil unless a slower bath hardens it even with a film at the low end of
    the table; slow oil is for deep-hardening steels; air must be the surer the less it leaves in hand. (p)
    """
    limits = decision_numbers("quench")
    low = (1.0 - spread("film")["table_frac"]) ** ask.rates.plainness
    film = np.stack([np.ones_like(low) if name == "fast oil" else low for name in names])
    found = graded(ask, class_baths(names), section, alone=alone, film=film)
    good: Mask = found.grade == GOOD
    asked_k_s = ask.rates.asked if alone else ask.asked_faded_k_s
    for place, name in enumerate(names):
        if name == "slow oil":
            good[place] &= asked_k_s <= limits["slow_oil_trusted_k_s"]
        if name == "air":
            good[place] &= found.margin[place] >= limits["air_margin"]
    return good
