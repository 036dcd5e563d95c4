"""Time against temperature in tempering.

No published closed formula for hardness after tempering was found for steel with 0.8 % carbon or
more at 150 to 300 C, so hardness comes from tabulated curves; these functions only trade minutes for
degrees.
"""

import math

from billet.formulas.domain import refuse_impossible_temperature, refuse_negative, refuse_not_positive
from billet.published import published
from billet.units import c_to_k, k_to_c

HOLLOMON_JAFFE_CONSTANT = 20.0
MINUTES_PER_HOUR = 60.0


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
