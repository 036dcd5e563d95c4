"""Window, set point and verdict of every sample of a blade: the one set of rules.

A plan is a sample of one, a count of bars a sample of a thousand.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from billet.contract.values import NoneBecause, Verdict
from billet.formulas.martensite import ms_van_bohemen_of, retained_austenite_of
from billet.hardening.bands import analyses_moved
from billet.hardening.critical_lines import Lines, lines_of, ramp
from billet.hardening.good_range import GoodRange, given_range, good_range
from billet.hardening.hardenable_share import (
    hardening_carbon_wt,
    stays_austenite,
    weights,
    zone_share,
)
from billet.hardening.loss import WorstLoss, worst_loss
from billet.hardening.possible_range import HardeningRange, hardening_range
from billet.hardening.samples import Array, FormulaErrors, LayerSamples, Mask
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
    """Decide for layers of the same samples, held by a fire of this half-width; `with_moved` solves the
    lines of moved analyses along."""
    placed, shares = _weighed(layers)
    moved = [analyses_moved(layer) for layer in placed] if with_moved else []
    exact = [(wt, FormulaErrors.none(len(wt["C"]))) for wt in moved]
    solved = lines_of([*((layer.wt, layer.errors) for layer in placed), *exact])
    lines = solved[: len(placed)]
    ranges = tuple(_range(layer, own) for layer, own in zip(placed, lines, strict=True))
    known = decision_numbers("role")["known_fades"]
    counted = [layer.weight * ramp(r.known, *known) for layer, r in zip(placed, ranges, strict=True)]
    worst = worst_loss(ranges, counted)
    window = shared_window(worst, ranges, counted)
    point = set_point(worst, half_width_k)
    soft = np.max(np.stack([layer.weight for layer in placed]), axis=0) < _soft_below()
    count = decision_numbers("role")["unknown_counts_from"]
    unknown = np.stack(
        [layer.weight * (1.0 - r.known) > count for layer, r in zip(placed, ranges, strict=True)]
    )
    heat = point.c
    if window.none.any():
        own = [set_point(worst.alone(i), half_width_k) for i in range(len(placed))]
        heat = np.where(window.none, fallback_temperature(worst, half_width_k, own, shares), heat)
    heat = np.where(soft | unknown.any(axis=0), np.nan, heat)
    far = solved[len(placed) :]
    return JointDecision(
        placed, lines, ranges, np.stack(shares), worst, window, point, soft, unknown, heat, far
    )  # fmt: skip


def _soft_below() -> float:
    return float(decision_numbers("role")["soft_below"])


def _weighed(layers: Sequence[LayerSamples]) -> tuple[tuple[LayerSamples, ...], list[Array]]:
    """The layers with the carbon that hardens and their weights, and their shares of the edge zone."""
    placed, edge, blade = [], [], []
    for layer in layers:
        carbon = hardening_carbon_wt(layer.edge, layer.blade)
        metal = (100.0 - carbon) / (100.0 - layer.wt["C"])
        wt = {e: carbon if e == "C" else v * metal for e, v in layer.wt.items()}
        now = replace(layer, wt=wt)
        lets = _lets_harden(now)
        placed.append(now)
        edge.append(zone_share(layer.edge, lets))
        blade.append(zone_share(layer.blade, lets))
    cladding = [layer.cladding for layer in layers]
    counted = weights(edge, blade, cladding)
    near = weights(edge, [0.0 * share for share in blade], cladding)
    weighed = zip(placed, counted, near, strict=True)
    return tuple(replace(p, weight=w, edge_weight=e) for p, w, e in weighed), edge


def _lets_harden(layer: LayerSamples) -> Array:
    """What the alloy of a layer lets harden, 0 to 1: nought of what stays austenite when quenched."""
    numbers = decision_numbers("role")
    dissolved = {**layer.wt, "C": np.minimum(layer.wt["C"], numbers["most_dissolved_wt"])}
    zero = np.zeros(layer.samples)
    kept = retained_austenite_of(dissolved, ms_van_bohemen_of(dissolved))
    lean = 1.0 - ramp(layer.wt.get("Cr", zero), *decision_numbers("high_alloy")["cr_wt"])
    found: Array = (1.0 - stays_austenite(layer.wt)) * (
        1.0 - lean * ramp(kept, *numbers["retained_austenite_frac"])
    )
    return found


def _range(layer: LayerSamples, lines: Lines) -> HardeningRange:
    if layer.harden_c is not None:
        good: GoodRange = given_range(layer.harden_c, layer.supplied_wt["C"], layer.wt["C"])
    else:
        good = good_range(layer.wt, lines, layer.start, layer.errors)
    return hardening_range(layer.wt, good, lines)
