"""Window, set point and verdict of every sample of a blade: the one set of rules.

A plan is a sample of one, a count of bars a sample of a thousand.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.values import NoneBecause, Verdict
from billet.formulas.martensite import ms_van_bohemen_of, retained_austenite_of
from billet.hardening.bands import analyses_moved
from billet.hardening.critical_lines import Lines, lines_of, lines_together, ramp
from billet.hardening.good_range import given_range, good_range
from billet.hardening.hardenable_share import (
    hardening_carbon_wt,
    stays_austenite,
    weights,
    zone_share,
)
from billet.hardening.loss import WorstLoss, worst_loss
from billet.hardening.possible_range import HardeningRange, hardening_range
from billet.hardening.samples import Array, FormulaErrors, LayerSamples, Mask, one_start, side_by_side
from billet.hardening.set_point import SetPoint, fallback_temperature, set_point
from billet.hardening.shared_window import SharedWindow, shared_window
from billet.tables.practice import decision_numbers


@dataclass(frozen=True)
class JointDecision:
    """What is decided in every sample. `layers` carry their weights and the carbon that hardens.

    `edge_share` (steels, samples) is the share of the edge zone that each steel hardens in; `unknown`
    (steels, samples) tells steels that count and have no range; `heat_c` (samples,) is the set point, or
    the least bad temperature where there is none, nan where nothing hardens or a range is unknown.
    """

    layers: tuple[LayerSamples, ...]
    lines: tuple[Lines, ...]
    ranges: tuple[HardeningRange, ...]
    edge_share: Array
    worst: WorstLoss
    window: SharedWindow
    point: SetPoint
    soft: Mask
    unknown: np.ndarray[tuple[int, int], np.dtype[np.bool_]]
    heat_c: Array
    moved: tuple[Lines, ...] = ()

    def verdict(self, sample: int = 0) -> Verdict:
        """Shared, narrow or none."""
        if self.none_because(sample) is not None:
            return "none"
        return "shared" if self.window.shared[sample] else "narrow"

    def none_because(self, sample: int = 0) -> NoneBecause | None:
        """Why there is no window: nothing hardens, a range is not known, or the ranges miss each other."""
        if self.soft[sample]:
            return "soft"
        if self.unknown[:, sample].any():
            return "unknown"
        return "gap" if self.window.none[sample] else None

    @property
    def has_window(self) -> Mask:
        """Samples with one window for all that hardens."""
        found: Mask = ~(self.soft | self.unknown.any(axis=0) | self.window.none)
        return found


def decide_jointly(
    layers: Sequence[LayerSamples], half_width_k: float | Array, *, with_moved: bool = False
) -> JointDecision:
    """Decide for layers of the same samples and of one start, held by a fire of this half-width; `with_moved`
    solves the lines of moved analyses along."""
    placed, wt, shares = _weighed(layers)
    errors, count = FormulaErrors.side_by_side([layer.errors for layer in placed]), len(placed)
    moved = [analyses_moved(layer) for layer in placed] if with_moved else []
    lines = _lines(wt, errors, moved)
    ranges = _ranges(placed, wt, errors, lines[0])
    weight = np.stack([layer.weight for layer in placed])
    counted = weight * ramp(ranges.known, *decision_numbers("role")["known_fades"])
    worst = worst_loss(ranges, counted)
    window = shared_window(worst, ranges, counted)
    point = set_point(worst, half_width_k)
    soft = weight.max(axis=0) < _soft_below()
    unknown = weight * (1.0 - ranges.known) > decision_numbers("role")["unknown_counts_from"]
    heat = point.c
    if window.none.any():
        own = [set_point(worst.alone(i), half_width_k) for i in range(count)]
        heat = np.where(window.none, fallback_temperature(worst, half_width_k, own, shares), heat)
    heat = np.where(soft | unknown.any(axis=0), np.nan, heat)
    by_steel = lines[0].split([placed[0].samples] * count)
    return JointDecision(
        placed, by_steel, ranges.each(), shares, worst, window, point, soft, unknown, heat, lines[1:]
    )  # fmt: skip


def _lines(
    wt: Mapping[str, Array], errors: FormulaErrors, moved: Sequence[Mapping[str, Array]]
) -> tuple[Lines, ...]:
    """Lines of all layers as one, then of every layer with its analysis moved; in one solution."""
    if not moved:
        return (lines_together(wt, errors),)
    exact = [(one, FormulaErrors.none(len(one["C"]))) for one in moved]
    return lines_of([(wt, errors), *exact])


def _soft_below() -> float:
    return float(decision_numbers("role")["soft_below"])


def _weighed(
    layers: Sequence[LayerSamples],
) -> tuple[tuple[LayerSamples, ...], dict[str, Array], Array]:
    """The layers with the carbon that hardens and their weights, their analyses one after another, and
    their shares of the edge zone, (steels, samples)."""
    analyses = []
    for layer in layers:
        carbon = hardening_carbon_wt(layer.edge, layer.blade)
        metal = (100.0 - carbon) / (100.0 - layer.wt["C"])
        analyses.append({e: carbon if e == "C" else v * metal for e, v in layer.wt.items()})
    whole = side_by_side(analyses)
    lets = _lets_harden(whole).reshape(len(layers), -1)
    edge = np.stack([zone_share(layer.edge, let) for layer, let in zip(layers, lets, strict=True)])
    blade = np.stack([zone_share(layer.blade, let) for layer, let in zip(layers, lets, strict=True)])
    cladding = [layer.cladding for layer in layers]
    counted, near = weights(edge, blade, cladding), weights(edge, 0.0 * blade, cladding)
    each = zip(layers, analyses, counted, near, strict=True)
    placed = tuple(replace(layer, wt=wt, weight=w, edge_weight=e) for layer, wt, w, e in each)
    return placed, whole, edge


def _lets_harden(wt: Mapping[str, Array]) -> Array:
    """What an alloy lets harden, 0 to 1: nought of what stays austenite when quenched. (samples,)"""
    numbers = decision_numbers("role")
    dissolved = {**wt, "C": np.minimum(wt["C"], numbers["most_dissolved_wt"])}
    zero = np.zeros(len(wt["C"]))
    kept = retained_austenite_of(dissolved, ms_van_bohemen_of(dissolved))
    lean = 1.0 - ramp(wt.get("Cr", zero), *decision_numbers("high_alloy")["cr_wt"])
    found: Array = (1.0 - stays_austenite(wt)) * (
        1.0 - lean * ramp(kept, *numbers["retained_austenite_frac"])
    )
    return found


def _ranges(
    layers: Sequence[LayerSamples], wt: Mapping[str, Array], errors: FormulaErrors, lines: Lines
) -> HardeningRange:
    """Good and possible ranges, (steels, samples), of layers whose analyses, errors and lines stand one
    after another; the recipe's own range in place of the one by analysis."""
    good = good_range(wt, lines, one_start(layers), errors)
    for place, layer in enumerate(layers):
        if layer.harden_c is not None:
            own = given_range(layer.harden_c, layer.supplied_wt["C"], layer.wt["C"])
            good = good.with_own(place * layer.samples, own)
    return hardening_range(wt, good, lines).of_steels(len(layers))
