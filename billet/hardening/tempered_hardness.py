"""Hardness after tempering by carbon and alloy, on arrays: the model, moved to printed curves nearby.

The published model of tempered martensite stands at the bottom. Every printed curve pulls it by how far the
model misses it, weighted by how near its analysis is; so steels of one analysis get one answer, and a layer
that has left its grade leaves its curve. Nothing here looks at a name.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
import numpy.typing as npt

from billet.formulas.tempering import martensite_hv, one_hour_temperature_c, tempered_martensite_hv
from billet.tables.tempering import TemperCurve, temper_curves, temper_numbers, temper_ranges

Array = npt.NDArray[np.float64]
Analysis = Mapping[str, Array]

Curves = tuple[TemperCurve, ...]

LEAST_CARBON_WT = 0.05
GRID_FROM_C, GRID_TO_C = 50.0, 500.0
TINY = 1e-300


def tempered_hrc(
    wt: Analysis,
    quenched_hrc: Array,
    temperature_c: Array | float,
    minutes: float,
    curves: Curves | None = None,
) -> Array:
    """Hardness after `minutes` at heat, all cycles together. [HRC] (samples,)

    `wt` in wt% by element and `quenched_hrc`, each (samples,); `temperature_c` a number, (samples,) or
    (temperatures, 1), which gives (temperatures, samples). Samples may have several axes.
    Grange, Hribal and Porter 1977 for one hour, other times by Hollomon and Jaffe 1945; moved to printed
    curves of near analyses (`curves`, all of them by default). Never above as quenched; continuous in
    everything. `is_told` says whether the figure of a high-alloy steel may be shown.
    """
    one_hour_c = one_hour_temperature_c(temperature_c, minutes)
    moved = _bare_hrc(wt, quenched_hrc, one_hour_c) + _correction(wt, one_hour_c, _printed(curves))
    return np.asarray(np.minimum(moved, quenched_hrc))


def usual_quenched_hrc(wt: Analysis) -> Array:
    """Hardness as quenched where nothing better is known: printed nearby, else all martensite. [HRC]"""
    full = _full_hrc(wt)
    printed = _with_quench()
    weights = _weights(wt, printed)
    pulled = np.tensordot(printed.quench_offsets, weights, axes=1)
    return np.asarray(full + pulled / (np.sum(weights, axis=0) + temper_numbers("nearness")["reserve"]))


def printed_share(wt: Analysis, curves: Curves | None = None) -> Array:
    """How much of the answer the printed curves give, 0 (the bare model) to 1. [1] (samples,)"""
    total = np.sum(_weights(wt, _printed(curves)), axis=0)
    return np.asarray(total / (total + temper_numbers("nearness")["reserve"]))


def band_hrc(wt: Analysis, curves: Curves | None = None) -> Array:
    """Half-width that holds nine printed points of ten, from near a printed curve to far. [HRC]"""
    band = temper_numbers("band")
    nearest = np.max(_weights(wt, _printed(curves)), axis=0)
    return np.asarray(nearest * band["near_hrc"] + (1.0 - nearest) * band["far_hrc"])


def is_told(wt: Analysis, curves: Curves | None = None) -> npt.NDArray[np.bool_]:
    """Whether a figure may be shown: everywhere for low alloy, beside printed curves for high alloy."""
    needed = temper_numbers("high_alloy")["least_share"] * _high_alloy(wt)
    return np.asarray(printed_share(wt, curves) >= needed)


def near_curves(wt: Mapping[str, float]) -> Curves:
    """The printed curves that count at least half for one analysis, nearest first."""
    (found,) = near_curves_of({element: np.array([value]) for element, value in wt.items()})
    return found


def near_curves_of(wt: Analysis) -> list[Curves]:
    """`near_curves` of every sample."""
    weights, curves = _weights(wt, _all()), temper_curves()
    least = 0.5 * temper_numbers("nearness")["memory_weight"]
    order = np.argsort(-weights, axis=0, kind="stable")
    return [
        tuple(curves[place] for place in places if own[place] >= least)
        for places, own in zip(order.T.tolist(), weights.T.tolist(), strict=True)
    ]


def printed_top(wt: Analysis, usual_c: Array) -> Array:
    """The usual top of the advised range, drawn to ranges printed for near analyses. [C] (samples,)"""
    there, high_c = _ranges()
    weights = _alike(_place(wt), there) ** temper_numbers("nearness")["range_power"]
    total = np.sum(weights, axis=0)
    printed = np.tensordot(high_c, weights, axes=1)
    share = np.max(weights, axis=0)
    return np.asarray(usual_c + share * (printed / np.maximum(total, 1e-300) - usual_c))


def ramp(values: Array, ends: list[float]) -> Array:
    """0 below the first end, 1 above the second, straight between."""
    return np.asarray(np.clip((values - ends[0]) / (ends[1] - ends[0]), 0.0, 1.0))


def content(wt: Analysis, element: str) -> Array:
    """An element in wt%, nought where the analysis does not name it. (samples,)"""
    carbon = np.asarray(wt["C"], dtype=float)
    return np.asarray(wt[element], dtype=float) if element in wt else np.zeros_like(carbon)


def _high_alloy(wt: Analysis) -> Array:
    limits = temper_numbers("high_alloy")
    heavy = content(wt, "Mo") + content(wt, "W") + content(wt, "V")
    return np.maximum(ramp(content(wt, "Cr"), limits["cr_wt"]), ramp(heavy, limits["mo_w_v_wt"]))


def _bare_hrc(wt: Analysis, quenched_hrc: Array, one_hour_c: Array) -> Array:
    """The model with what is still felt of the quench, before any printed curve pulls it."""
    felt, chromium = temper_numbers("quench_felt"), temper_numbers("high_alloy")
    fade = 1.0 - ramp(one_hour_c, [felt["whole_to_c"], felt["none_from_c"]])
    off = felt["share"] * fade * (quenched_hrc - _full_hrc(wt))
    beyond = np.maximum(0.0, one_hour_c - chromium["softens_no_more_c"])
    kept = (1.0 - chromium["softens_share"]) * ramp(content(wt, "Cr"), chromium["chromium_wt"])
    return np.asarray(_hrc(tempered_martensite_hv(wt, one_hour_c - kept * beyond)) + off)


def _correction(wt: Analysis, one_hour_c: Array, printed: "_Printed") -> Array:
    """What the printed curves move the model by, by nearness; beyond a curve's ends others count more."""
    weights = np.moveaxis(_weights(wt, printed), 0, -1)
    missed, counted = printed.over_temperature
    place = np.clip(one_hour_c - GRID_FROM_C, 0.0, len(missed) - 1.001)
    lower = place.astype(int)
    share = (place - lower)[..., None]
    here = weights * (counted[lower] * (1.0 - share) + counted[lower + 1] * share)
    moved = missed[lower] * (1.0 - share) + missed[lower + 1] * share
    pulled = np.sum(here * moved, axis=-1) / np.maximum(np.sum(here, axis=-1), TINY)
    whole = np.sum(weights, axis=-1)
    return np.asarray(whole / (whole + temper_numbers("nearness")["reserve"]) * pulled)


@dataclass(frozen=True, eq=False)
class _Printed:
    """Printed curves, with what is reckoned of them once."""

    curves: Curves

    @cached_property
    def places(self) -> Array:
        """(curves, elements): where their analyses lie."""
        return np.array([_place({e: np.array(v) for e, v in curve.wt.items()}) for curve in self.curves])

    @cached_property
    def seen(self) -> Array:
        """(curves,): what each counts at its own analysis."""
        memory = temper_numbers("nearness")["memory_weight"]
        return np.array([memory if curve.seen == "memory" else 1.0 for curve in self.curves])

    @cached_property
    def quench_offsets(self) -> Array:
        """(curves,): how far as quenched lies off all martensite of its carbon. [HRC]"""
        return np.array([_quench_offset(curve) for curve in self.curves])

    @cached_property
    def over_temperature(self) -> tuple[Array, Array]:
        """Kelvin by kelvin from GRID_FROM_C, (temperatures, curves): by how much the bare model misses each
        curve, held at its ends [HRC], and how much the curve counts there, less and less beyond them [1]."""
        grid = np.arange(GRID_FROM_C, GRID_TO_C + 1.0)
        missed, counted = [], []
        for curve in self.curves:
            at_c, hrc = misses(curve)
            beyond = np.maximum(0.0, np.maximum(at_c[0] - grid, grid - at_c[-1]))
            missed.append(np.interp(grid, at_c, hrc))
            counted.append(np.exp(-0.5 * (beyond / temper_numbers("nearness")["outside_k"]) ** 2))
        return np.array(missed).T, np.array(counted).T


def _printed(curves: Curves | None) -> _Printed:
    """These curves, all of them by default."""
    return _all() if curves is None else _some(curves)


@cache
def _all() -> _Printed:
    return _Printed(temper_curves())


@cache
def _some(curves: Curves) -> _Printed:
    return _Printed(curves)


@cache
def _with_quench() -> _Printed:
    return _Printed(tuple(curve for curve in temper_curves() if curve.quenched_hrc is not None))


def misses(curve: TemperCurve) -> tuple[Array, Array]:
    """Temperatures of one hour [C], and printed less bare model there [HRC], at a curve's points."""
    one_hour_c = one_hour_temperature_c(np.array([t for t, _ in curve.points]), curve.minutes)
    wt = {element: np.full(one_hour_c.shape, value) for element, value in curve.wt.items()}
    full = _full_hrc(wt)
    quenched = full if curve.quenched_hrc is None else np.full(one_hour_c.shape, curve.quenched_hrc)
    return one_hour_c, np.array([hrc for _, hrc in curve.points]) - _bare_hrc(wt, quenched, one_hour_c)


def _full_hrc(wt: Analysis) -> Array:
    """All martensite of that carbon, as quenched. [HRC]"""
    return _hrc(martensite_hv(np.asarray(wt["C"], dtype=float)))


def _quench_offset(curve: TemperCurve) -> float:
    """How far a curve's as-quenched hardness lies off all martensite of its carbon. [HRC]"""
    full = float(_full_hrc({"C": np.array(curve.wt["C"])}))
    return 0.0 if curve.quenched_hrc is None else curve.quenched_hrc - full


def _weights(wt: Analysis, printed: _Printed) -> Array:
    """(curves, samples): nearness of each curve's analysis, less for a remembered one."""
    return np.asarray((_alike(_place(wt), printed.places).T * printed.seen).T)


def nearness(wt: Analysis, other: Mapping[str, float]) -> Array:
    """1 for the same analysis, falling as a bell with the distance. [1] (samples,)"""
    there = _place({element: np.array(value) for element, value in other.items()})
    return np.asarray(_alike(_place(wt), there[None])[0])


def _alike(here: Array, there: Array) -> Array:
    """(others, samples): nearness of places `here` (elements, samples) to `there` (others, elements)."""
    apart = there.reshape(there.shape + (1,) * (here.ndim - 1)) - here
    return np.asarray(np.exp(-0.5 * np.sum(apart**2, axis=1)))


@cache
def _ranges() -> tuple[Array, Array]:
    """(ranges, elements): where the analyses with a printed range lie; (ranges,): its top. [C]"""
    ranges = temper_ranges()
    there = [_place({e: np.array(value) for e, value in entry.wt.items()}) for entry in ranges]
    return np.array(there), np.array([entry.high_c for entry in ranges])


def _place(wt: Analysis) -> Array:
    """(elements, samples): an analysis as a point whose distances count in widths of the bell."""
    rules = temper_numbers("nearness")
    logarithms = {
        "cr": content(wt, "Cr"),
        "ni": content(wt, "Ni"),
        "mo_w": content(wt, "Mo") + 0.5 * content(wt, "W"),
        "v": content(wt, "V"),
    }
    return np.array(
        [
            np.log(np.maximum(content(wt, "C"), LEAST_CARBON_WT)) / rules["carbon_ln"],
            content(wt, "Mn") / rules["mn_wt"],
            content(wt, "Si") / rules["si_wt"],
            *(np.log1p(v / rules[key]["knee_wt"]) / rules[key]["width"] for key, v in logarithms.items()),
        ]
    )


def _hrc(hardness_hv: Array) -> Array:
    """The closed form of ASTM E140 on arrays. [HRC]"""
    return np.asarray((100.0 * hardness_hv - 14500.0) / (hardness_hv + 223.0))
