"""The temper of a blade: its table, the layer that governs it, what a wanted hardness asks for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.contract.values import Fact, Reason
from billet.hardening.bands import off_band
from billet.hardening.temper_range import temper_limits
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
    near_curves,
    tempered_hrc,
    usual_quenched_hrc,
)
from billet.tables.practice import decision_numbers
from billet.tables.tempering import TemperCurve, temper_numbers

Array = npt.NDArray[np.float64]

FADE_HRC = 20.0
FADE_K = 100.0
HALVINGS = 14
WITHIN_K = 0.5


@dataclass(frozen=True)
class _Told:
    """The layers with a figure, each with what it came from the quench with, and the samples that the bands
    of the quench were drawn from, where there are any."""

    layers: tuple[TemperedLayer, ...]
    quenched_hrc: Mapping[str, Array]
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
    told = _told(hardening, quenched_hrc, varied or {})
    not_told = tuple(layer for layer in hardening if layer.name not in told.quenched_hrc)
    limits = _limits(hardening)
    table = _table(told, rules["shown_c"], cycles * minutes, limits)
    wanted = None if temper_to_hrc is None else _wanted(told, temper_to_hrc, cycles * minutes, limits)
    curves = {layer.name: near_curves(_first(layer.wt)) for layer in told.layers}
    return TemperDecision(
        wanted,
        table,
        _governs(told, table),
        tuple(layer.name for layer in not_told),
        None if limits is None else (rules["low_c"], limits.top_c),
        None if limits is None else (limits.low_c, limits.high_c),
        cycles,
        minutes,
        _reasons(curves, not_told, cycles, minutes),
        curves,
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
    found = [np.full(layer.weight.shape, np.inf) for layer in layers]
    for place, layer in enumerate(layers):
        quenched = _quenched(layer, quenched_hrc)
        hrc = tempered_hrc(layer.wt, quenched, temperature_c, minutes)
        if off_bands is not None:
            hrc = np.minimum(hrc + off_bands[layer.name] * band_hrc(layer.wt), quenched)
        hrc = hrc + FADE_HRC * (1.0 - layer.at_edge)
        counts = (layer.weight > 0.0) & is_told(layer.wt)
        found[place] = np.where(counts, hrc, np.inf)
    return np.asarray(np.min(found, axis=0))


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


@dataclass(frozen=True)
class _Limits:
    """The advised top and the brittle range of the bar, with the steel that sets the top, and the brittle
    range of each steel, narrower by what it counts less. [C]"""

    top_c: float
    low_c: float
    high_c: float
    steel: str
    brittle_c: Mapping[str, tuple[float, float]]


def _limits(layers: tuple[TemperedLayer, ...]) -> _Limits | None:
    """Lowest top and widest brittle range over the layers; one of little weight fades out by 100 K."""
    if not layers:
        return None
    found = [(layer, temper_limits(layer.wt), FADE_K * (1.0 - float(layer.weight[0]))) for layer in layers]
    tops = [float(limits.top_c[0]) + fade for _, limits, fade in found]
    lows = [float(limits.brittle_low_c[0]) + fade for _, limits, fade in found]
    highs = [float(limits.brittle_high_c[0]) - fade for _, limits, fade in found]
    brittle = {layer.name: (low, high) for layer, low, high in zip(layers, lows, highs, strict=True)}
    return _Limits(min(tops), min(lows), max(highs), layers[int(np.argmin(tops))].name, brittle)


def _why_not(temperature_c: float, limits: _Limits | None) -> Reason | None:
    if limits is None or temperature_c <= limits.top_c + WITHIN_K:
        return None
    turning = {name: ends for name, ends in limits.brittle_c.items() if ends[0] < temperature_c <= ends[1]}
    if turning:
        steel, (low_c, high_c) = next(iter(turning.items()))
        return Reason("temper-brittle", {"low_c": low_c, "high_c": high_c, "steel": steel})
    return Reason("temper-beyond", {"top_c": limits.top_c, "steel": limits.steel})


def _told(
    layers: tuple[TemperedLayer, ...], quenched_hrc: Mapping[str, Array], varied: Mapping[str, Quenched]
) -> _Told:
    with_figure = tuple(layer for layer in layers if bool(is_told(layer.wt)[0]))
    return _Told(with_figure, {layer.name: _quenched(layer, quenched_hrc) for layer in with_figure}, varied)


def _quenched(layer: TemperedLayer, quenched_hrc: Mapping[str, Array]) -> Array:
    return quenched_hrc[layer.name] if layer.name in quenched_hrc else usual_quenched_hrc(layer.wt)


def _table(
    told: _Told, temperatures_c: Sequence[float], minutes: float, limits: _Limits | None
) -> tuple[TemperedStep, ...]:
    if not told.layers:
        return ()
    return tuple(
        TemperedStep(t, minutes, _why_not(t, limits), per_steel)
        for t, per_steel in zip(temperatures_c, _per_steel(told, temperatures_c, minutes), strict=True)
    )


def _per_steel(
    told: _Told, temperatures_c: Sequence[float], minutes: float
) -> list[tuple[TemperedSteel, ...]]:
    """By temperature: every layer's hardness in the first sample."""
    at_c = np.asarray(temperatures_c, dtype=float)
    columns = []
    for layer in told.layers:
        band = float(band_hrc(_one(layer.wt))[0])
        found = _tempered(layer, told, at_c, minutes)
        down, up = (np.hypot(off, band) for off in off_band(found[:, 1:]))
        columns.append(
            [
                TemperedSteel(layer.name, float(v - low), float(v), float(v + high))
                for v, low, high in zip(found[:, 0], down, up, strict=True)
            ]
        )
    return list(zip(*columns, strict=True))


def _tempered(layer: TemperedLayer, told: _Told, at_c: Array, minutes: float) -> Array:
    """By temperature: the first sample of a layer, then those its bands are drawn from, (temperatures,
    1 + samples); the first again where there are none. [HRC]"""
    own_hrc, varied = told.quenched_hrc[layer.name][:1], told.varied.get(layer.name)
    moved_wt, moved_hrc = (_one(layer.wt), own_hrc) if varied is None else (varied.wt, varied.hrc)
    none = np.zeros(len(moved_hrc))
    wt = {
        element: np.tile(
            np.concatenate([content(_one(layer.wt), element), moved_wt.get(element, none)]), len(at_c)
        )
        for element in layer.wt.keys() | moved_wt.keys()
    }
    quenched = np.concatenate([own_hrc, moved_hrc])
    count = len(quenched)
    found = tempered_hrc(wt, np.tile(quenched, len(at_c)), np.repeat(at_c, count), minutes)
    return found.reshape(len(at_c), count)


def _one(wt: Mapping[str, Array]) -> dict[str, Array]:
    """The first sample alone."""
    return {element: values[:1] for element, values in wt.items()}


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


def _wanted(told: _Told, hrc: float, minutes: float, limits: _Limits | None) -> WantedTemper:
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
            _why_not(temperature, limits),
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
