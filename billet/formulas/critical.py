"""Critical temperatures of steel: where austenite begins, where ferrite and carbide are gone.

Ae is equilibrium, Ac is measured on heating. Each function is one regression of one paper, in
degrees Celsius from wt%. They are for low-alloy steel: none has meaning above about 2.5 % Cr, and
no Ac3 or Ae3 here has meaning above 0.75 % carbon. Expect 10 to 20 K of error in Ac1 and 30 K in Ac3.
"""

import math

from billet.composition import Composition
from billet.formulas.domain import refuse_impossible_temperature, refuse_negative
from billet.published import published
from billet.units import f_to_c


@published(
    "andrews-1965",
    where="equation for Ae1",
    equation="Ae1 = 723 - 10.7 Mn - 16.9 Ni + 29.1 Si + 16.9 Cr + 290 As + 6.38 W",
    unit="C",
    C=(0.0, 0.6),
    Cr=(0.0, 2.5),
)
def ae1_andrews_c(composition: Composition) -> float:
    """Equilibrium temperature at which austenite begins, after Andrews. [C]"""
    wt = composition
    return (
        723.0
        - 10.7 * wt["Mn"]
        - 16.9 * wt["Ni"]
        + 29.1 * wt["Si"]
        + 16.9 * wt["Cr"]
        + 290.0 * wt["As"]
        + 6.38 * wt["W"]
    )


@published(
    "andrews-1965",
    where="equation for Ae3",
    equation="Ae3 = 910 - 203 sqrt(C) - 15.2 Ni + 44.7 Si + 104 V + 31.5 Mo + 13.1 W"
    " - 30 Mn - 11 Cr - 20 Cu + 700 P + 400 Al + 120 As + 400 Ti",
    unit="C",
    note="Often copied with the signs of the last eight terms turned round; these are the right ones.",
    C=(0.0, 0.6),
    Cr=(0.0, 2.5),
)
def ae3_andrews_c(composition: Composition) -> float:
    """Equilibrium temperature at which the last ferrite is gone, after Andrews. [C]"""
    wt = composition
    raising = 44.7 * wt["Si"] + 104.0 * wt["V"] + 31.5 * wt["Mo"] + 13.1 * wt["W"]
    raising += 700.0 * wt["P"] + 400.0 * wt["Al"] + 120.0 * wt["As"] + 400.0 * wt["Ti"]
    lowering = 15.2 * wt["Ni"] + 30.0 * wt["Mn"] + 11.0 * wt["Cr"] + 20.0 * wt["Cu"]
    return 910.0 - 203.0 * math.sqrt(wt["C"]) + raising - lowering


@published(
    "grange-1961",
    where="equation for Ae1, given in Fahrenheit",
    equation="Ae1 [F] = 1333 - 25 Mn + 40 Si + 42 Cr - 26 Ni",
    unit="C",
    C=(0.0, 0.75),
    Cr=(0.0, 2.5),
)
def ae1_grange_c(composition: Composition) -> float:
    """Equilibrium temperature at which austenite begins, after Grange. [C]"""
    wt = composition
    return f_to_c(1333.0 - 25.0 * wt["Mn"] + 40.0 * wt["Si"] + 42.0 * wt["Cr"] - 26.0 * wt["Ni"])


@published(
    "grange-1961",
    where="equation for Ae3, given in Fahrenheit",
    equation="Ae3 [F] = 1570 - 323 C - 25 Mn + 80 Si - 3 Cr - 32 Ni",
    unit="C",
    C=(0.0, 0.75),
    Cr=(0.0, 2.5),
)
def ae3_grange_c(composition: Composition) -> float:
    """Equilibrium temperature at which the last ferrite is gone, after Grange. [C]"""
    wt = composition
    fahrenheit = 1570.0 - 323.0 * wt["C"] - 25.0 * wt["Mn"] + 80.0 * wt["Si"]
    return f_to_c(fahrenheit - 3.0 * wt["Cr"] - 32.0 * wt["Ni"])


@published(
    "eldis-1982",
    where="equation for Ae1",
    equation="Ae1 = 712 - 17.8 Mn - 19.1 Ni + 20.1 Si + 11.9 Cr + 9.8 Mo",
    unit="C",
    C=(0.0, 0.6),
    Cr=(0.0, 2.5),
)
def ae1_eldis_c(composition: Composition) -> float:
    """Equilibrium temperature at which austenite begins, after Eldis. [C]"""
    wt = composition
    raising = 20.1 * wt["Si"] + 11.9 * wt["Cr"] + 9.8 * wt["Mo"]
    return 712.0 - 17.8 * wt["Mn"] - 19.1 * wt["Ni"] + raising


@published(
    "eldis-1982",
    where="equation for Ae3",
    equation="Ae3 = 871 - 254.4 C - 14.2 Ni + 51.7 Si",
    unit="C",
    C=(0.0, 0.6),
    Cr=(0.0, 2.5),
)
def ae3_eldis_c(composition: Composition) -> float:
    """Equilibrium temperature at which the last ferrite is gone, after Eldis. [C]"""
    wt = composition
    return 871.0 - 254.4 * wt["C"] - 14.2 * wt["Ni"] + 51.7 * wt["Si"]


@published(
    "trzaska-2016",
    where="equation for Ac1",
    equation="Ac1 = 742 - 29 C - 14 Mn + 13 Si + 16 Cr - 17 Ni - 16 Mo + 45 V + 36 Cu",
    unit="C",
    basis="memory",
    C=(0.0, 0.68),
    Cr=(0.0, 2.5),
)
def ac1_trzaska_2016_c(composition: Composition) -> float:
    """Temperature at which austenite begins on heating, after Trzaska. [C]"""
    wt = composition
    raising = 13.0 * wt["Si"] + 16.0 * wt["Cr"] + 45.0 * wt["V"] + 36.0 * wt["Cu"]
    lowering = 29.0 * wt["C"] + 14.0 * wt["Mn"] + 17.0 * wt["Ni"] + 16.0 * wt["Mo"]
    return 742.0 + raising - lowering


@published(
    "trzaska-2016",
    where="equation for Ac3",
    equation="Ac3 = 925 - 219 sqrt(C) - 7 Mn + 39 Si - 16 Ni + 13 Mo + 97 V",
    unit="C",
    basis="memory",
    C=(0.0, 0.68),
    Cr=(0.0, 2.5),
)
def ac3_trzaska_2016_c(composition: Composition) -> float:
    """Temperature at which the last ferrite is gone on heating, after Trzaska. [C]"""
    wt = composition
    raising = 39.0 * wt["Si"] + 13.0 * wt["Mo"] + 97.0 * wt["V"]
    return 925.0 - 219.0 * math.sqrt(wt["C"]) - 7.0 * wt["Mn"] - 16.0 * wt["Ni"] + raising


@published(
    "iron-carbon-lines",
    where="austenite against cementite, fitted from 0.77 to 1.5 % C within 0.4 K",
    equation="Acm = 387.5 + 493.0 C - 61.45 C^2",
    unit="C",
    basis="memory",
    note="Plain iron and carbon. Carbide formers (Cr, V, W, Mo) keep carbide to higher temperatures.",
    carbon_wt=(0.77, 1.5),
)
def acm_iron_carbon_c(carbon_wt: float) -> float:
    """Temperature at which the last cementite dissolves in plain iron-carbon. [C]"""
    refuse_negative("carbon_wt", carbon_wt)
    return 387.5 + 493.0 * carbon_wt - 61.45 * carbon_wt**2


@published(
    "iron-carbon-lines",
    where="austenite against cementite, fitted from 727 to 1000 C",
    equation="C = -0.2853 + 4.293e-4 T + 1.391e-6 T^2",
    unit="wt%",
    basis="memory",
    temperature_c=(727.0, 1000.0),
)
def saturated_carbon_iron_wt(temperature_c: float) -> float:
    """Carbon in austenite that stands beside cementite, plain iron-carbon. [wt%]"""
    refuse_impossible_temperature("temperature_c", temperature_c)
    return -0.2853 + 4.293e-4 * temperature_c + 1.391e-6 * temperature_c**2


@published(
    "lee-lee-2007",
    where="equation for Acm",
    equation="Acm = 224.4 + 992.4 C - 465.1 C^2 + 46.7 Cr + 19 C Cr - 6.1 Cr^2 + 7.6 Mn + 10 Mo"
    " - 6.8 Cr Mo - 6.9 Ni + 3.7 C Ni - 2.7 Cr Ni + 0.8 Ni^2 + 16.7 Si",
    unit="C",
    note="Kept to show why it is not used: it peaks near 1.07 % C and then falls, 68 K too low at 1.0.",
    C=(0.2, 0.7),
)
def acm_lee_lee_c(composition: Composition) -> float:
    """Acm after Lee and Lee; wrong for steel with more carbon than the eutectoid, and not used. [C]"""
    wt = composition
    carbon, chromium, nickel = wt["C"], wt["Cr"], wt["Ni"]
    value = 224.4 + 992.4 * carbon - 465.1 * carbon**2 + 7.6 * wt["Mn"] + 16.7 * wt["Si"]
    value += 46.7 * chromium + 19.0 * carbon * chromium - 6.1 * chromium**2
    value += 10.0 * wt["Mo"] - 6.8 * chromium * wt["Mo"]
    return value - 6.9 * nickel + 3.7 * carbon * nickel - 2.7 * chromium * nickel + 0.8 * nickel**2
