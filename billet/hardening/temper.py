"""The temper of a blade: its table, the layer that governs it, what a wanted hardness asks for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from billet.contract.values import Fact, Reason
from billet.hardening.bands import off_band
from billet.hardening.temper_range import BarLimits, bar_limits, why_not
from billet.hardening.temper_types import (
    Quenched,
    TemperDecision,
    TemperedLayer,
    TemperedSteel,
    TemperedStep,
    WantedTemper,
)
from billet.hardening.tempered_hardness import (
    band_hrc,
    content,
    is_told,
    near_curves_of,
    tempered_hrc,
    usual_quenched_hrc,
)
from billet.tables.practice import decision_numbers
from billet.tables.tempering import TemperCurve, temper_numbers

Array = npt.NDArray[np.float64]

FADE_HRC = 20.0
HALVINGS = 14


@dataclass(frozen=True)
class _Told:
    """The layers with a figure, each with what it came from the quench with, half the width of the model's
    band there, the printed curves that count, and the samples that the bands of the quench were drawn from,
    where there are any."""

    layers: tuple[TemperedLayer, ...]
    quenched_hrc: Mapping[str, Array]
    band_hrc: tuple[float, ...]
    curves: Mapping[str, tuple[TemperCurve, ...]]
    varied: Mapping[str, Quenched]


def temper_decision(
    layers: Sequence[TemperedLayer],
    quenched_hrc: Mapping[str, Array],
    temper_to_hrc: float | None = None,
    cycles: int | None = None,
    minutes: float | None = None,
    varied: Mapping[str, Quenched] | None = None,
) -> TemperDecision:
    """Table, governing steel and wanted temper of a plan, told for its first sample.

    `quenched_hrc` by steel (samples,); a steel that is not in it came out as usual for its analysis.
    `minutes` of one cycle. Layers of no weight (declared cladding, what stays soft) are not tempered.
    """
    rules = temper_numbers("advised")
    cycles, minutes = cycles or int(rules["cycles"]), minutes or float(rules["minutes"])
    hardening = tuple(layer for layer in layers if layer.weight[0] > 0.0)
    wt = _stacked([_first(layer.wt) for layer in hardening])
    told = _told(hardening, wt, quenched_hrc, varied or {})
    not_told = tuple(layer for layer in hardening if layer.name not in told.quenched_hrc)
    limits = bar_limits(hardening, wt)
    table = _table(told, rules["shown_c"], cycles * minutes, limits)
    wanted = None if temper_to_hrc is None else _wanted(told, temper_to_hrc, cycles * minutes, limits)
    return TemperDecision(
        wanted,
        table,
        _governs(told, table),
        tuple(layer.name for layer in not_told),
        None if limits is None else (rules["low_c"], limits.top_c),
        None if limits is None else (limits.low_c, limits.high_c),
        cycles,
        minutes,
        _reasons(told.curves, not_told, cycles, minutes),
        told.curves,
    )


def edge_hrc(
    layers: Sequence[TemperedLayer],
    quenched_hrc: Mapping[str, Array],
    temperature_c: Array | float,
    minutes: float,
    off_bands: Mapping[str, Array] | None = None,
) -> Array:
    """Hardness of the softest layer of the edge after `minutes` at heat in all. [HRC] (samples,)

    `off_bands` by steel is how far the model is off in each sample, in half-widths of its band. A layer that
    counts little at the edge counts as harder by up to 20 HRC, so it fades out; one of no weight and one
    without a figure do not count. Infinite where none counts.
    """
    if not layers:
        return np.asarray(np.inf)
    wt, weight = _stacked([layer.wt for layer in layers]), np.stack([layer.weight for layer in layers])
    quenched = np.stack([_quenched(layer, quenched_hrc) for layer in layers])
    hrc = tempered_hrc(wt, quenched, temperature_c, minutes)
    if off_bands is not None:
        off = np.stack([off_bands[layer.name] for layer in layers])
        hrc = np.minimum(hrc + off * band_hrc(wt), quenched)
    hrc = hrc + FADE_HRC * (1.0 - np.stack([layer.at_edge for layer in layers]))
    return np.asarray(np.min(np.where((weight > 0.0) & is_told(wt), hrc, np.inf), axis=0))


def temperature_for_hrc(
    layers: Sequence[TemperedLayer], quenched_hrc: Mapping[str, Array], hrc: float, minutes: float
) -> Array:
    """Temperature at which the softest layer of the edge comes down to `hrc`. [C] (samples,)

    The same function turned round, from the lowest to the hottest temperature shown; nan out of reach.
    """
    rules = temper_numbers("advised")
    shape = layers[0].weight.shape if layers else ()
    low, high = np.full(shape, rules["low_c"]), np.full(shape, rules["shown_c"][-1])
    reached = (edge_hrc(layers, quenched_hrc, low, minutes), edge_hrc(layers, quenched_hrc, high, minutes))
    inside = (reached[0] >= hrc) & (reached[1] <= hrc)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        harder = edge_hrc(layers, quenched_hrc, middle, minutes) > hrc
        low, high = np.where(harder, middle, low), np.where(harder, high, middle)
    return np.asarray(np.where(inside, high, np.nan))


def _told(
    layers: tuple[TemperedLayer, ...],
    wt: Mapping[str, Array],
    quenched_hrc: Mapping[str, Array],
    varied: Mapping[str, Quenched],
) -> _Told:
    """Of hardening layers with their analyses, (layers,)."""
    if not layers:
        return _Told((), {}, (), {}, varied)
    there = is_told(wt).tolist()
    each = zip(layers, band_hrc(wt).tolist(), near_curves_of(wt), strict=True)
    kept = [one for one, told in zip(each, there, strict=True) if told]
    return _Told(
        tuple(layer for layer, _, _ in kept),
        {layer.name: _quenched(layer, quenched_hrc) for layer, _, _ in kept},
        tuple(band for _, band, _ in kept),
        {layer.name: curves for layer, _, curves in kept},
        varied,
    )


def _quenched(layer: TemperedLayer, quenched_hrc: Mapping[str, Array]) -> Array:
    return quenched_hrc[layer.name] if layer.name in quenched_hrc else usual_quenched_hrc(layer.wt)


def _table(
    told: _Told, temperatures_c: Sequence[float], minutes: float, limits: BarLimits | None
) -> tuple[TemperedStep, ...]:
    if not told.layers:
        return ()
    return tuple(
        TemperedStep(t, minutes, why_not(t, limits), per_steel)
        for t, per_steel in zip(temperatures_c, _per_steel(told, temperatures_c, minutes), strict=True)
    )


def _per_steel(
    told: _Told, temperatures_c: Sequence[float], minutes: float
) -> list[tuple[TemperedSteel, ...]]:
    """By temperature: every layer's hardness in the first sample, with the band that its samples span."""
    parts = [_samples(layer, told) for layer in told.layers]
    wt, quenched = _side_by_side([part for part, _ in parts]), np.concatenate([hrc for _, hrc in parts])
    at_c = np.asarray(temperatures_c, dtype=float)[:, None]
    whole = tempered_hrc(wt, quenched, at_c, minutes)
    ends = np.cumsum([len(hrc) for _, hrc in parts])[:-1]
    columns = []
    for layer, band, found in zip(told.layers, told.band_hrc, np.split(whole, ends, axis=1), strict=True):
        value = found[:, 0]
        down, up = (np.hypot(off, band) for off in off_band(found[:, 1:]))
        rows = zip((value - down).tolist(), value.tolist(), (value + up).tolist(), strict=True)
        columns.append([TemperedSteel(layer.name, *row) for row in rows])
    return list(zip(*columns, strict=True))


def _samples(layer: TemperedLayer, told: _Told) -> tuple[Mapping[str, Array], Array]:
    """The first sample of a layer, then those its bands are drawn from, the first again where there are none:
    analysis and hardness as quenched. [HRC]"""
    own_wt, own_hrc = {e: v[:1] for e, v in layer.wt.items()}, told.quenched_hrc[layer.name][:1]
    varied = told.varied.get(layer.name)
    moved_wt, moved_hrc = (own_wt, own_hrc) if varied is None else (varied.wt, varied.hrc)
    return _side_by_side([own_wt, moved_wt]), np.concatenate([own_hrc, moved_hrc])


def _side_by_side(parts: Sequence[Mapping[str, Array]]) -> dict[str, Array]:
    """Samples of several analyses one after another; what one of them does not name is nought in it."""
    return {e: np.concatenate([content(part, e) for part in parts]) for e in _elements(parts)}


def _stacked(parts: Sequence[Mapping[str, Any]]) -> dict[str, Array]:
    """Analyses of the same samples as one, (analyses, samples), or (analyses,) of numbers."""
    return {e: np.stack([content(part, e) for part in parts]) for e in _elements(parts)}


def _elements(parts: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(e for part in parts for e in part))


def _governs(told: _Told, table: Sequence[TemperedStep]) -> str | None:
    """The softest layer of the edge at 200 C, a layer that the edge holds little of counting as harder."""
    if not told.layers:
        return None
    at_c = temper_numbers("advised")["governing_c"]
    rows = next(step.per_steel for step in table if step.temperature_c == at_c)
    felt = [
        row.value + FADE_HRC * (1.0 - float(layer.at_edge[0]))
        for row, layer in zip(rows, told.layers, strict=True)
    ]
    return rows[int(np.argmin(felt))].steel


def _wanted(told: _Told, hrc: float, minutes: float, limits: BarLimits | None) -> WantedTemper:
    if not told.layers:
        return WantedTemper(hrc, None, minutes, Reason("temper-wanted-unknown", {"hrc": hrc}), ())
    rules = temper_numbers("advised")
    found = float(temperature_for_hrc(told.layers, told.quenched_hrc, hrc, minutes)[0])
    if np.isfinite(found):
        temperature = round(found)
        return WantedTemper(
            hrc,
            float(temperature),
            minutes,
            why_not(temperature, limits),
            _per_steel(told, [temperature], minutes)[0],
        )
    ends = (rules["low_c"], rules["shown_c"][-1])
    reached = [float(edge_hrc(told.layers, told.quenched_hrc, end, minutes)[0]) for end in ends]
    side = 0 if hrc > reached[0] else 1
    code = ("temper-wanted-too-hard", "temper-wanted-too-soft")[side]
    return WantedTemper(
        hrc, None, minutes, Reason(code, {"hrc": hrc, "at_c": ends[side], "reached_hrc": reached[side]}), ()
    )


def _reasons(
    curves: Mapping[str, tuple[TemperCurve, ...]],
    not_told: tuple[TemperedLayer, ...],
    cycles: int,
    minutes: float,
) -> tuple[Reason, ...]:
    if not curves and not not_told:
        return (Reason("temper-nothing"),)
    shop = decision_numbers("shop")
    begin = {"below_c": shop["temper_below_c"], "within_min": shop["temper_within_min"]}
    found = [Reason("temper-begin", {**begin, "cycles": cycles, "minutes": minutes})]
    for name, near in curves.items():
        names = tuple(dict.fromkeys(curve.name for curve in near))
        remembered = bool(near) and all(curve.seen == "memory" for curve in near)
        if near:
            by: dict[str, Fact] = {"steel": name, "curves": names, "remembered": remembered}
            found.append(Reason("temper-by-curves", by))
        else:
            found.append(Reason("temper-by-model", {"steel": name}))
    for layer in not_told:
        first = _first(layer.wt)
        heavy = sum(first.get(element, 0.0) for element in ("Mo", "W", "V"))
        rich: dict[str, Fact] = {"steel": layer.name, "cr_wt": first.get("Cr", 0.0), "mo_w_v_wt": heavy}
        found.append(Reason("temper-no-figure", rich))
    return tuple(found)


def _first(wt: Mapping[str, Array]) -> dict[str, float]:
    return {element: float(values[0]) for element, values in wt.items()}
