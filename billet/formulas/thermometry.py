"""How far off a thermocouple and a furnace may be, and where a magnet lets go."""

import math
from dataclasses import dataclass

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_negative
from billet.published import published

# type, class: (K at least, share of the temperature, from C, to C); S class 1 has its own line.
_LINES: dict[tuple[str, int], tuple[float, float, float, float]] = {
    ("K", 1): (1.5, 0.004, -40.0, 1000.0),
    ("K", 2): (2.5, 0.0075, -40.0, 1200.0),
    ("N", 1): (1.5, 0.004, -40.0, 1000.0),
    ("N", 2): (2.5, 0.0075, -40.0, 1200.0),
    ("S", 1): (1.0, 0.0, 0.0, 1600.0),
    ("S", 2): (1.5, 0.0025, 0.0, 1600.0),
}
_FURNACE_CLASS_K = {1: 3.0, 2: 6.0, 3: 8.0, 4: 10.0, 5: 14.0, 6: 28.0}


@dataclass(frozen=True)
class Tolerance:
    """Tolerance of new wire, K either way; `covered` is false outside the range of its class."""

    k: float
    from_c: float
    to_c: float
    covered: bool


def thermocouple_range_c(kind: str, tolerance_class: int) -> tuple[float, float]:
    """Temperatures that a class of the standard covers, C.

    Raises OutOfDomain for another type than K, N, S or another class than 1 and 2.
    """
    line = _LINES.get((kind, tolerance_class))
    if line is None:
        raise OutOfDomain("thermocouple", f"{kind} class {tolerance_class}", "K, N or S, class 1 or 2")
    return line[2], line[3]


@published(
    "iec-60584-1",
    where="tolerance table, classes 1 and 2",
    equation="greater of a K and b T; S class 1 above 1100 C: 1 + 0.003 (T - 1100)",
    unit="K either way",
    note="New wire. K class 1 ends at 1000 C. Type K drifts in use.",
)
def thermocouple_tolerance_k(temperature_c: float, kind: str = "K", tolerance_class: int = 2) -> float:
    """Tolerance of a new thermocouple, K either way; see `thermocouple_range_c` for where it holds.

    Raises OutOfDomain for another type than K, N, S, another class than 1 and 2, or absolute zero.
    """
    refuse_impossible_temperature("temperature_c", temperature_c)
    thermocouple_range_c(kind, tolerance_class)
    least, share, _, _ = _LINES[kind, tolerance_class]
    if (kind, tolerance_class) == ("S", 1):
        return least + 0.003 * max(temperature_c - 1100.0, 0.0)
    return max(least, share * abs(temperature_c))


def thermocouple_tolerance(temperature_c: float, kind: str = "K", tolerance_class: int = 2) -> Tolerance:
    """The same with the range of its class and whether the temperature lies inside.

    Raises OutOfDomain as `thermocouple_tolerance_k` does.
    """
    low, high = thermocouple_range_c(kind, tolerance_class)
    k = thermocouple_tolerance_k(temperature_c, kind, tolerance_class)
    return Tolerance(k, low, high, low <= temperature_c <= high)


@published(
    "ams2750f",
    where="table 11, furnace classes 1 to 6",
    equation="3, 6, 8, 10, 14, 28",
    unit="K either way",
)
def furnace_uniformity_k(furnace_class: int) -> float:
    """Spread inside the surveyed room of a furnace of this class, K either way.

    Raises OutOfDomain for another class than 1 to 6.
    """
    if furnace_class not in _FURNACE_CLASS_K:
        raise OutOfDomain("furnace_class", furnace_class, "a class from 1 to 6")
    return _FURNACE_CLASS_K[furnace_class]


@published(
    "own-construction",
    where="sum of what may go wrong the same way",
    equation="w = u + t + i",
    unit="K either way",
    basis="practice",
)
def half_width_sum_k(uniformity_k: float, tolerance_k: float, instrument_k: float = 0.0) -> float:
    """Half-width of a furnace: spread inside, wire and instrument added up, K.

    Raises OutOfDomain for a negative part.
    """
    for name, value in (
        ("uniformity_k", uniformity_k),
        ("tolerance_k", tolerance_k),
        ("instrument_k", instrument_k),
    ):
        refuse_negative(name, value)
    return uniformity_k + tolerance_k + instrument_k


@published(
    "own-construction",
    where="root of the sum of squares: parts that are independent",
    equation="w = sqrt(u2 + t2 + i2)",
    unit="K either way",
    basis="practice",
)
def half_width_root_k(uniformity_k: float, tolerance_k: float, instrument_k: float = 0.0) -> float:
    """Half-width of a furnace when the parts are independent, K; the sum is what we claim.

    Raises OutOfDomain for a negative part.
    """
    half_width_sum_k(uniformity_k, tolerance_k, instrument_k)
    return math.sqrt(uniformity_k**2 + tolerance_k**2 + instrument_k**2)


@published(
    "own-construction",
    where="only the tolerance of the wire changes with temperature",
    equation="w(T) = w(Tref) + t(T) - t(Tref)",
    unit="K either way",
    basis="practice",
)
def half_width_at_k(
    temperature_c: float,
    half_width_k: float,
    reference_c: float,
    kind: str,
    tolerance_class: int,
) -> float:
    """Half-width of a furnace at another temperature than the one it is stated for, K.

    Raises OutOfDomain as `thermocouple_tolerance_k` does, and for a negative half-width.
    """
    refuse_negative("half_width_k", half_width_k)
    here_k = thermocouple_tolerance_k(temperature_c, kind, tolerance_class)
    return half_width_k + here_k - thermocouple_tolerance_k(reference_c, kind, tolerance_class)


@dataclass(frozen=True)
class MagnetPoint:
    """Where steel lets go of a magnet on heating, C, with its band."""

    value: float
    low: float
    high: float


MAGNET_BAND_K = 15.0
IRON_CURIE_C = 769.0
HEATING_LAG_K = 25.0


def _refuses_magnet(steel: Composition) -> str | None:
    if steel["Ni"] >= 20.0 or (steel["Cr"] + steel["Ni"] >= 22.0 and steel["Ni"] >= 6.0):
        return "it never holds a magnet, or lets go far below red heat"
    if steel["Cr"] > 5.0:
        return "above 5 % chromium it lets go far below its hardening temperature"
    if steel["Mo"] + steel["W"] + steel["V"] > 2.0:
        return "with so much W, Mo and V it lets go far below its hardening temperature"
    if steel["Ni"] > 5.0 or steel["Mn"] > 3.0:
        return "nickel and manganese move the change too far to tell"
    return None


def why_no_magnet(composition: Composition) -> str | None:
    """Why a magnet says nothing about this steel, or None where it does."""
    return _refuses_magnet(composition)


@published(
    "own-construction",
    where="Curie temperature of iron 769 C; change of pearlite with the slopes of Andrews 1965 for Ae1",
    equation="min(769, 723 - 10.7Mn - 16.9Ni + 29.1Si + 16.9Cr + 25) from 0.6 C, 769 up to 0.3 C",
    unit="C",
    basis="memory",
    note="On heating only: on cooling it reads non-magnetic far lower. 15 K either way.",
    C=(0.1, 1.3),
)
def magnet_point_c(composition: Composition) -> MagnetPoint | None:
    """Where the steel lets go of a magnet on heating, C; None where a magnet says nothing.

    Soft steel lets go when its ferrite passes the Curie temperature, steel with much pearlite when
    that changes, some 25 K above equilibrium at the pace of a forge (from memory).
    """
    if _refuses_magnet(composition) is not None:
        return None
    ae1_c = (
        723.0
        - 10.7 * composition["Mn"]
        - 16.9 * composition["Ni"]
        + 29.1 * composition["Si"]
        + 16.9 * composition["Cr"]
    )
    pearlite_c = min(IRON_CURIE_C, ae1_c + HEATING_LAG_K)
    share = min(max((composition["C"] - 0.3) / 0.3, 0.0), 1.0)
    value = (1.0 - share) * IRON_CURIE_C + share * pearlite_c
    return MagnetPoint(value, value - MAGNET_BAND_K, value + MAGNET_BAND_K)
