"""Where martensite begins, and how much austenite it leaves.

Every composition here is what is DISSOLVED in the austenite, not the analysis of the bar: carbon and
chromium bound in carbide do not lower Ms. Regressions miss measured values by 20 to 25 K.
"""

import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

from billet.composition import Columns, Composition
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_negative, refuse_not_finite
from billet.published import published
from billet.units import f_to_c, k_to_c

KOISTINEN_MARBURGER_PER_K = 0.011

Array = npt.NDArray[np.float64]
Exponential = Callable[[Any], Any]


@published(
    "van-bohemen-2012",
    where="equation for Ms",
    equation="Ms = 565 - 600 (1 - exp(-0.96 C)) - 31 Mn - 13 Si - 10 Cr - 18 Ni - 12 Mo",
    unit="C",
    note="The one used here: it stays sensible at high carbon.",
    C=(0.1, 1.9),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_van_bohemen_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after van Bohemen. [C]"""
    return float(_ms_van_bohemen(composition, math.exp))


def ms_van_bohemen_of(wt: Mapping[str, Array]) -> Array:
    """`ms_van_bohemen_c` of many analyses, each element (samples,). [C]"""
    found: Array = _ms_van_bohemen(Columns(wt), np.exp)
    return found


def _ms_van_bohemen(wt: Any, exp: Exponential) -> Any:
    alloy = 31.0 * wt["Mn"] + 13.0 * wt["Si"] + 10.0 * wt["Cr"] + 18.0 * wt["Ni"] + 12.0 * wt["Mo"]
    return 565.0 - 600.0 * (1.0 - exp(-0.96 * wt["C"])) - alloy


@published(
    "ingber-kunert-2022",
    where="equation for Ms",
    equation="Ms = 530.2 - 290.3 C - 35.5 Mn - 6.8 Si - 17.2 Ni - 20.8 Cr - 10.4 Mo + 7.1 Al + 4.8 Co"
    " - 75 (1 - exp(-0.96 C))",
    unit="C",
    note="Made for high carbon; the second opinion beside van Bohemen.",
    C=(0.1, 1.9),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_ingber_kunert_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after Ingber and Kunert. [C]"""
    wt = composition
    lowering = 290.3 * wt["C"] + 75.0 * (1.0 - math.exp(-0.96 * wt["C"]))
    lowering += 35.5 * wt["Mn"] + 6.8 * wt["Si"] + 17.2 * wt["Ni"] + 20.8 * wt["Cr"] + 10.4 * wt["Mo"]
    return 530.2 - lowering + 7.1 * wt["Al"] + 4.8 * wt["Co"]


@published(
    "andrews-1965",
    where="linear equation for Ms",
    equation="Ms = 539 - 423 C - 30.4 Mn - 17.7 Ni - 12.1 Cr - 7.5 Mo",
    unit="C",
    note="At 1.0 % carbon it lies about 75 K under the formulas made for high carbon.",
    C=(0.0, 0.6),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_andrews_linear_c(composition: Composition) -> float:
    """Temperature at which martensite begins, linear form of Andrews. [C]"""
    wt = composition
    alloy = 30.4 * wt["Mn"] + 17.7 * wt["Ni"] + 12.1 * wt["Cr"] + 7.5 * wt["Mo"]
    return 539.0 - 423.0 * wt["C"] - alloy


@published(
    "andrews-1965",
    where="product equation for Ms",
    equation="Ms = 512 - 453 C - 16.9 Ni + 15 Cr - 9.5 Mo + 217 C^2 - 71.5 C Mn - 67.6 C Cr",
    unit="C",
    note="Its square term turns it upwards above 1.0 % carbon: not for use over 0.6 %.",
    C=(0.0, 0.6),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_andrews_product_c(composition: Composition) -> float:
    """Temperature at which martensite begins, product form of Andrews. [C]"""
    wt = composition
    carbon = wt["C"]
    products = 217.0 * carbon**2 - 71.5 * carbon * wt["Mn"] - 67.6 * carbon * wt["Cr"]
    return 512.0 - 453.0 * carbon - 16.9 * wt["Ni"] + 15.0 * wt["Cr"] - 9.5 * wt["Mo"] + products


@published(
    "steven-haynes-1956",
    where="equation for Ms",
    equation="Ms = 561 - 474 C - 33 Mn - 17 Cr - 17 Ni - 21 Mo",
    unit="C",
    note="The range of carbon is from memory.",
    C=(0.1, 0.55),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_steven_haynes_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after Steven and Haynes. [C]"""
    wt = composition
    alloy = 33.0 * wt["Mn"] + 17.0 * wt["Cr"] + 17.0 * wt["Ni"] + 21.0 * wt["Mo"]
    return 561.0 - 474.0 * wt["C"] - alloy


@published(
    "steven-haynes-correction",
    where="correction for carbon above 0.53 %",
    equation="0 below 0.53 % C, else 242.42 C^3 - 357.26 C^2 + 272.65 C - 80.103",
    unit="K",
    carbon_wt=(0.0, 1.2),
)
def steven_haynes_carbon_correction_k(carbon_wt: float) -> float:
    """What is added to the Ms of Steven and Haynes in steel of higher carbon. [K]"""
    refuse_negative("carbon_wt", carbon_wt)
    if carbon_wt < 0.53:
        return 0.0
    return 242.42 * carbon_wt**3 - 357.26 * carbon_wt**2 + 272.65 * carbon_wt - 80.103


@published(
    "steven-haynes-1956",
    where="equation for Ms with the correction for carbon",
    equation="Ms (Steven and Haynes) + correction",
    unit="C",
    C=(0.1, 1.2),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_steven_haynes_corrected_c(composition: Composition) -> float:
    """Temperature at which martensite begins, Steven and Haynes with the carbon correction. [C]"""
    return ms_steven_haynes_c(composition) + steven_haynes_carbon_correction_k(composition["C"])


@published(
    "kung-rayment-1982",
    where="Andrews, linear, with terms for Co and Si",
    equation="Ms = 539 - 423 C - 30.4 Mn - 17.7 Ni - 12.1 Cr - 7.5 Mo + 10 Co - 7.5 Si",
    unit="C",
    C=(0.0, 0.6),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_kung_rayment_andrews_c(composition: Composition) -> float:
    """Temperature at which martensite begins, Andrews as changed by Kung and Rayment. [C]"""
    return ms_andrews_linear_c(composition) + 10.0 * composition["Co"] - 7.5 * composition["Si"]


@published(
    "kung-rayment-1982",
    where="Steven and Haynes with terms for Co and Si",
    equation="Ms = 561 - 474 C - 33 Mn - 17 Cr - 17 Ni - 21 Mo + 10 Co - 7.5 Si",
    unit="C",
    C=(0.1, 0.55),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_kung_rayment_steven_haynes_c(composition: Composition) -> float:
    """Temperature at which martensite begins, Steven-Haynes as changed by Kung and Rayment. [C]"""
    return ms_steven_haynes_c(composition) + 10.0 * composition["Co"] - 7.5 * composition["Si"]


@published(
    "payson-savage-1944",
    where="equation for Ms, given in Fahrenheit",
    equation="Ms [F] = 930 - 570 C - 60 Mn - 50 Cr - 30 Ni - 20 Si - 20 Mo",
    unit="C",
    note="One transcription adds -20 W; left out here. With 600 C for 570 C it is Rowland and Lyle's.",
    C=(0.1, 1.2),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_payson_savage_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after Payson and Savage. [C]"""
    wt = composition
    alloy = 60.0 * wt["Mn"] + 50.0 * wt["Cr"] + 30.0 * wt["Ni"] + 20.0 * wt["Si"] + 20.0 * wt["Mo"]
    return f_to_c(930.0 - 570.0 * wt["C"] - alloy)


@published(
    "capdevila-2002",
    where="equation for Ms, given in kelvin",
    equation="Ms [K] = 764.2 - 302.6 C - 30.6 Mn - 16.6 Ni - 8.9 Cr + 2.4 Mo + 8.58 Co - 14.5 Si"
    " - 11.3 Cu + 7.4 W",
    unit="C",
    note="The terms for Cu and W are from memory.",
    C=(0.0, 1.2),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_capdevila_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after Capdevila and others. [C]"""
    wt = composition
    lowering = 302.6 * wt["C"] + 30.6 * wt["Mn"] + 16.6 * wt["Ni"] + 8.9 * wt["Cr"]
    lowering += 14.5 * wt["Si"] + 11.3 * wt["Cu"]
    return k_to_c(764.2 - lowering + 2.4 * wt["Mo"] + 8.58 * wt["Co"] + 7.4 * wt["W"])


@published(
    "barbier-2014",
    where="equation for Ms",
    equation="Ms = 545 - 601.2 (1 - exp(-0.868 C)) - 34.4 Mn - 13.7 Si - 9.2 Cr - 17.3 Ni - 15.4 Mo"
    " + 10.8 V + 4.7 Co - 1.4 Al - 16.3 Cu - 361 Nb - 2.44 Ti - 3448 B",
    unit="C",
    C=(0.0, 1.9),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def ms_barbier_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after Barbier. [C]"""
    wt = composition
    common = 34.4 * wt["Mn"] + 13.7 * wt["Si"] + 9.2 * wt["Cr"] + 17.3 * wt["Ni"] + 15.4 * wt["Mo"]
    rare = 1.4 * wt["Al"] + 16.3 * wt["Cu"] + 361.0 * wt["Nb"] + 2.44 * wt["Ti"] + 3448.0 * wt["B"]
    carbon = 601.2 * (1.0 - math.exp(-0.868 * wt["C"]))
    return 545.0 - carbon - common - rare + 10.8 * wt["V"] + 4.7 * wt["Co"]


@published(
    "trzaska-2016",
    where="equation for Ms",
    equation="Ms = 541 - 401 C - 36 Mn - 10.5 Si - 14 Cr - 18 Ni - 17 Mo",
    unit="C",
    C=(0.0, 0.68),
    Cr=(0.0, 2.5),
    Ni=(0.0, 5.0),
)
def ms_trzaska_2016_c(composition: Composition) -> float:
    """Temperature at which martensite begins, after Trzaska. [C]"""
    wt = composition
    alloy = 36.0 * wt["Mn"] + 10.5 * wt["Si"] + 14.0 * wt["Cr"] + 18.0 * wt["Ni"] + 17.0 * wt["Mo"]
    return 541.0 - 401.0 * wt["C"] - alloy


@published(
    "van-bohemen-2012",
    where="equation for the rate parameter",
    equation="alpha = 1e-3 (27.2 - 0.14 Mn - 0.21 Si - 0.11 Cr - 0.08 Ni - 0.05 Mo"
    " - 19.8 (1 - exp(-1.56 C)))",
    unit="1/K",
    note="Belongs to the Ms of the same paper.",
    C=(0.1, 1.9),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def alpha_van_bohemen_per_k(composition: Composition) -> float:
    """Share of the remaining austenite that turns for each kelvin under Ms. [1/K]

    Raises OutOfDomain for an analysis so far off that the rate would not be above 0.
    """
    alpha = float(_alpha_van_bohemen(composition, math.exp))
    if not alpha > 0.0:
        raise OutOfDomain("rate of martensite for this analysis", alpha, "above 0")
    return alpha


def _alpha_van_bohemen(wt: Any, exp: Exponential) -> Any:
    alloy = 0.14 * wt["Mn"] + 0.21 * wt["Si"] + 0.11 * wt["Cr"] + 0.08 * wt["Ni"] + 0.05 * wt["Mo"]
    return 1e-3 * (27.2 - alloy - 19.8 * (1.0 - exp(-1.56 * wt["C"])))


@published(
    "koistinen-marburger-1959",
    where="equation for retained austenite",
    equation="RA = exp(-0.011 (Ms - Tq)), 1 when Tq is not below Ms",
    unit="fraction",
)
def retained_austenite_koistinen_marburger(ms_c: float, quench_c: float = 20.0) -> float:
    """Austenite left after a quench to `quench_c`, after Koistinen and Marburger. [fraction]"""
    refuse_not_finite("ms_c", ms_c)
    refuse_impossible_temperature("quench_c", quench_c)
    return math.exp(-KOISTINEN_MARBURGER_PER_K * max(ms_c - quench_c, 0.0))


@published(
    "van-bohemen-2012",
    where="Koistinen-Marburger form with his Ms and rate",
    equation="RA = exp(-alpha (Ms - Tq)), 1 when Tq is not below Ms",
    unit="fraction",
    note="No slow cooling, holding or tempering in it. Low against measurement in 52100 kinds.",
    C=(0.1, 1.9),
    Cr=(0.0, 5.0),
    Ni=(0.0, 5.0),
)
def retained_austenite_van_bohemen(composition: Composition, quench_c: float = 20.0) -> float:
    """Austenite left after a quench to `quench_c`, with Ms and rate of van Bohemen. [fraction]"""
    refuse_impossible_temperature("quench_c", quench_c)
    below_ms_k = max(ms_van_bohemen_c(composition) - quench_c, 0.0)
    return math.exp(-alpha_van_bohemen_per_k(composition) * below_ms_k)


def retained_austenite_of(wt: Mapping[str, Array], ms_c: Array, quench_c: float | Array = 20.0) -> Array:
    """Austenite left of many analyses with the rate of van Bohemen under this Ms: (samples,). [fraction]

    A rate that would not be above 0 is taken as 0: all of it stays austenite.
    """
    alpha = np.maximum(_alpha_van_bohemen(Columns(wt), np.exp), 0.0)
    found: Array = np.exp(-alpha * np.maximum(ms_c - quench_c, 0.0))
    return found
