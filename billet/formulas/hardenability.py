"""Ideal diameter by the factors of ASTM A255, in inches as the standard has them.

The ideal diameter is that of a bar with half martensite at its centre after a quench of endless
severity. Multiplying factors for grain size 7; P and S are left out; W and Co have no factor. The
carbon factor counts all carbon as dissolved: for steel with carbide left, give what is dissolved.
"""

from collections.abc import Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_negative, refuse_not_finite
from billet.published import published

Array = npt.NDArray[np.float64]

GRAIN_STEP = 1.08
REFERENCE_GRAIN = 7.0
STRAIGHT_FACTORS: dict[str, float] = {"Si": 0.7, "Cr": 2.16, "Mo": 3.0, "Cu": 0.365, "V": 1.73}
"""Slopes of the factors that are straight lines through 1 at 0 wt%."""


@published(
    "astm-a255",
    where="carbon multiplying factor, grain size 7",
    equation="<= 0.39: 0.54 C; <= 0.55: 0.171 + 0.001 C + 0.265 C^2;"
    " <= 0.65: 0.115 + 0.268 C - 0.038 C^2; <= 0.75: 0.143 + 0.2 C; above: 0.062 + 0.409 C - 0.135 C^2",
    unit="in",
    carbon_wt=(0.01, 0.90),
)
def carbon_factor_in(carbon_wt: float) -> float:
    """Base diameter for the carbon content, before the alloy factors. [in]"""
    refuse_negative("carbon_wt", carbon_wt)
    return float(_carbon(np.array(carbon_wt)))


def _carbon(wt: Array) -> Array:
    pieces = [
        0.54 * wt,
        0.171 + 0.001 * wt + 0.265 * wt**2,
        0.115 + 0.268 * wt - 0.038 * wt**2,
        0.143 + 0.2 * wt,
    ]
    found: Array = 0.062 + 0.409 * wt - 0.135 * wt**2
    for top, piece in zip((0.75, 0.65, 0.55, 0.39), reversed(pieces), strict=True):
        found = np.where(wt <= top, piece, found)
    return found


@published(
    "astm-a255",
    where="manganese multiplying factor",
    equation="<= 1.20: 3.3333 Mn + 1; above: 5.10 Mn - 1.12",
    unit="1",
    manganese_wt=(0.01, 1.95),
)
def manganese_factor(manganese_wt: float) -> float:
    """Multiplying factor of manganese. [1]"""
    refuse_negative("manganese_wt", manganese_wt)
    return float(_manganese(np.array(manganese_wt)))


def _manganese(wt: Array) -> Array:
    return np.where(wt <= 1.20, 3.3333 * wt + 1.0, 5.10 * wt - 1.12)


@published(
    "astm-a255",
    where="silicon multiplying factor",
    equation="0.7 Si + 1",
    unit="1",
    silicon_wt=(0.0, 2.0),
)
def silicon_factor(silicon_wt: float) -> float:
    """Multiplying factor of silicon. [1]"""
    refuse_negative("silicon_wt", silicon_wt)
    return STRAIGHT_FACTORS["Si"] * silicon_wt + 1.0


@published(
    "astm-a255",
    where="nickel multiplying factor",
    equation="<= 1.5: 0.363 Ni + 1; above: 0.3211 + 1.4501 Ni - 0.6119 Ni^2 + 0.1253 Ni^3",
    unit="1",
    note="The line above 1.5 % was read in one transcription; the straight line would give 3 % less at 2 %.",
    nickel_wt=(0.0, 3.5),
)
def nickel_factor(nickel_wt: float) -> float:
    """Multiplying factor of nickel. [1]"""
    refuse_negative("nickel_wt", nickel_wt)
    return float(_nickel(np.array(nickel_wt)))


def _nickel(wt: Array) -> Array:
    cubic = 0.3211 + 1.4501 * wt - 0.6119 * wt**2 + 0.1253 * wt**3
    return np.where(wt <= 1.5, 0.363 * wt + 1.0, cubic)


@published(
    "astm-a255",
    where="chromium multiplying factor",
    equation="2.16 Cr + 1",
    unit="1",
    chromium_wt=(0.0, 2.5),
)
def chromium_factor(chromium_wt: float) -> float:
    """Multiplying factor of chromium. [1]"""
    refuse_negative("chromium_wt", chromium_wt)
    return STRAIGHT_FACTORS["Cr"] * chromium_wt + 1.0


@published(
    "astm-a255",
    where="molybdenum multiplying factor",
    equation="3 Mo + 1",
    unit="1",
    molybdenum_wt=(0.0, 0.55),
)
def molybdenum_factor(molybdenum_wt: float) -> float:
    """Multiplying factor of molybdenum. [1]"""
    refuse_negative("molybdenum_wt", molybdenum_wt)
    return STRAIGHT_FACTORS["Mo"] * molybdenum_wt + 1.0


@published(
    "astm-a255",
    where="copper multiplying factor",
    equation="0.365 Cu + 1",
    unit="1",
    copper_wt=(0.0, 0.55),
)
def copper_factor(copper_wt: float) -> float:
    """Multiplying factor of copper. [1]"""
    refuse_negative("copper_wt", copper_wt)
    return STRAIGHT_FACTORS["Cu"] * copper_wt + 1.0


@published(
    "astm-a255",
    where="vanadium multiplying factor",
    equation="1.73 V + 1",
    unit="1",
    vanadium_wt=(0.0, 0.20),
)
def vanadium_factor(vanadium_wt: float) -> float:
    """Multiplying factor of vanadium. [1]"""
    refuse_negative("vanadium_wt", vanadium_wt)
    return STRAIGHT_FACTORS["V"] * vanadium_wt + 1.0


@published(
    "grossmann-grain",
    where="about 8 % of the diameter for each ASTM number",
    equation="1.08^(7 - G)",
    unit="1",
    basis="memory",
    grain_size=(4.0, 10.0),
)
def grain_factor(grain_size: float) -> float:
    """Ideal diameter at an austenite grain size against that at ASTM 7. [1]"""
    refuse_not_finite("grain_size", grain_size)
    return float(GRAIN_STEP ** (REFERENCE_GRAIN - grain_size))


@published(
    "astm-a255",
    where="ideal diameter as the product of the factors",
    equation="DI = f(C) f(Mn) f(Si) f(Ni) f(Cr) f(Mo) f(Cu) f(V), times 1.08^(7 - G)",
    unit="in",
    note="The grain factor for sizes other than 7 is from memory.",
    C=(0.01, 0.90),
    Mn=(0.0, 1.95),
    Si=(0.0, 2.0),
    Ni=(0.0, 3.5),
    Cr=(0.0, 2.5),
    Mo=(0.0, 0.55),
    Cu=(0.0, 0.55),
    V=(0.0, 0.20),
    W=(0.0, 0.0),
    Co=(0.0, 0.0),
    grain_size=(4.0, 10.0),
)
def ideal_diameter_in(composition: Composition, grain_size: float = REFERENCE_GRAIN) -> float:
    """Diameter with half martensite at the centre after a quench of endless severity. [in]"""
    wt = {element: np.array(composition[element]) for element in STRAIGHT_FACTORS | PIECED_FACTORS}
    return float(ideal_diameters_in(wt, grain_size))


PIECED_FACTORS = {"C": _carbon, "Mn": _manganese, "Ni": _nickel}


def factors_of(wt: Mapping[str, Array]) -> dict[str, Array]:
    """Every factor of the standard for samples of an analysis; the one of carbon in inches.

    `wt` holds arrays of one shape, wt%; an element that is not listed is 0. Raises OutOfDomain for a
    value below 0 or not finite.
    """
    elements = (*PIECED_FACTORS, *STRAIGHT_FACTORS)
    none = np.zeros(np.broadcast_shapes(*(np.shape(v) for v in wt.values())))
    contents = np.stack([np.asarray(wt.get(element, none), dtype=np.float64) for element in elements])
    possible = np.isfinite(contents) & (contents >= 0.0)
    if not possible.all():
        wrong = next(i for i, each in enumerate(possible) if not each.all())
        value = float(np.min(contents[wrong]))
        raise OutOfDomain(f"{elements[wrong]} in wt%", value, "a number of 0 or more")
    each = dict(zip(elements, contents, strict=True))
    pieced = {element: factor(each[element]) for element, factor in PIECED_FACTORS.items()}
    return pieced | {element: 1.0 + slope * each[element] for element, slope in STRAIGHT_FACTORS.items()}


def ideal_diameters_in(wt: Mapping[str, Array], grain_size: float = REFERENCE_GRAIN) -> Array:
    """`ideal_diameter_in` of samples: arrays of one shape in, the same shape out. [in]"""
    return diameters_of_factors_in(factors_of(wt), grain_size)


def diameters_of_factors_in(factors: Mapping[str, Array], grain_size: float = REFERENCE_GRAIN) -> Array:
    """The same from every factor of the standard, as `factors_of` gives them. [in]"""
    product: Array = np.asarray(grain_factor(grain_size))
    for factor in factors.values():
        product = product * factor
    return product


@published(
    "astm-a255",
    where="initial hardness against carbon",
    equation="HRC = 33.087 + 50.723 C + 33.662 C^2 - 2.7048 C^3 - 107.02 C^4 + 43.523 C^5",
    unit="HRC",
    note="Turns down above 0.70 % carbon, where it is not for use.",
    carbon_wt=(0.10, 0.70),
)
def initial_hardness_hrc(carbon_wt: float) -> float:
    """Hardness of all martensite, at the quenched end of the end-quench bar. [HRC]"""
    refuse_negative("carbon_wt", carbon_wt)
    return float(initial_hardness_of(carbon_wt))


def initial_hardness_of(c: Any) -> Any:
    """`initial_hardness_hrc` of a number or an array of carbon contents in wt%, unchecked. [HRC]"""
    return 33.087 + 50.723 * c + 33.662 * c**2 - 2.7048 * c**3 - 107.02 * c**4 + 43.523 * c**5


@published(
    "astm-a255",
    where="hardness of half martensite against carbon",
    equation="HRC = 22.974 + 6.214 C + 356.364 C^2 - 1091.488 C^3 + 1464.88 C^4 - 750.441 C^5",
    unit="HRC",
    basis="memory",
    carbon_wt=(0.10, 0.70),
)
def half_martensite_hardness_hrc(carbon_wt: float) -> float:
    """Hardness where half is martensite. [HRC]"""
    refuse_negative("carbon_wt", carbon_wt)
    c = carbon_wt
    low = 22.974 + 6.214 * c + 356.364 * c**2
    return low - 1091.488 * c**3 + 1464.88 * c**4 - 750.441 * c**5
