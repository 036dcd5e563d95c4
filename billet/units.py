"""The only place where one unit becomes another.

Temperatures and differences of temperature are different things: 20 K more is 36 F more,
never 68 F. So each has its own function.
"""

import math

ZERO_CELSIUS_K = 273.15
MM_PER_INCH = 25.4
POUNDS_PER_KG = 1.0 / 0.45359237


def c_to_k(celsius: float) -> float:
    """Temperature in kelvin from degrees Celsius."""
    return celsius + ZERO_CELSIUS_K


def k_to_c(kelvin: float) -> float:
    """Temperature in degrees Celsius from kelvin."""
    return kelvin - ZERO_CELSIUS_K


GIVEN_IN_FAHRENHEIT = 0.02
"""Whole degrees Fahrenheit this near are what somebody gave."""


def c_to_f(celsius: float) -> float:
    """Temperature in degrees Fahrenheit from degrees Celsius."""
    return celsius * 1.8 + 32.0


def written_f(celsius: float) -> float:
    """Whole degrees Fahrenheit of the Celsius as it is written, so that 230 C is 446 F wherever it stands.

    A temperature that was given in whole degrees Fahrenheit keeps them.
    """
    exact = c_to_f(celsius)
    given = abs(exact - round(exact)) < GIVEN_IN_FAHRENHEIT
    return round(exact if given else c_to_f(round(celsius)))


def f_to_c(fahrenheit: float) -> float:
    """Temperature in degrees Celsius from degrees Fahrenheit."""
    return (fahrenheit - 32.0) / 1.8


GIVEN_DIFFERENCE_IN_FAHRENHEIT = 0.002
"""Whole Fahrenheit degrees of difference this near are what somebody gave."""
TENTHS_BELOW_K = 3.0
"""Differences of temperature smaller than this are written to a tenth of a kelvin."""


def _decimals_k(kelvins: float) -> int:
    return 1 if abs(kelvins) < TENTHS_BELOW_K else 0


def written_k(kelvins: float) -> float:
    """A difference in kelvins as it is written: whole, a tenth below 3 K."""
    return round(kelvins, _decimals_k(kelvins))


def written_k_below(kelvins: float) -> float:
    """A limit in kelvins down to what is written, so that no fire beyond it reads as inside it."""
    parts = 10.0 if abs(kelvins) < TENTHS_BELOW_K else 1.0
    return math.floor(kelvins * parts + 1e-6) / parts


def written_f_difference(kelvins: float) -> float:
    """Fahrenheit degrees of a difference as it is written in kelvins, as whole or to a tenth as those.

    One that was given in whole Fahrenheit degrees keeps them.
    """
    exact = k_difference_to_f(kelvins)
    if abs(exact - round(exact)) < GIVEN_DIFFERENCE_IN_FAHRENHEIT:
        return round(exact)
    return round(k_difference_to_f(written_k(kelvins)), _decimals_k(kelvins))


def k_difference_to_f(kelvins: float) -> float:
    """Difference of temperature in Fahrenheit degrees from a difference in kelvins."""
    return kelvins * 1.8


def written_minutes(minutes: float) -> float:
    """Minutes as they are written: whole from ten up, else to the half; under one, by five seconds."""
    if 0.0 < minutes < 0.96:
        return max(5 * round(minutes * 12), 5) / 60.0
    return float(round(minutes)) if minutes >= 10 else round(minutes * 2) / 2


def mm_to_inch(mm: float) -> float:
    """Length in inches from millimetres."""
    return mm / MM_PER_INCH


GIVEN_IN_64TH_INCH = 1e-4
"""A length this near to whole parts of 1/64 inch, in such parts, is what somebody gave in inches."""


def written_inch(mm: float, written_mm: float) -> float:
    """Inches of a length that stands beside them as `written_mm`: of those, so that the two agree.

    A length that was given in parts of an inch keeps them.
    """
    parts = 64.0 * mm_to_inch(mm)
    given = abs(parts - round(parts)) < GIVEN_IN_64TH_INCH
    return mm_to_inch(mm if given else written_mm)


def inch_to_mm(inch: float) -> float:
    """Length in millimetres from inches."""
    return inch * MM_PER_INCH


def kg_to_lb(kg: float) -> float:
    """Mass in pounds (avoirdupois) from kilograms."""
    return kg * POUNDS_PER_KG
