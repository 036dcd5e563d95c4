"""Numbers by which quenching media are named: nickel-ball seconds, severity, hardening power."""

import math
from collections.abc import Sequence
from itertools import pairwise

from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_not_finite, refuse_not_positive
from billet.published import published

BALL_START_C, BALL_STOP_C = 885.0, 354.0
BALL_DIAMETER_M = 0.0222  # from memory, 7/8 in
NICKEL_DENSITY_KG_M3 = 8900.0  # from memory
NICKEL_SPECIFIC_HEAT_J_KG_K = 530.0  # from memory, mean of 354 to 885 C
INCH_M = 0.0254


@published(
    "astm-d3520",
    where="ball from 885 C to its Curie point at 354 C, taken as a lump",
    equation="h = rho c d / (6 t) ln[(885 - To) / (354 - To)]",
    unit="W m-2 K-1",
    basis="memory",
    note="Temperatures from the standard; diameter, density and specific heat of the ball from memory.",
    seconds=(1.0, 60.0),
)
def mean_film_from_ball_w_m2_k(seconds: float, oil_c: float = 25.0) -> float:
    """Mean film coefficient above 354 C that gives these nickel-ball seconds, W m-2 K-1.

    Raises OutOfDomain for a time not above 0 or an oil hotter than 354 C.
    """
    refuse_not_positive("seconds", seconds)
    if not -50.0 < oil_c < BALL_STOP_C:
        raise OutOfDomain("oil_c", oil_c, "between -50 and 354 C")
    heat_j_m2_k = NICKEL_DENSITY_KG_M3 * NICKEL_SPECIFIC_HEAT_J_KG_K * BALL_DIAMETER_M / 6.0
    return heat_j_m2_k / seconds * math.log((BALL_START_C - oil_c) / (BALL_STOP_C - oil_c))


def _interpolated(nodes: Sequence[tuple[float, float]], x: float) -> float:
    if x <= nodes[0][0]:
        return nodes[0][1]
    for (x0, y0), (x1, y1) in pairwise(nodes):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return nodes[-1][1]


@published(
    "astm-d3520",
    where="the same lump cooled along a film that changes with temperature",
    equation="t = rho c d / 6 integral dT / [h(T) (T - To)]",
    unit="s",
    basis="memory",
)
def ball_seconds_from_film(film: Sequence[tuple[float, float]], oil_c: float) -> float:
    """Nickel-ball seconds of a film given as (surface temperature in C, W/m2K) nodes.

    Raises OutOfDomain for a film without nodes or an oil hotter than 354 C.
    """
    if not film:
        raise OutOfDomain("film", film, "at least one node")
    if not -50.0 < oil_c < BALL_STOP_C:
        raise OutOfDomain("oil_c", oil_c, "between -50 and 354 C")
    steps = 2000
    width_k = (BALL_START_C - BALL_STOP_C) / steps
    total = 0.0
    for i in range(steps):
        surface_c = BALL_STOP_C + (i + 0.5) * width_k
        total += width_k / (_interpolated(film, surface_c) * (surface_c - oil_c))
    return NICKEL_DENSITY_KG_M3 * NICKEL_SPECIFIC_HEAT_J_KG_K * BALL_DIAMETER_M / 6.0 * total


@published(
    "totten-1993",
    where="definition of the severity of a quench",
    equation="h = 2 k H, H in 1/inch",
    unit="W m-2 K-1",
    note="H counts in 1/inch; words for the agitation are not quantified, so H is rough.",
    severity_per_inch=(0.02, 5.0),
)
def film_from_severity_w_m2_k(severity_per_inch: float, conductivity_w_m_k: float = 30.0) -> float:
    """Film coefficient of a Grossmann severity H in 1/inch, W m-2 K-1.

    Raises OutOfDomain for a severity or conductivity that is not above 0.
    """
    refuse_not_positive("severity_per_inch", severity_per_inch)
    refuse_not_positive("conductivity_w_m_k", conductivity_w_m_k)
    return 2.0 * conductivity_w_m_k * severity_per_inch / INCH_M


@published(
    "totten-1993",
    where="definition of the severity of a quench, turned round",
    equation="H = h / 2k",
    unit="1/inch",
    film_w_m2_k=(47.0, 11811.0),
)
def severity_from_film_per_inch(film_w_m2_k: float, conductivity_w_m_k: float = 30.0) -> float:
    """Grossmann severity H in 1/inch of a film coefficient (usually taken at 705 C).

    Raises OutOfDomain for a coefficient or conductivity that is not above 0.
    """
    refuse_not_positive("film_w_m2_k", film_w_m2_k)
    refuse_not_positive("conductivity_w_m_k", conductivity_w_m_k)
    return film_w_m2_k * INCH_M / (2.0 * conductivity_w_m_k)


@published(
    "segerberg-1988",
    where="hardening power of oils, unalloyed steel",
    equation="HP = 91.5 + 1.34 Tvp + 10.88 CR - 3.85 Tcp",
    unit="1",
    basis="memory",
)
def hardening_power(vapour_to_boiling_c: float, mean_rate_k_s: float, boiling_to_flow_c: float) -> float:
    """Ranking of an oil by three figures of one probe curve; higher hardens harder.

    The end of the vapour stage and of boiling in C, the mean rate from 600 to 500 C in K/s.
    Raises OutOfDomain for numbers that are none.
    """
    refuse_not_finite("vapour_to_boiling_c", vapour_to_boiling_c)
    refuse_not_finite("mean_rate_k_s", mean_rate_k_s)
    refuse_not_finite("boiling_to_flow_c", boiling_to_flow_c)
    return 91.5 + 1.34 * vapour_to_boiling_c + 10.88 * mean_rate_k_s - 3.85 * boiling_to_flow_c


@published(
    "own-construction",
    where="balance of heat between a blade and its bath",
    equation="dT = c (T - Te) m / (rho V c_oil)",
    unit="K",
    basis="memory",
    note="Oil 0.87 kg/L and 1.9 kJ/kgK, steel 0.65 kJ/kgK; the printed rule is 38 K for 8.3 L/kg.",
)
def bath_rise_k(steel_kg: float, from_c: float, bath_l: float, bath_c: float = 60.0) -> float:
    """By how much an oil bath warms when it takes a blade down to its own first temperature, K.

    Raises OutOfDomain for a mass or bath that is not above 0.
    """
    refuse_not_positive("steel_kg", steel_kg)
    refuse_not_positive("bath_l", bath_l)
    refuse_not_finite("from_c", from_c)
    return 0.65 * (from_c - bath_c) * steel_kg / (0.87 * 1.9 * bath_l)
