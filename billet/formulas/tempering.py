"""Tempered martensite: its hardness by carbon and alloy, and time against temperature."""

import math
from collections.abc import Mapping
from functools import cache

import numpy as np
from numpy.typing import NDArray

from billet.formulas.domain import refuse_impossible_temperature, refuse_negative, refuse_not_positive
from billet.formulas.hardness import MARTENSITE_PEAK_CARBON_WT, hrc_to_hv, martensite_hardness_hrc
from billet.published import published
from billet.units import c_to_k, k_to_c

Array = NDArray[np.float64]

HOLLOMON_JAFFE_CONSTANT = 20.0
MINUTES_PER_HOUR = 60.0

# Grange, Hribal and Porter 1977, one hour at heat: HV of iron-carbon martensite by carbon (columns) at each
# temperature (rows). Remembered (sd 27 HV against 66 measured points); beyond 1.0 % carried on flatly (own).
CHART_C = np.array([204.0, 260.0, 316.0, 371.0, 427.0])
CHART_CARBON_WT = np.array([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2])
CHART_HV = np.array(
    [
        [310.0, 405.0, 480.0, 535.0, 585.0, 635.0, 680.0, 715.0, 740.0, 755.0, 768.0],
        [298.0, 375.0, 440.0, 490.0, 530.0, 570.0, 605.0, 630.0, 650.0, 665.0, 676.0],
        [285.0, 345.0, 400.0, 440.0, 475.0, 505.0, 530.0, 550.0, 565.0, 575.0, 583.0],
        [260.0, 305.0, 345.0, 385.0, 415.0, 440.0, 460.0, 475.0, 487.0, 497.0, 505.0],
        [240.0, 280.0, 315.0, 345.0, 370.0, 390.0, 407.0, 420.0, 430.0, 438.0, 446.0],
    ]
)

# What an element adds in HV at the temperatures of the chart: for so much of it, the content at which more
# of it adds half as much for the same (own), the content beyond which it adds no more (own), all in wt%.
# Remembered, +-50 %; W is not in the paper and counts as half of molybdenum (own).
INCREMENTS_HV: dict[str, tuple[float, float, float, tuple[float, ...]]] = {
    "Mn": (0.5, 3.0, 2.0, (8.0, 13.0, 22.0, 30.0, 32.0)),
    "Si": (0.5, 1.0, 2.2, (10.0, 18.0, 30.0, 30.0, 24.0)),
    "P": (0.02, 0.1, 0.1, (2.0, 2.0, 2.0, 2.0, 2.0)),
    "Ni": (1.0, 8.0, 5.0, (8.0, 8.0, 8.0, 8.0, 8.0)),
    "Cr": (0.5, 2.0, 2.0, (6.0, 12.0, 20.0, 30.0, 38.0)),
    "Mo": (0.2, 1.0, 0.7, (4.0, 8.0, 13.0, 18.0, 24.0)),
    "W": (0.4, 2.0, 1.4, (4.0, 8.0, 13.0, 18.0, 24.0)),
    "V": (0.1, 0.4, 0.3, (3.0, 5.0, 10.0, 14.0, 20.0)),
}

# Below the chart: which share of the fall from as quenched to 204 C is done at a temperature, from the
# printed rows of 1095, W2 and O1 in HV (0.27 to 0.34 at 149, 0.66 to 0.76 at 177 C).
FALL_C = np.array([20.0, 93.0, 149.0, 177.0, 204.0])
FALL_FRAC = np.array([0.0, 0.03, 0.30, 0.70, 1.0])


@published(
    "hollomon-jaffe-1945",
    where="time-temperature parameter",
    equation="P = T_K (20 + log10 t_h)",
    unit="K",
    note="Time in HOURS belongs to the constant 20.",
    temperature_c=(100.0, 700.0),
)
def hollomon_jaffe(temperature_c: float, minutes: float, constant: float = HOLLOMON_JAFFE_CONSTANT) -> float:
    """Parameter that is equal for two tempers with the same result. [K]

    Raises OutOfDomain for an impossible temperature, or a time or constant not above 0.
    """
    refuse_impossible_temperature("temperature_c", temperature_c)
    refuse_not_positive("minutes", minutes)
    refuse_not_positive("constant", constant)
    return c_to_k(temperature_c) * (constant + math.log10(minutes / MINUTES_PER_HOUR))


@published(
    "hollomon-jaffe-1945",
    where="time-temperature parameter, solved for the temperature",
    equation="T2 = T1 (20 + log10 t1) / (20 + log10 t2), kelvin and hours",
    unit="C",
    temperature_c=(100.0, 700.0),
)
def equivalent_temperature_c(
    temperature_c: float,
    minutes: float,
    reference_minutes: float,
    constant: float = HOLLOMON_JAFFE_CONSTANT,
) -> float:
    """Temperature at which `reference_minutes` do what `minutes` do at `temperature_c`. [C]

    Raises OutOfDomain as hollomon_jaffe does, and for a reference so short that the sum is not above 0.
    """
    refuse_not_positive("reference_minutes", reference_minutes)
    divisor = constant + math.log10(reference_minutes / MINUTES_PER_HOUR)
    refuse_not_positive("constant and reference_minutes together", divisor)
    return k_to_c(hollomon_jaffe(temperature_c, minutes, constant) / divisor)


@published(
    "tempering-constant",
    where="constant against carbon",
    equation="K = 21.3 - 5.8 C",
    unit="1",
    carbon_wt=(0.0, 1.2),
)
def hollomon_jaffe_constant(carbon_wt: float) -> float:
    """Constant of the parameter for a carbon content; the usual 20 belongs to about 0.2 %. [1]"""
    refuse_negative("carbon_wt", carbon_wt)
    return 21.3 - 5.8 * carbon_wt


def one_hour_temperature_c(temperature_c: Array | float, minutes: float) -> Array:
    """Temperature at which one hour does what `minutes` do, element by element. [C]

    Hollomon and Jaffe 1945 with the constant 20. Raises OutOfDomain for a time not above 0.
    """
    refuse_not_positive("minutes", minutes)
    factor = 1.0 + math.log10(minutes / MINUTES_PER_HOUR) / HOLLOMON_JAFFE_CONSTANT
    zero_c = c_to_k(0.0)
    return np.asarray((np.asarray(temperature_c, dtype=float) + zero_c) * factor - zero_c)


def martensite_hv(carbon_wt: Array) -> Array:
    """Vickers hardness of all martensite as quenched, by carbon, element by element."""
    carbon, hardness = _martensite_line()
    return np.asarray(np.interp(carbon_wt, carbon, hardness))


@cache
def _martensite_line() -> tuple[Array, Array]:
    """Carbon in wt% and HV of all martensite, by hundredths up to where the hardness is held."""
    carbon = np.linspace(0.0, MARTENSITE_PEAK_CARBON_WT, 71)
    return carbon, np.array([hrc_to_hv(martensite_hardness_hrc(c)) for c in carbon])


@published(
    "grange-hribal-porter-1977",
    where="charts of tempered iron-carbon martensite and of what each element adds, one hour",
    equation="HV = HV(C, T) + sum of what each element adds at T",
    unit="HV",
    basis="memory",
    note=(
        "The abstract was read; the charts and the additions are remembered. Against 66 points measured by "
        "Grange and Baughman 1956 they are 0.3 HRC high with a standard deviation of 1.8 HRC. Below 204 C "
        "a share of the fall from as quenched, from printed rows of 1095, W2 and O1."
    ),
    C=(0.1, 1.0),
    temperature_c=(204.0, 427.0),
)
def tempered_martensite_hv(wt: Mapping[str, Array], temperature_c: Array | float) -> Array:
    """Vickers hardness of martensite tempered for one hour. [HV]

    `wt` holds elements in wt%, each (samples,); `temperature_c`, held at 427 C, a number, (samples,) or
    (temperatures, 1), which gives (temperatures, samples). Continuous in all of them; never above martensite
    as quenched, nor rising with the temperature where silicon and chromium together would add more than the
    chart falls.
    """
    carbon = np.asarray(wt["C"], dtype=float)
    temperature = np.asarray(temperature_c, dtype=float)
    quenched = martensite_hv(carbon)
    nodes = np.array([np.interp(carbon, CHART_CARBON_WT, row) for row in CHART_HV])
    for element, (amount_wt, half_wt, most_wt, added) in INCREMENTS_HV.items():
        if element in wt:
            content = np.minimum(np.asarray(wt[element], dtype=float), most_wt)
            parts = content / (1.0 + content / half_wt) / (amount_wt / (1.0 + amount_wt / half_wt))
            nodes = nodes + np.multiply.outer(np.array(added), parts)
    nodes = np.minimum.accumulate(np.minimum(nodes, quenched), axis=0)
    place = np.interp(temperature, CHART_C, np.arange(len(CHART_C), dtype=float))
    weights = np.maximum(0.0, 1.0 - np.abs(np.arange(len(CHART_C)) - place[..., None]))
    on_chart = np.sum(weights * np.moveaxis(nodes, 0, -1), axis=-1)
    fall = np.interp(temperature, FALL_C, FALL_FRAC)
    return np.asarray(np.where(temperature < CHART_C[0], quenched - fall * (quenched - nodes[0]), on_chart))
