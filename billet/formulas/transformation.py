"""When austenite begins to turn while it cools, after Li, Niebuhr, Meekisho and Atteridge (1998).

    time = K S(X) / (2^(a G) (T_limit - T)^n exp(-27500 / (1.987 T_K)))

with one factor K for each product. Fitted to heat-treatable low-alloy steel and validated by its
authors from 0.20 to 0.41 % carbon: outside that it ranks steels within a factor of three and no
better. It knows nothing of V, W, Co, Cu and B, and forms no carbide before pearlite. Feed it what is
DISSOLVED.
"""

from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_not_finite
from billet.formulas.martensite import ms_kung_rayment_andrews_c
from billet.published import published
from billet.units import ZERO_CELSIUS_K

Kind = Literal["ferrite", "pearlite", "bainite"]
Array = NDArray[np.float64]

ACTIVATION_CAL_MOL = 27500.0
GAS_CONSTANT_CAL_MOL_K = 1.987
START_FRACTION = 0.01
GRAIN_EXPONENT: dict[Kind, float] = {"ferrite": 0.41, "pearlite": 0.32, "bainite": 0.29}
UNDERCOOLING_EXPONENT: dict[Kind, int] = {"ferrite": 3, "pearlite": 3, "bainite": 2}
QUADRATURE_POINTS = 32


@dataclass(frozen=True)
class CriticalRate:
    """Slowest constant cooling, in K/s, that passes each product before 1 % of it has formed.

    `rate_k_s` is the greatest of ferrite, pearlite (both down to the bainite start) and bainite, and
    `product` says which. `high_k_s` lets pearlite go on forming down to Ms, which in steel of high
    carbon is nearer the truth, because the model makes bainite there far too slow.
    """

    rate_k_s: float
    product: Kind
    high_k_s: float
    ferrite_k_s: float
    pearlite_k_s: float
    bainite_k_s: float


@dataclass(frozen=True)
class StartCurve:
    """Seconds to the start of each product at each temperature; infinite where it cannot form."""

    temperature_c: Array
    ferrite_s: Array
    pearlite_s: Array
    bainite_s: Array


@published(
    "li-1998",
    where="composition factor FC",
    equation="FC = exp(1.00 + 6.31 C + 1.78 Mn + 0.31 Si + 1.12 Ni + 2.70 Cr + 4.06 Mo)",
    unit="1",
    C=(0.20, 0.41),
    Cr=(0.0, 1.0),
    Ni=(0.0, 3.1),
    Mo=(0.0, 0.44),
)
def ferrite_factor(composition: Composition) -> float:
    """How far the analysis delays ferrite, after Li. [1]"""
    wt = composition
    alloy = 1.78 * wt["Mn"] + 0.31 * wt["Si"] + 1.12 * wt["Ni"] + 2.70 * wt["Cr"] + 4.06 * wt["Mo"]
    return float(np.exp(1.00 + 6.31 * wt["C"] + alloy))


@published(
    "li-1998",
    where="composition factor PC",
    equation="PC = exp(-4.25 + 4.12 C + 4.36 Mn + 0.44 Si + 1.71 Ni + 3.33 Cr + 5.19 sqrt(Mo))",
    unit="1",
    C=(0.20, 0.41),
    Cr=(0.0, 1.0),
    Ni=(0.0, 3.1),
    Mo=(0.0, 0.44),
)
def pearlite_factor(composition: Composition) -> float:
    """How far the analysis delays pearlite, after Li. [1]"""
    wt = composition
    alloy = 4.36 * wt["Mn"] + 0.44 * wt["Si"] + 1.71 * wt["Ni"] + 3.33 * wt["Cr"]
    return float(np.exp(-4.25 + 4.12 * wt["C"] + alloy + 5.19 * wt["Mo"] ** 0.5))


@published(
    "li-1998",
    where="composition factor BC",
    equation="BC = exp(-10.23 + 10.18 C + 0.85 Mn + 0.55 Ni + 0.90 Cr + 0.36 Mo)",
    unit="1",
    note="Its carbon term makes bainite absurdly slow above about 0.7 % carbon.",
    C=(0.20, 0.41),
    Cr=(0.0, 1.0),
    Ni=(0.0, 3.1),
    Mo=(0.0, 0.44),
)
def bainite_factor(composition: Composition) -> float:
    """How far the analysis delays bainite, after Li. [1]"""
    wt = composition
    alloy = 0.85 * wt["Mn"] + 0.55 * wt["Ni"] + 0.90 * wt["Cr"] + 0.36 * wt["Mo"]
    return float(np.exp(-10.23 + 10.18 * wt["C"] + alloy))


@published(
    "li-1998",
    where="bainite start",
    equation="Bs = 637 - 58 C - 35 Mn - 15 Ni - 34 Cr - 41 Mo",
    unit="C",
    C=(0.20, 0.41),
    Cr=(0.0, 1.0),
    Ni=(0.0, 3.1),
    Mo=(0.0, 0.44),
)
def bainite_start_li_c(composition: Composition) -> float:
    """Highest temperature at which bainite forms, after Li. [C]"""
    wt = composition
    alloy = 35.0 * wt["Mn"] + 15.0 * wt["Ni"] + 34.0 * wt["Cr"] + 41.0 * wt["Mo"]
    return 637.0 - 58.0 * wt["C"] - alloy


@published(
    "van-bohemen-2012",
    where="equation for Bs",
    equation="Bs = 839 - 86 Mn - 23 Si - 67 Cr - 33 Ni - 75 Mo - 270 (1 - exp(-1.33 C))",
    unit="C",
    C=(0.1, 1.9),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def bainite_start_van_bohemen_c(composition: Composition) -> float:
    """Highest temperature at which bainite forms, after van Bohemen. [C]"""
    wt = composition
    alloy = 86.0 * wt["Mn"] + 23.0 * wt["Si"] + 67.0 * wt["Cr"] + 33.0 * wt["Ni"] + 75.0 * wt["Mo"]
    return float(839.0 - alloy - 270.0 * (1.0 - np.exp(-1.33 * wt["C"])))


@cache
def _gauss_legendre(points: int) -> tuple[Array, Array]:
    """Nodes and weights on 0 to 1."""
    nodes, weights = np.polynomial.legendre.leggauss(points)
    return 0.5 * (nodes + 1.0), 0.5 * weights


@published(
    "li-1998",
    where="reaction rate term",
    equation="S(X) = integral from 0 to X of dX / (X^(0.4 (1-X)) (1-X)^(0.4 X))",
    unit="1",
    note="The paper prints 19.9 for S(1)/S(0.01); the integral as printed gives 19.66.",
)
@cache
def reaction_integral(fraction: float) -> float:
    """How long the reaction takes to reach a fraction, in units of the rate term. [1]

    Raises OutOfDomain for a fraction outside 0 to 1.
    """
    if not 0.0 <= fraction <= 1.0:
        raise OutOfDomain("fraction", fraction, "between 0 and 1")
    if fraction > 0.5:
        return 2.0 * reaction_integral(0.5) - reaction_integral(1.0 - fraction)
    # X = u^5 takes the infinite value at 0 away; above one half the integrand is its own mirror image.
    nodes, weights = _gauss_legendre(QUADRATURE_POINTS)
    end = fraction**0.2
    u = end * nodes
    x = u**5
    integrand = 5.0 * u ** (2.0 + 2.0 * x) * (1.0 - x) ** (-0.4 * x)
    return float(end * np.sum(weights * integrand))


def _factor(kind: Kind, composition: Composition) -> float:
    if kind == "ferrite":
        return ferrite_factor(composition)
    if kind == "pearlite":
        return pearlite_factor(composition)
    return bainite_factor(composition)


def _start_rate_per_s(
    kind: Kind,
    composition: Composition,
    temperature_c: Array,
    limit_c: float,
    grain: float,
    fraction: float,
) -> Array:
    """One over the time to `fraction` at each temperature; 0 at and above the limit. Shape as given."""
    undercooling_k = np.maximum(limit_c - temperature_c, 0.0)
    temperature_k = temperature_c + ZERO_CELSIUS_K
    mobility = np.exp(-ACTIVATION_CAL_MOL / (GAS_CONSTANT_CAL_MOL_K * temperature_k))
    speed: Array = 2.0 ** (GRAIN_EXPONENT[kind] * grain) * mobility
    speed = speed * undercooling_k ** UNDERCOOLING_EXPONENT[kind]
    return speed / (_factor(kind, composition) * reaction_integral(fraction))


def _critical_rate_k_s(
    kind: Kind, composition: Composition, grain: float, limit_c: float, end_c: float
) -> float:
    """Cooling rate at which the start times add up to exactly 1 between the limit and the end."""
    if not limit_c > end_c:
        return 0.0
    nodes, weights = _gauss_legendre(QUADRATURE_POINTS)
    temperature_c = end_c + (limit_c - end_c) * nodes
    rate = _start_rate_per_s(kind, composition, temperature_c, limit_c, grain, START_FRACTION)
    return float((limit_c - end_c) * np.sum(weights * rate))


@published(
    "li-1998",
    where="isothermal time to a fraction transformed",
    equation="t = K S(X) / (2^(a G) (T_limit - T)^n exp(-27500 / (1.987 T_K)))",
    unit="s",
    note="T_limit is Ae3 for ferrite, Ae1 for pearlite, Bs for bainite.",
    C=(0.20, 0.41),
    Cr=(0.0, 1.0),
    Ni=(0.0, 3.1),
    Mo=(0.0, 0.44),
)
def start_time_s(
    kind: Kind,
    composition: Composition,
    temperature_c: float,
    grain: float,
    fraction: float = START_FRACTION,
    *,
    limit_c: float,
) -> float:
    """Seconds at one temperature until `fraction` of a product has formed; infinite at the limit. [s]

    `grain` is the ASTM number of the austenite; `limit_c` is Ae3, Ae1 or Bs by the kind.
    Raises OutOfDomain for an unknown kind, an impossible temperature or fraction.
    """
    if kind not in GRAIN_EXPONENT:
        raise OutOfDomain("kind", kind, f"one of {', '.join(GRAIN_EXPONENT)}")
    refuse_impossible_temperature("temperature_c", temperature_c)
    refuse_not_finite("grain", grain)
    if not temperature_c < limit_c:
        return float("inf")
    rate = _start_rate_per_s(kind, composition, np.array([temperature_c]), limit_c, grain, fraction)
    return float(1.0 / rate[0])


@published(
    "li-1998",
    where="critical cooling rates, with the additivity rule at constant rate",
    equation="rate = integral of dT / t(T) over the range of the product; the greatest of the three",
    unit="K/s",
    note="Published values repeat within 7 % for two alloy steels, within 50 % for lean ones.",
    C=(0.20, 0.41),
    Cr=(0.0, 1.0),
    Ni=(0.0, 3.1),
    Mo=(0.0, 0.44),
)
def critical_cooling_rate_k_s(
    composition: Composition,
    grain: float,
    ae3_c: float,
    ae1_c: float,
    bs_c: float | None = None,
    ms_c: float | None = None,
) -> CriticalRate:
    """Slowest constant cooling that forms less than 1 % of anything but martensite. [K/s]

    Ferrite counts from Ae3 and pearlite from Ae1, both to Bs; bainite from Bs to Ms. Ferrite is left
    out where Ae3 is not above Ae1. Without `bs_c` and `ms_c` they follow Li, and Kung and Rayment; an
    Ms below absolute zero counts as never, so bainite has the whole range.
    Raises OutOfDomain for numbers that are not finite.
    """
    start_c = bainite_start_li_c(composition) if bs_c is None else bs_c
    end_c = ms_kung_rayment_andrews_c(composition) if ms_c is None else ms_c
    for name, value in {"grain": grain, "ae3_c": ae3_c, "ae1_c": ae1_c, "ms_c": end_c}.items():
        refuse_not_finite(name, value)
    refuse_impossible_temperature("bs_c", start_c)
    end_c = max(end_c, -ZERO_CELSIUS_K + 1.0)
    ferrite = 0.0
    if ae3_c > ae1_c:
        ferrite = _critical_rate_k_s("ferrite", composition, grain, ae3_c, start_c)
    pearlite = _critical_rate_k_s("pearlite", composition, grain, ae1_c, start_c)
    bainite = _critical_rate_k_s("bainite", composition, grain, start_c, end_c)
    longest_pearlite = _critical_rate_k_s("pearlite", composition, grain, ae1_c, end_c)
    rates: dict[Kind, float] = {"ferrite": ferrite, "pearlite": pearlite, "bainite": bainite}
    product = max(rates, key=lambda kind: rates[kind])
    highest = max(rates[product], longest_pearlite)
    return CriticalRate(rates[product], product, highest, ferrite, pearlite, bainite)


def start_curve(
    composition: Composition,
    grain: float,
    temperatures_c: Array,
    *,
    ae3_c: float,
    ae1_c: float,
    bs_c: float | None = None,
) -> StartCurve:
    """Start of ferrite, pearlite and bainite at each temperature, for a picture.

    `temperatures_c` has shape (n,), and so have the times in the result. [s]
    """
    limits: dict[Kind, float] = {
        "ferrite": ae3_c if ae3_c > ae1_c else -ZERO_CELSIUS_K,
        "pearlite": ae1_c,
        "bainite": bainite_start_li_c(composition) if bs_c is None else bs_c,
    }
    times = []
    for kind, limit_c in limits.items():
        rate = _start_rate_per_s(kind, composition, temperatures_c, limit_c, grain, START_FRACTION)
        with np.errstate(divide="ignore"):
            times.append(1.0 / rate)
    return StartCurve(temperatures_c, *times)
