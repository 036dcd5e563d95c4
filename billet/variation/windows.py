"""The hardening window of one steel in every bar, by the rules of `windows`.

Which rule a steel falls under (plain, alloyed carbide, high alloy) is that of its own usual analysis. The
published range is taken to hold for the steel as supplied, whatever its heat.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.formulas.martensite import ms_van_bohemen_c
from billet.hardening.austenitising_window import PublishedRange, no_window_because, supplied_range
from billet.hardening.layer import LayerSteel, forms_alloy_carbide, is_austenitic, is_high_alloy
from billet.hardening.plain_carbon_line import SWITCH_TO_ACM_WT
from billet.tables.practice import decision_numbers, plain_line, plain_reference
from billet.variation.carbon import BarCarbon
from billet.variation.draws import Array, SteelDraws
from billet.variation.surfaces import Surface, carbon_nodes, line_surfaces, state_surfaces

Mask = npt.NDArray[np.bool_]
TEMPERATURE_STEP_K = 7.0
SOFT, PARTLY, HARDENS = 0, 1, 2


@dataclass(frozen=True)
class LayerBars:
    """One steel of the blade in every bar: (bars,) each.

    `supplied_off` and `off`: how far each metal is off that of the plan, as supplied and as blurred.
    """

    layer: LayerSteel
    carbon: BarCarbon
    supplied_carbon_wt: Array
    supplied_off: dict[str, Array]
    off: dict[str, Array]
    drawn: SteelDraws


@dataclass(frozen=True)
class Span:
    """Both ends of a window in every bar, C: (bars,) each."""

    low: Array
    high: Array


@dataclass(frozen=True)
class WindowsOfBars:
    """Preferred and possible window, where carbon is too uneven for one, and where there is one at all."""

    preferred: Span
    possible: Span
    uneven: Mask
    known: Mask


def roles(bars: LayerBars) -> npt.NDArray[np.int_]:
    """SOFT, PARTLY or HARDENS by the carbon of every bar, as `judge_role` has it: (bars,)."""
    limits = decision_numbers("role")
    alloy, carbon = bars.layer.composition, bars.carbon
    if is_austenitic(alloy):
        return np.full(len(carbon.mean), SOFT)
    if not is_high_alloy(alloy) and ms_van_bohemen_c(alloy) < limits["least_ms_c"]:
        return np.full(len(carbon.mean), SOFT)
    soft = carbon.p10 < limits["soft_below_c_wt"]
    if alloy["Cr"] >= limits["ferritic_cr_wt"]:
        soft |= carbon.mean < limits["ferritic_c_wt"]
    return np.where(soft, SOFT, np.where(carbon.p10 < limits["partly_below_c_wt"], PARTLY, HARDENS))


def windows_of_bars(bars: LayerBars) -> WindowsOfBars | None:
    """Window of the steel in every bar; None where no range can be given."""
    supplied = supplied_range(bars.layer)
    if no_window_because(bars.layer, supplied) is not None:
        return None
    rules = _Rules(bars, supplied)
    preferred, uneven = _both_ends(bars.carbon, rules.preferred)
    possible, _ = _both_ends(bars.carbon, lambda c: rules.possible(c, preferred))
    return WindowsOfBars(preferred, possible, uneven, _inside_grade(bars))


def _inside_grade(bars: LayerBars) -> Mask:
    """False where a high-alloy steel has left its grade by carbon, so that its range no longer holds."""
    layer, carbon = bars.layer, bars.carbon.mean
    limits = decision_numbers("window")
    if (
        layer.grade is None
        or layer.harden_c is not None
        or layer.composition["Cr"] <= limits["no_window_cr_wt"]
    ):
        return np.ones(len(carbon), dtype=bool)
    off_wt = limits["high_alloy_carbon_off_wt"]
    low, high = layer.grade.carbon_wt
    inside: Mask = (low - off_wt <= carbon) & (carbon <= high + off_wt)
    return inside


def _both_ends(carbon: BarCarbon, window_at: Callable[[Array], Span]) -> tuple[Span, Mask]:
    first, second = window_at(carbon.p10), window_at(carbon.p90)
    low, high = np.maximum(first.low, second.low), np.minimum(first.high, second.high)
    uneven = ~(low < high)
    if np.any(uneven):
        mean = window_at(carbon.mean)
        low, high = np.where(uneven, mean.low, low), np.where(uneven, mean.high, high)
    return Span(low, high), uneven


class _Rules:
    """The rules of one steel with the equilibrium it needs, solved once."""

    def __init__(self, bars: LayerBars, supplied: PublishedRange | None) -> None:
        self.bars, self.supplied, self.layer = bars, supplied, bars.layer
        self.limits = decision_numbers("window")
        self.high_alloy = is_high_alloy(bars.layer.composition)
        carbon = bars.carbon
        self.nodes = carbon_nodes(carbon.mean, carbon.p10, carbon.p90)
        if not self.high_alloy:
            self.lines = line_surfaces(bars.layer.composition, bars.off, self.nodes)
        self.carbide: _CarbideTops | None = None
        if supplied is not None and not self.high_alloy and forms_alloy_carbide(bars.layer.supplied):
            least_c = supplied.range_c[0] + self.limits["carbide_least_width_k"]
            self.carbide = _CarbideTops(bars, supplied, self.nodes, least_c)

    def line(self, name: str, carbon_wt: Array) -> Array:
        """Ae1, Ae3 or Acm with its error; nan where there is none."""
        errors = {
            "ae1_c": self.bars.drawn.ae1_k,
            "ae3_c": self.bars.drawn.ae3_k,
            "acm_c": self.bars.drawn.acm_k,
        }
        return self.lines[name].at(carbon_wt, self.bars.off) + errors[name]

    def preferred(self, carbon_wt: Array) -> Span:
        if self.supplied is None:
            return self._above_ae3(carbon_wt, self._without_publication(carbon_wt))
        low_c, high_c = (np.full(len(carbon_wt), end) for end in self.supplied.range_c)
        if self.high_alloy:
            return Span(low_c, high_c)
        (low0, high0), (low1, high1) = _plain(self.bars.supplied_carbon_wt), _plain(carbon_wt)
        if self.carbide is None:
            return self._above_ae3(carbon_wt, Span(low_c + low1 - low0, high_c + high1 - high0))
        stay = self.limits["carbide_low_moves_k"]
        low = low_c + np.clip(low1 - low0, -stay, stay)
        top = self.carbide.tops(carbon_wt, low + self.limits["carbide_least_width_k"])
        return self._above_ae3(carbon_wt, Span(low, np.minimum(high_c + high1 - high0, top)))

    def possible(self, carbon_wt: Array, preferred: Span) -> Span:
        alloy, limits = self.layer.composition, self.limits
        heavy = alloy["W"] + alloy["Mo"] + alloy["V"]
        hull_alone = alloy["Cr"] > limits["hull_only_cr_wt"] or heavy > limits["hull_only_w_mo_v_wt"]
        if self.layer.harden_c is not None:
            return preferred
        if self.supplied is None:
            if hull_alone:
                return preferred
            high = preferred.high
        else:
            high = np.maximum(self.supplied.published_envelope_c[1], preferred.high)
        if self.supplied is not None and hull_alone:
            return Span(np.minimum(self.supplied.published_envelope_c[0], preferred.low), high)
        poor = carbon_wt < limits["possible_ae3_below_c_wt"]
        line = np.where(
            poor,
            self.line("ae3_c", carbon_wt) + limits["possible_above_ae3_k"],
            self.line("ae1_c", carbon_wt) + limits["possible_above_ae1_k"],
        )
        return Span(np.where(line < preferred.low, line, preferred.low), high)

    def _without_publication(self, carbon_wt: Array) -> Span:
        low, high = _plain(carbon_wt)
        steel = plain_reference(float(np.mean(carbon_wt)))
        plain = line_surfaces(steel, {}, self.nodes)
        rich = carbon_wt >= SWITCH_TO_ACM_WT
        shift = np.where(rich, self._acm_apart(plain, carbon_wt), self._apart(plain, "ae3_c", carbon_wt))
        shift = np.nan_to_num(shift, nan=0.0)
        band = self.bars.drawn.band_k
        return Span(low + shift + band, high + np.maximum(shift, 0.0) + band)

    def _apart(self, plain: dict[str, Surface], name: str, carbon_wt: Array) -> Array:
        here = self.lines[name].at(carbon_wt, self.bars.off)
        return here - plain[name].at(carbon_wt, {})

    def _acm_apart(self, plain: dict[str, Surface], carbon_wt: Array) -> Array:
        """By Acm, or by Ae1 where there is no Acm."""

        def rich_line(surfaces: dict[str, Surface], off: dict[str, Array]) -> Array:
            acm = surfaces["acm_c"].at(carbon_wt, off)
            return np.where(np.isnan(acm), surfaces["ae1_c"].at(carbon_wt, off), acm)

        return rich_line(self.lines, self.bars.off) - rich_line(plain, {})

    def _above_ae3(self, carbon_wt: Array, span: Span) -> Span:
        least = self.line("ae3_c", carbon_wt) + self.limits["least_above_ae3_k"]
        under = span.low < least
        return Span(
            np.where(under, least, span.low),
            np.where(under & (span.high <= least), least + 1.0, span.high),
        )


def _plain(carbon_wt: Array) -> tuple[Array, Array]:
    carbon, low, high = (np.array(column) for column in zip(*plain_line(), strict=True))
    return np.interp(carbon_wt, carbon, low), np.interp(carbon_wt, carbon, high)


class _CarbideTops:
    """Where a steel with alloyed carbide has 1 % of it left, and where too much carbon is dissolved.

    The error of Acm counts for the first. It leaves the second alone, where the steel is held against
    itself at its published top and the error is the same on both sides.
    """

    def __init__(self, bars: LayerBars, supplied: PublishedRange, nodes: Array, least_c: float) -> None:
        limits = decision_numbers("window")
        self.bars = bars
        self.left_frac = limits["carbide_left_frac"]
        top_c = np.array([supplied.range_c[1]])
        at_top = state_surfaces(
            bars.layer.supplied, bars.supplied_off, carbon_nodes(bars.supplied_carbon_wt), top_c
        )
        self.held = at_top["carbide"].at(bars.supplied_carbon_wt, bars.supplied_off)[:, 0] >= self.left_frac
        dissolved = at_top["C_in_austenite"].at(bars.supplied_carbon_wt, bars.supplied_off)[:, 0]
        self.dissolved_wt = np.nan_to_num(dissolved, nan=0.0)
        error = decision_numbers("state")["acm_error_k"] if np.any(bars.drawn.acm_k) else 0.0
        low_c = least_c - limits["carbide_low_moves_k"] - error
        start = bars.supplied_carbon_wt
        rise = _plain(np.minimum(bars.carbon.p10, bars.carbon.p90))[1] - _plain(start)[1]
        high_c = (
            max(supplied.range_c[1] + float(np.max(rise)), least_c) + limits["carbide_low_moves_k"] + error
        )
        count = int(np.ceil((high_c - low_c) / TEMPERATURE_STEP_K)) + 1
        self.temperatures_c = np.linspace(low_c, high_c, count)
        self.states = state_surfaces(bars.layer.composition, bars.off, nodes, self.temperatures_c)

    def tops(self, carbon_wt: Array, least_c: Array) -> Array:
        """The lower of the two, never under `least_c`; no bound where the published top left no carbide."""
        carbide = self.states["carbide"].at(carbon_wt, self.bars.off)
        dissolved = np.nan_to_num(self.states["C_in_austenite"].at(carbon_wt, self.bars.off), nan=0.0)
        gone_c = self._crossing(self.left_frac - carbide) + self.bars.drawn.acm_k
        too_much_c = self._crossing(dissolved - self.dissolved_wt[:, None])
        return np.where(self.held, np.maximum(np.minimum(gone_c, too_much_c), least_c), np.inf)

    def _crossing(self, over: Array) -> Array:
        """Lowest temperature where a rising value passes 0; the first of the scale, or endless. (bars,)"""
        rows = np.arange(len(over))
        passed = over > 0.0
        first = np.argmax(passed, axis=1)
        before = np.maximum(first - 1, 0)
        a, b = over[rows, before], over[rows, first]
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.where(first > 0, -a / (b - a), 1.0)
        c = self.temperatures_c[before] + share * (self.temperatures_c[first] - self.temperatures_c[before])
        return np.where(passed.any(axis=1), c, np.inf)
