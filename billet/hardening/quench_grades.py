"""What a layer asks of a bath, and how a bath does by it: spine, edge only, or not at all."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, fields

import numpy as np

from billet.contract.values import Estimate
from billet.hardening.critical_rate import CriticalRates, Dissolved, quenched_wt, rates_of
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
class Asked:
    """What a layer asks of a bath in all samples, (samples,) each, or several layers, (layers, samples).

    `rate_k_s` is the rate to reach, `likely_k_s` the middle of its band; `crack` runs from 0, cracks in
    nothing, to 1.
    """

    rate_k_s: Array
    likely_k_s: Array
    plainness: Array
    carbon_wt: Array
    crack: Array
    film_factor: Array

    @staticmethod
    def together(layers: Sequence["Asked"]) -> "Asked":
        """Several layers of the same samples."""
        return Asked(*(np.stack([getattr(one, f.name) for one in layers]) for f in fields(Asked)))


@dataclass(frozen=True)
class LayerAsk:
    """One layer in all samples, each array (samples,).

    `crack` is the layer's own; `crack_faded` fades with its weight, `lost_decades` how far.
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
    def alone(self) -> Asked:
        """What the layer asks by itself."""
        rates = self.rates
        return Asked(
            rates.asked, rates.value, rates.plainness, self.carbon_wt, self.crack, self.film_factor
        )  # fmt: skip

    @property
    def in_bar(self) -> Asked:
        """What it asks as far as it counts in the bar."""
        rates, left = self.rates, 10.0**-self.lost_decades
        return Asked(
            rates.asked * left, rates.value * left, rates.plainness, self.carbon_wt, self.crack_faded,
            self.film_factor,
        )  # fmt: skip


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


@dataclass(frozen=True)
class LayerInput:
    """A hardening layer with what is dissolved in it at heat, each (samples,), None where it is not computed:
    then the whole analysis stands in for it; the residuals assumed in it; the hardness it has where it is
    hardened through; and `moved_wt`, what is dissolved with one input moved in every sample but the first,
    for the band of its rate."""

    layer: LayerSamples
    dissolved_wt: Mapping[str, Array] | None
    assumed: Collection[str] = ()
    hrc: Estimate | None = None
    moved_wt: Mapping[str, Array] | None = None


def layer_ask(
    layer: LayerSamples,
    dissolved_wt: Mapping[str, Array] | None,
    section: BladeSection,
    assumed: Collection[str] = (),
) -> LayerAsk:
    """What a layer asks, as `layer_asks` has it."""
    (found,) = layer_asks([LayerInput(layer, dissolved_wt, assumed)], section)
    return found


def layer_asks(inputs: Sequence[LayerInput], section: BladeSection) -> tuple[LayerAsk, ...]:
    """What each layer asks of a bath."""
    dissolved = [
        Dissolved(
            quenched_wt(given.dissolved_wt, given.layer.wt),
            given.layer.errors.rate_factor,
            given.assumed,
            given.dissolved_wt is None,
            given.moved_wt,
        )
        for given in inputs
    ]
    rates = rates_of(dissolved, section.cycled)
    return tuple(
        _ask(given.layer, steel.wt["C"], own)
        for given, steel, own in zip(inputs, dissolved, rates, strict=True)
    )


def _ask(layer: LayerSamples, carbon_wt: Array, rates: CriticalRates) -> LayerAsk:
    lost = decades_lost(layer.weight)
    grade = layer.grade
    row = grade.working_from(layer.start) if grade is not None else None
    return LayerAsk(
        layer.name,
        rates,
        carbon_wt,
        crack_index(rates.value, carbon_wt),
        crack_index(rates.value * 10.0**lost, carbon_wt),
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
    asked: Asked, bath: Bath, section: BladeSection | Sections, film: float | Array = 1.0
) -> LayerGrade:
    """How a bath does by what is asked; `film` more or less of it.

    What is a sample of one is judged in every sample of `section`. Of several layers each array is (layers,
    samples), of several baths (baths, samples) or (baths, layers, samples).
    """
    factor = asked.film_factor * film
    rates_k_s = np.stack([asked.rate_k_s, asked.likely_k_s], axis=-1)
    depths_mm = bath.depths_mm(rates_k_s, factor[..., None])
    through_mm = depths_mm[..., 0]
    likely_mm = np.maximum(depths_mm[..., 1], through_mm)
    grade = (likely_mm >= section.thinnest_mm).astype(np.int_) + (through_mm >= section.thickness_mm)
    thickness_mm = np.array(section.thickness_mm, ndmin=asked.rate_k_s.ndim)
    margin = bath.rates_k_s(thickness_mm, factor) / asked.rate_k_s
    return LayerGrade(grade, through_mm, likely_mm, margin)


def trusted(asked: Asked, names: tuple[str, ...], section: BladeSection | Sections) -> Mask:
    """Where practice trusts each bath to harden through, (baths, samples) or (baths, layers, samples).

    A plain steel has the fastest oil unless a slower bath hardens it even with a film at the low end of
    the table; slow oil is for deep-hardening steels; air must be the surer the less it leaves in hand. (p)
    """
    limits = decision_numbers("quench")
    low = (1.0 - spread("film")["table_frac"]) ** asked.plainness
    film = np.stack([np.ones_like(low) if name == "fast oil" else low for name in names])
    found = graded(asked, class_baths(names), section, film)
    good: Mask = found.grade == GOOD
    for place, name in enumerate(names):
        if name == "slow oil":
            good[place] &= asked.rate_k_s <= limits["slow_oil_trusted_k_s"]
        if name == "air":
            good[place] &= found.margin[place] >= limits["air_margin"]
    return good
