"""Heat conduction in a plate with constant properties: the exact series and the lump.

A plate of half thickness L cools or heats alike from both faces (or one face is insulated and L is
the whole thickness). Biot number Bi = hL/k, Fourier number Fo = at/L2.
"""

import math
from dataclasses import dataclass

from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_negative, refuse_not_positive
from billet.published import published

SERIES_TERMS = 60
LUMPED_BELOW_BIOT = 0.1


def _root(biot: float, number: int) -> float:
    """The number-th root of z tan z = Bi, by bisection between (n-1) pi and (n-1/2) pi."""
    start = (number - 1) * math.pi
    low, high = 0.0, math.pi / 2.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if (start + middle) * math.sin(middle) > biot * math.cos(middle):
            high = middle
        else:
            low = middle
    return start + 0.5 * (low + high)


@published(
    "incropera-2007",
    where="table 5.1 and the equation above it",
    equation="zeta tan zeta = Bi",
    unit="rad",
    basis="memory",
    note="The equation is exact; the table was remembered and agrees to its last digit.",
)
def plate_eigenvalue(biot: float, number: int = 1) -> float:
    """Root of the plate's equation, rad; `number` counts from 1.

    Raises OutOfDomain for a Biot number that is not above 0 or a number below 1.
    """
    refuse_not_positive("biot", biot)
    if number < 1:
        raise OutOfDomain("number", number, "1 or more")
    return _root(biot, number)


@published(
    "incropera-2007",
    where="table 5.1 and the equation above it",
    equation="C = 4 sin z / (2 z + sin 2z)",
    unit="1",
    basis="memory",
)
def plate_coefficient(biot: float, number: int = 1) -> float:
    """Coefficient of a term of the plate's series.

    Raises OutOfDomain for a Biot number that is not above 0 or a number below 1.
    """
    root = plate_eigenvalue(biot, number)
    return 4.0 * math.sin(root) / (2.0 * root + math.sin(2.0 * root))


@published(
    "incropera-2007",
    where="series of the plane wall",
    equation="theta = sum C exp(-z2 Fo) cos(z x/L)",
    unit="1",
    basis="memory",
)
def plate_theta(biot: float, fourier: float, place: float = 0.0, terms: int = SERIES_TERMS) -> float:
    """Share of the first temperature difference that is left at x/L = `place`, 0 middle, 1 face.

    Raises OutOfDomain for a Biot number not above 0, a negative Fourier number, a place outside 0 to 1.
    """
    refuse_negative("fourier", fourier)
    if not 0.0 <= place <= 1.0:
        raise OutOfDomain("place", place, "between 0 and 1")
    total = 0.0
    for number in range(1, terms + 1):
        root = plate_eigenvalue(biot, number)
        coefficient = 4.0 * math.sin(root) / (2.0 * root + math.sin(2.0 * root))
        total += coefficient * math.exp(-root * root * fourier) * math.cos(root * place)
    return total


def plate_theta_one_term(biot: float, fourier: float, place: float = 0.0) -> float:
    """The first term of the series alone: good to 2 % for a Fourier number above 0.2.

    Raises OutOfDomain as `plate_theta` does.
    """
    return plate_theta(biot, fourier, place, terms=1)


@dataclass(frozen=True)
class PlateState:
    """Middle, face, and the lump that knows no inside, C; Biot and Fourier numbers."""

    biot: float
    fourier: float
    middle_c: float
    face_c: float
    lumped_c: float
    flux_w_m2: float
    """Into the medium, negative where the plate takes up heat."""


@published(
    "incropera-2007",
    where="example 5.5 and the series of the plane wall",
    equation="T = Tm + (T0 - Tm) theta(Bi, Fo, x/L)",
    unit="C",
    basis="memory",
)
def plate_after(
    half_thickness_m: float,
    conductivity_w_m_k: float,
    density_kg_m3: float,
    specific_heat_j_kg_k: float,
    film_w_m2_k: float,
    start_c: float,
    medium_c: float,
    seconds: float,
) -> PlateState:
    """A plate with constant properties some seconds after it met a medium on both faces.

    Raises OutOfDomain for a size or property that is not above 0, or a negative time.
    """
    refuse_not_positive("half_thickness_m", half_thickness_m)
    refuse_not_positive("conductivity_w_m_k", conductivity_w_m_k)
    refuse_not_positive("density_kg_m3", density_kg_m3)
    refuse_not_positive("specific_heat_j_kg_k", specific_heat_j_kg_k)
    refuse_not_positive("film_w_m2_k", film_w_m2_k)
    refuse_negative("seconds", seconds)
    heat_j_m3_k = density_kg_m3 * specific_heat_j_kg_k
    biot = film_w_m2_k * half_thickness_m / conductivity_w_m_k
    fourier = conductivity_w_m_k * seconds / heat_j_m3_k / half_thickness_m**2
    jump = start_c - medium_c
    face_c = medium_c + jump * plate_theta(biot, fourier, 1.0)
    return PlateState(
        biot=biot,
        fourier=fourier,
        middle_c=medium_c + jump * plate_theta(biot, fourier, 0.0),
        face_c=face_c,
        lumped_c=medium_c + jump * math.exp(-biot * fourier),
        flux_w_m2=film_w_m2_k * (face_c - medium_c),
    )
