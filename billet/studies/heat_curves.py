"""A hardening layer over the hardening heat, and at the two ends of the window."""

import math
from collections.abc import Sequence
from dataclasses import astuple
from typing import Literal

from billet.composition import Composition
from billet.contract.report import Estimate
from billet.contract.study import (
    HeatCurve,
    HeatPoint,
    PublishedHardness,
    WindowEnd,
    WindowReason,
)
from billet.contract.values import Fact, Reason
from billet.formulas.equilibrium import critical_lines
from billet.hardening.austenite_state import SteelState, of_composition, states_of
from billet.hardening.decision import HardeningDecision
from billet.hardening.layer import LayerSteel, is_high_alloy, low_alloy_limits
from billet.hardening.published_hardness import drift_findings
from billet.hardening.samples import LayerSamples
from billet.recipe.melting import melts_from_c
from billet.report.words import said
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start

WhichEnd = Literal["low", "high"]
Of = Literal["bar", "own"]


def heat_curves(judged: HardeningDecision) -> tuple[HeatCurve, ...]:
    """One curve for each layer that hardens, with the carbon that hardens in it."""
    return tuple(
        _curve(layer, own)
        for layer, own in zip(judged.layers, judged.joint.layers, strict=True)
        if layer.role != "soft"
    )


def _curve(layer: LayerSteel, own: LayerSamples) -> HeatCurve:
    carbon_wt = layer.composition["C"]
    if is_high_alloy(layer.composition):
        printed = printed_hardness(layer)
        drifted = tuple(said(finding.reason) for finding in drift_findings((layer,)))
        facts = {**low_alloy_limits(), "printed": bool(printed), "drifted": drifted}
        return HeatCurve(layer.name, carbon_wt, (), printed, said(Reason("curve-high-alloy", facts)))
    return _computed(layer.name, own)


def _not_computed() -> str:
    return said(Reason("study-no-hardness", low_alloy_limits()))


def heat_curve(name: str, composition: Composition, start: Start = "normalised") -> HeatCurve:
    """States of a low-alloy steel every 10 K from just over Ae1 up to 930 C.

    Without points, and with the reason, for a steel whose state is not computed (over 5 % chromium,
    2 % W + Mo + V, austenitic, or molten under 930 C). Raises OutOfDomain for an analysis that cannot be.
    """
    if is_high_alloy(composition):
        return HeatCurve(name, composition["C"], (), (), _not_computed())
    melts_c = melts_from_c(composition)
    if melts_c <= decision_numbers("study")["curve_to_c"]:
        return HeatCurve(name, composition["C"], (), (), said(Reason("state-melts", {"melts_c": melts_c})))
    return _computed(name, of_composition(composition, start))


def _computed(name: str, own: LayerSamples) -> HeatCurve:
    points = _points(own)
    why = None if points else said(Reason("study-no-austenite"))
    return HeatCurve(name, own.analysis()["C"], points, (), why)


def _points(own: LayerSamples) -> tuple[HeatPoint, ...]:
    limits = decision_numbers("study")
    ae1_c = critical_lines(own.analysis()).ae1_c
    if ae1_c is None:
        return ()
    step_k = limits["curve_step_k"]
    first = math.ceil((ae1_c + limits["curve_above_ae1_k"]) / step_k)
    last = math.floor(limits["curve_to_c"] / step_k)
    return heat_points(own, [index * step_k for index in range(first, last + 1)])


def heat_points(own: LayerSamples, temperatures_c: Sequence[float]) -> tuple[HeatPoint, ...]:
    """One layer after the soak at each temperature; those at which nothing is computed are left out."""
    states = states_of([(own, c) for c in temperatures_c])
    return tuple(point for state in states if (point := _point(state)) is not None)


def _point(state: SteelState) -> HeatPoint | None:
    soaked = state.after_soak
    if soaked is None or state.hrc is None or state.retained_austenite is None:
        return None
    return HeatPoint(
        state.temperature_c, state.hrc, state.retained_austenite, soaked.austenite_carbon_wt, soaked.carbide
    )  # fmt: skip


def printed_hardness(layer: LayerSteel) -> tuple[PublishedHardness, ...]:
    """Every printed hardness of the grade, outliers left out."""
    if layer.grade is None:
        return ()
    return tuple(
        PublishedHardness(row.window_c, row.medium, hrc, temper_c, row.source, row.seen)
        for row in layer.grade.hardening
        if not row.outlier
        for hrc, temper_c in row.hardness
    )


def window_ends(judged: HardeningDecision) -> tuple[WindowEnd, ...]:
    """Low and high end of the bar's window for each hardening layer, in words.

    Where the bar has no window, each layer is told at the ends of its own.
    """
    found = []
    for layer, own, samples in zip(judged.layers, judged.windows, judged.joint.layers, strict=True):
        window = judged.window or own.preferred
        if layer.role == "soft" or window is None:
            continue
        of: Of = "bar" if judged.window is not None else "own"
        low, high = states_of([(samples, window.low.c), (samples, window.high.c)])
        found += [_end(layer, "low", low, of), _end(layer, "high", high, of)]
    return tuple(found)


def _end(layer: LayerSteel, end: WhichEnd, state: SteelState, of: Of) -> WindowEnd:
    soaked, c = state.after_soak, state.temperature_c
    return WindowEnd(
        layer.name, end, of, c,
        soaked.austenite_carbon_wt if soaked is not None else None,
        soaked.carbide if soaked is not None else None,
        state.retained_austenite, state.hrc, _end_words(layer.name, c, state),
    )  # fmt: skip


def window_reasons(judged: HardeningDecision) -> tuple[WindowReason, ...]:
    """Which steel sets each end of the bar's window, and why there; empty without a window."""
    window = judged.window
    if window is None:
        return ()
    return (
        WindowReason("low", window.low.c, judged.low_set_by, said(window.low.because)),
        WindowReason("high", window.high.c, judged.high_set_by, said(window.high.because)),
    )


def ends_told(ends: tuple[WindowEnd, ...]) -> tuple[str, ...]:
    """One sentence for each steel; the ends come in pairs, low and high, as `window_ends` gives them."""
    return tuple(_told(low, high) for low, high in zip(ends[::2], ends[1::2], strict=True))


def _told(low: WindowEnd, high: WindowEnd) -> str:
    if low.hrc is None or high.hrc is None:
        return low.words if low.hrc is None else high.words
    facts: dict[str, Fact] = {
        "steel": low.steel, "low_c": low.temperature_c, "high_c": high.temperature_c,
        "low_hrc": (low.hrc.low, low.hrc.high), "high_hrc": (high.hrc.low, high.hrc.high),
        "carbon_wt": _both(low.austenite_carbon_wt, high.austenite_carbon_wt),
        "carbide": _both(low.carbide, high.carbide),
        "retained": _both(low.retained_austenite, high.retained_austenite), "low_told": low.words,
    }  # fmt: skip
    return said(Reason("curve-end-to-end", facts))


def _both(low: Estimate | None, high: Estimate | None) -> tuple[float, float] | None:
    return None if low is None or high is None else (low.value, high.value)


def _end_words(name: str, c: float, state: SteelState) -> str:
    soaked, retained, hrc = state.after_soak, state.retained_austenite, state.hrc
    if soaked is None or retained is None or hrc is None:
        why = tuple(said(notice) for notice in state.notices)
        return said(Reason("curve-end-unknown", {"steel": name, "c": c, "why": why}))
    facts: dict[str, Fact] = {
        "steel": name, "c": c, "carbon_wt": astuple(soaked.austenite_carbon_wt),
        "carbide": astuple(soaked.carbide), "retained": astuple(retained), "hrc": astuple(hrc),
        "ferrite": None if state.equilibrium is None else state.equilibrium.ferrite,
    }  # fmt: skip
    return said(Reason("curve-end", facts))
