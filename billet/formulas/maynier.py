"""Critical cooling rates and hardness of low-alloy steel, after Maynier, Dollet and Bastien (1978).

Cooling is counted in K/h at 700 C. PA is the austenitising parameter, here in degrees Celsius: the
temperature that does in one hour what the real heating did. Fitted, by memory, to C 0.1-0.5, Si < 1,
Mn < 2, Ni < 4, Cr < 3, Mo < 1, V < 0.2, and Mn + Ni + Cr + Mo < 5. Above 0.5 % carbon the martensite
line is impossible (1181 HV at 1.0 %), so there the hardness functions refuse.
"""

import math
from typing import Literal

from billet.composition import Composition
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_not_positive
from billet.published import published
from billet.units import c_to_k, k_to_c

Structure = Literal[
    "100 martensite",
    "90 martensite",
    "50 martensite",
    "100 bainite",
    "90 bainite",
    "50 bainite",
    "90 ferrite-pearlite",
    "100 ferrite-pearlite",
]
ACTIVATION_J_MOL = 460e3
GAS_CONSTANT_J_MOL_K = 8.314
SECONDS_PER_HOUR = 3600.0
HARDNESS_CARBON_LIMIT_WT = 0.5
# Rows: constant, then what is taken off for each wt% of C, Mn, Ni, Cr, Mo and each degree of PA.
VELOCITY: dict[str, tuple[float, float, float, float, float, float, float]] = {
    "100 martensite": (9.81, 4.62, 1.05, 0.54, 0.50, 0.66, 0.00183),
    "90 martensite": (8.76, 4.04, 0.96, 0.49, 0.58, 0.97, 0.0010),
    "50 martensite": (8.50, 4.12, 0.86, 0.57, 0.41, 0.94, 0.0012),
    "100 bainite": (10.17, 3.80, 1.07, 0.70, 0.57, 1.58, 0.0032),
    "90 bainite": (10.55, 3.65, 1.08, 0.77, 0.61, 1.49, 0.0040),
    "50 bainite": (8.74, 2.23, 0.86, 0.56, 0.59, 1.60, 0.0032),
    "90 ferrite-pearlite": (7.51, 1.38, 0.35, 0.93, 0.11, 2.31, 0.0033),
    "100 ferrite-pearlite": (6.36, 0.43, 0.49, 0.78, 0.27, 0.38, 0.0019),
}


@published(
    "maynier-1978",
    where="austenitising parameter",
    equation="PA = 1 / (1/T - (R/dH) ln t_h) with dH = 460 kJ/mol, T in K, given in C",
    unit="C",
    note="The activation energy is from memory.",
)
def austenitising_parameter_c(temperature_c: float, minutes: float) -> float:
    """Temperature that in one hour does what `minutes` at `temperature_c` do. [C]

    Raises OutOfDomain for an impossible temperature or a time that is not above 0.
    """
    refuse_impossible_temperature("temperature_c", temperature_c)
    refuse_not_positive("minutes", minutes)
    slope = GAS_CONSTANT_J_MOL_K / ACTIVATION_J_MOL
    return k_to_c(1.0 / (1.0 / c_to_k(temperature_c) - slope * math.log(minutes / 60.0)))


@published(
    "maynier-1978",
    where="critical velocities at 700 C",
    equation="log10 V [K/h] = a - b C - c Mn - d Ni - e Cr - f Mo - g PA (last row: - 2 sqrt(Mo))",
    unit="K/s",
    C=(0.1, 0.5),
    Si=(0.0, 1.0),
    Mn=(0.0, 2.0),
    Ni=(0.0, 4.0),
    Cr=(0.0, 3.0),
    Mo=(0.0, 1.0),
    V=(0.0, 0.2),
)
def critical_velocity_k_s(structure: Structure, composition: Composition, parameter_c: float) -> float:
    """Cooling at 700 C at which the structure named just forms. [K/s]

    Raises OutOfDomain for an unknown structure or an impossible temperature.
    """
    if structure not in VELOCITY:
        raise OutOfDomain("structure", structure, f"one of {', '.join(VELOCITY)}")
    refuse_impossible_temperature("parameter_c", parameter_c)
    constant, carbon, manganese, nickel, chromium, molybdenum, heat = VELOCITY[structure]
    wt = composition
    exponent = constant - carbon * wt["C"] - manganese * wt["Mn"] - nickel * wt["Ni"]
    exponent -= chromium * wt["Cr"] + molybdenum * wt["Mo"] + heat * parameter_c
    if structure == "100 ferrite-pearlite":
        exponent -= 2.0 * math.sqrt(wt["Mo"])
    return float(10.0**exponent) / SECONDS_PER_HOUR


def _log_velocity(composition: Composition, velocity_k_s: float) -> float:
    """log10 of the cooling in K/h, after refusing what the hardness lines cannot do."""
    refuse_not_positive("velocity_k_s", velocity_k_s)
    if composition["C"] > HARDNESS_CARBON_LIMIT_WT:
        raise OutOfDomain("carbon for a Maynier hardness", composition["C"], "0.5 wt% or less")
    return math.log10(velocity_k_s * SECONDS_PER_HOUR)


@published(
    "maynier-1978",
    where="hardness of martensite",
    equation="HV = 127 + 949 C + 27 Si + 11 Mn + 8 Ni + 16 Cr + 21 log V",
    unit="HV",
    C=(0.1, 0.5),
    Si=(0.0, 1.0),
    Mn=(0.0, 2.0),
    Ni=(0.0, 4.0),
    Cr=(0.0, 3.0),
)
def martensite_hardness_hv(composition: Composition, velocity_k_s: float) -> float:
    """Hardness of martensite formed at a cooling rate. [HV] Refuses carbon above 0.5 %."""
    wt, log_velocity = composition, _log_velocity(composition, velocity_k_s)
    alloy = 27.0 * wt["Si"] + 11.0 * wt["Mn"] + 8.0 * wt["Ni"] + 16.0 * wt["Cr"]
    return 127.0 + 949.0 * wt["C"] + alloy + 21.0 * log_velocity


@published(
    "maynier-1978",
    where="hardness of bainite",
    equation="HV = -323 + 185 C + 330 Si + 153 Mn + 65 Ni + 144 Cr + 191 Mo"
    " + (89 + 53 C - 55 Si - 22 Mn - 10 Ni - 20 Cr - 33 Mo) log V",
    unit="HV",
    C=(0.1, 0.5),
    Si=(0.0, 1.0),
    Mn=(0.0, 2.0),
    Ni=(0.0, 4.0),
    Cr=(0.0, 3.0),
    Mo=(0.0, 1.0),
)
def bainite_hardness_hv(composition: Composition, velocity_k_s: float) -> float:
    """Hardness of bainite formed at a cooling rate. [HV] Refuses carbon above 0.5 %."""
    wt, log_velocity = composition, _log_velocity(composition, velocity_k_s)
    fixed = -323.0 + 185.0 * wt["C"] + 330.0 * wt["Si"] + 153.0 * wt["Mn"]
    fixed += 65.0 * wt["Ni"] + 144.0 * wt["Cr"] + 191.0 * wt["Mo"]
    slope = 89.0 + 53.0 * wt["C"] - 55.0 * wt["Si"] - 22.0 * wt["Mn"]
    slope -= 10.0 * wt["Ni"] + 20.0 * wt["Cr"] + 33.0 * wt["Mo"]
    return fixed + slope * log_velocity


@published(
    "maynier-1978",
    where="hardness of ferrite and pearlite",
    equation="HV = 42 + 223 C + 53 Si + 30 Mn + 12.6 Ni + 7 Cr + 19 Mo"
    " + (10 - 19 Si + 4 Ni + 8 Cr + 130 V) log V",
    unit="HV",
    C=(0.1, 0.5),
    Si=(0.0, 1.0),
    Mn=(0.0, 2.0),
    Ni=(0.0, 4.0),
    Cr=(0.0, 3.0),
    Mo=(0.0, 1.0),
    V=(0.0, 0.2),
)
def ferrite_pearlite_hardness_hv(composition: Composition, velocity_k_s: float) -> float:
    """Hardness of ferrite and pearlite formed at a cooling rate. [HV] Refuses carbon above 0.5 %."""
    wt, log_velocity = composition, _log_velocity(composition, velocity_k_s)
    fixed = 42.0 + 223.0 * wt["C"] + 53.0 * wt["Si"] + 30.0 * wt["Mn"]
    fixed += 12.6 * wt["Ni"] + 7.0 * wt["Cr"] + 19.0 * wt["Mo"]
    slope = 10.0 - 19.0 * wt["Si"] + 4.0 * wt["Ni"] + 8.0 * wt["Cr"] + 130.0 * wt["V"]
    return fixed + slope * log_velocity
