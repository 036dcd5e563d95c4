"""Hardness along the end-quench bar, by the dividing factors of ASTM A255 in millimetres."""

from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_not_positive
from billet.formulas.hardenability import initial_hardness_hrc
from billet.published import published

# Coefficients of the 0th to 5th power of the ideal diameter in mm, by distance from the end in mm.
DIVISOR: dict[int, tuple[float, float, float, float, float, float]] = {
    3: (0.170547, 0.173925, -0.0109281, 3.13863e-4, -4.32086e-6, 2.31674e-8),
    5: (3.03987, -0.0855161, 1.38048e-3, -9.98717e-6, 2.64963e-8, 5.46044e-12),
    7: (4.32366, -0.134451, 2.28151e-3, -1.96250e-5, 8.35338e-8, -1.38456e-10),
    9: (4.46324, -0.0992003, 1.19387e-3, -7.40686e-6, 2.26087e-8, -2.46815e-11),
    11: (4.40915, -0.0792024, 6.74319e-4, -1.97223e-6, -3.21758e-9, 2.08025e-11),
    13: (4.60261, -0.0820023, 7.18416e-4, -2.52800e-6, 2.30089e-10, 1.25368e-11),
    15: (5.01595, -0.0957696, 9.56240e-4, -4.62213e-6, 8.92787e-9, -8.74859e-13),
    20: (5.51133, -0.104310, 1.15299e-3, -7.51801e-6, 2.75126e-8, -4.3110e-11),
    25: (6.15369, -0.127486, 1.57885e-3, -1.12233e-5, 4.21359e-8, -6.42460e-11),
    30: (7.16001, -0.171328, 2.42820e-3, -1.91259e-5, 7.67320e-8, -1.21571e-10),
    35: (8.46964, -0.229424, 3.54915e-3, -2.97166e-5, 1.24831e-7, -2.0543e-10),
    40: (9.13657, -0.252296, 3.94419e-3, -3.33383e-5, 1.41462e-7, -2.35541e-10),
    45: (8.84696, -0.223317, 3.25787e-3, -2.62930e-5, 1.08190e-7, -1.76244e-10),
    50: (8.10202, -0.171039, 2.12643e-3, -1.52754e-5, 5.78179e-8, -8.79890e-11),
}
# Ideal diameter in mm from which a station is as hard as the end: there its polynomial first reaches 1,
# or its lowest value. Beyond, the polynomials run away (22 for 3 mm at 100 mm).
FULL_HARDNESS_FROM_MM: dict[int, float] = {
    3: 51.8, 5: 104.3, 7: 128.9, 9: 137.6, 11: 145.6, 13: 151.4, 15: 159.7, 20: 175.9,
    25: 179.9, 30: 186.3, 35: 189.3, 40: 186.9, 45: 192.6, 50: 210.2,
}  # fmt: skip


@published(
    "astm-a255",
    where="dividing factors by distance from the quenched end, ideal diameter in mm",
    equation="a0 + a1 DI + a2 DI^2 + a3 DI^3 + a4 DI^4 + a5 DI^5, six coefficients for each distance;"
    " 1 beyond the ideal diameter where it first reaches 1 or its lowest value",
    unit="1",
    note="The limits in the ideal diameter are ours; those of the standard were not seen.",
    ideal_diameter_mm=(25.4, 177.8),
)
def dividing_factor(distance_mm: int, ideal_diameter_mm: float) -> float:
    """Initial hardness over the hardness at a distance from the quenched end. [1]

    Raises OutOfDomain for a distance that is no station of the standard (3 to 50 mm), or a diameter
    that is not above 0.
    """
    if distance_mm not in DIVISOR:
        raise OutOfDomain("distance_mm", distance_mm, f"one of {', '.join(map(str, DIVISOR))}")
    refuse_not_positive("ideal_diameter_mm", ideal_diameter_mm)
    if ideal_diameter_mm >= FULL_HARDNESS_FROM_MM[distance_mm]:
        return 1.0
    return sum(a * ideal_diameter_mm**power for power, a in enumerate(DIVISOR[distance_mm]))


@published(
    "astm-a255",
    where="hardness along the end-quench bar",
    equation="HRC = initial hardness / dividing factor",
    unit="HRC",
    carbon_wt=(0.10, 0.70),
    ideal_diameter_mm=(25.4, 177.8),
)
def end_quench_hardness_hrc(distance_mm: int, carbon_wt: float, ideal_diameter_mm: float) -> float:
    """Hardness at a distance from the quenched end of the bar. [HRC]

    Raises OutOfDomain as dividing_factor does, and for carbon below 0.
    """
    return initial_hardness_hrc(carbon_wt) / dividing_factor(distance_mm, ideal_diameter_mm)
