"""How quickly the middle of a blade cools in each medium, read from a table that was computed once."""

import math
from bisect import bisect_right
from dataclasses import dataclass
from functools import cache

from billet.errors import OutOfDomain
from billet.tables.media import medium
from billet.tables.reading import read_csv

TABLE = "plate_cooling.csv"
CURVES = "plate_cooling_curves.csv"


@dataclass(frozen=True)
class Rate:
    """Mean cooling rate of the middle from 700 to 550 C, K/s, with the film 30 % lower and higher.

    `extrapolated` is true where the thickness lies outside the table of 1 to 30 mm.
    """

    value: float
    low: float
    high: float
    extrapolated: bool


@cache
def _rows(name: str) -> tuple[tuple[float, float, float, float, float], ...]:
    """Thickness, rate, low, high, seconds to 540 C of a medium, thinnest first."""
    medium(name)
    rows = (r for r in read_csv(TABLE) if r["medium"] == name)
    keys = ("thickness_mm", "rate_k_s", "rate_low_k_s", "rate_high_k_s", "seconds_to_540_c")
    return tuple(tuple(float(r[k]) for k in keys) for r in rows)  # type: ignore[misc]


def table_range_mm() -> tuple[float, float]:
    """Thinnest and thickest plate of the table."""
    rows = _rows("air")
    return rows[0][0], rows[-1][0]


def table_thicknesses_mm() -> tuple[float, ...]:
    """All thicknesses of the table, thinnest first."""
    return tuple(row[0] for row in _rows("air"))


def _log_interpolated(name: str, column: int, thickness_mm: float) -> float:
    rows = _rows(name)
    upper = min(max(bisect_right([r[0] for r in rows], thickness_mm), 1), len(rows) - 1)
    below, above = rows[upper - 1], rows[upper]
    share = math.log(thickness_mm / below[0]) / math.log(above[0] / below[0])
    return math.exp((1.0 - share) * math.log(below[column]) + share * math.log(above[column]))


def _checked(thickness_mm: float) -> float:
    if not (math.isfinite(thickness_mm) and thickness_mm > 0.0):
        raise OutOfDomain("thickness_mm", thickness_mm, "above 0")
    return thickness_mm


def centre_rate_k_s(name: str, thickness_mm: float) -> Rate:
    """Mean cooling rate of the middle of a plate from 700 to 550 C, quenched from 815 C, both faces.

    A medium that counts no faster than another takes the slower figure of the two.
    Raises OutOfDomain for an unknown medium or a thickness that is not above 0.
    """
    _checked(thickness_mm)
    low_mm, high_mm = table_range_mm()
    value, low, high = (_log_interpolated(name, column, thickness_mm) for column in (1, 2, 3))
    slower = medium(name).counts_no_faster_than
    if slower is not None:
        cap = centre_rate_k_s(slower, thickness_mm)
        value, low, high = min(value, cap.value), min(low, cap.low), min(high, cap.high)
    outside = not low_mm <= thickness_mm <= high_mm
    return Rate(value, min(low, value), max(high, value), outside)


def seconds_to_540_c(name: str, thickness_mm: float) -> float:
    """Seconds from the plunge until the middle is at 540 C, quenched from 815 C.

    Raises OutOfDomain for an unknown medium or a thickness that is not above 0.
    """
    return _log_interpolated(name, 4, _checked(thickness_mm))


@cache
def _counted(name: str) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Thicknesses of the table and the rates that count there."""
    thicknesses = tuple(r[0] for r in _rows(name))
    return thicknesses, tuple(centre_rate_k_s(name, t).value for t in thicknesses)


def hardens_to_mm(name: str, critical_rate_k_s: float) -> float:
    """Thickness at which the middle cools just at the critical rate, nominal film.

    Outside 1 to 30 mm the line is drawn on, so take such a figure as "under 1" or "over 30".
    Raises OutOfDomain for an unknown medium or a rate that is not above 0.
    """
    if not (math.isfinite(critical_rate_k_s) and critical_rate_k_s > 0.0):
        raise OutOfDomain("critical_rate_k_s", critical_rate_k_s, "above 0")
    thicknesses, rates = _counted(name)
    index = next((i for i, r in enumerate(rates) if r < critical_rate_k_s), len(rates) - 1)
    index = max(index, 1)
    slope = math.log(rates[index] / rates[index - 1]) / math.log(thicknesses[index] / thicknesses[index - 1])
    return float(thicknesses[index - 1] * (critical_rate_k_s / rates[index - 1]) ** (1.0 / slope))


@cache
def _curves(name: str) -> tuple[tuple[float, tuple[float, ...], tuple[float, ...]], ...]:
    """(thickness, seconds, temperatures) of a medium, thinnest first."""
    medium(name)
    found: dict[float, tuple[list[float], list[float]]] = {}
    for row in read_csv(CURVES):
        if row["medium"] == name:
            seconds, temperatures = found.setdefault(float(row["thickness_mm"]), ([], []))
            seconds.append(float(row["seconds"]))
            temperatures.append(float(row["temperature_c"]))
    return tuple((t, tuple(s), tuple(c)) for t, (s, c) in sorted(found.items()))


def cooling_curve(name: str, thickness_mm: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Seconds and temperatures of the middle, nominal film, quenched from 815 C.

    All curves of a medium pass the same temperatures, so the seconds are interpolated.
    Raises OutOfDomain for an unknown medium or a thickness that is not above 0.
    """
    _checked(thickness_mm)
    curves = _curves(name)
    upper = min(max(bisect_right([c[0] for c in curves], thickness_mm), 1), len(curves) - 1)
    (thin, fast, temperatures), (thick, slow, _) = curves[upper - 1], curves[upper]
    share = math.log(thickness_mm / thin) / math.log(thick / thin)
    seconds = tuple(
        0.0 if a <= 0.0 else a ** (1.0 - share) * b**share for a, b in zip(fast, slow, strict=True)
    )
    return seconds, temperatures
