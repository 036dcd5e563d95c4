"""Numbers as they are written: what stands in both units agrees, and parts add up to their sum.

Rounded here, worded in wording.py. What a person gave in the other unit keeps the number that was given.
"""

import math

from billet.units import c_to_f, k_difference_to_f, mm_to_inch

GIVEN_IN_FAHRENHEIT = 0.02
"""Whole degrees Fahrenheit this near are what somebody gave."""
GIVEN_DIFFERENCE_IN_FAHRENHEIT = 0.002
"""Whole Fahrenheit degrees of difference this near are what somebody gave."""
TENTHS_BELOW_K = 3.0
"""Differences of temperature smaller than this are written to a tenth of a kelvin."""
GIVEN_IN_64TH_INCH = 1e-4
"""A length this near to whole parts of 1/64 inch, in such parts, is what somebody gave in inches."""


def f(celsius: float) -> float:
    """Whole degrees Fahrenheit of the Celsius as it is written, so that 230 C is 446 F wherever it stands.

    A temperature that was given in whole degrees Fahrenheit keeps them.
    """
    exact = c_to_f(celsius)
    given = abs(exact - round(exact)) < GIVEN_IN_FAHRENHEIT
    return round(exact if given else c_to_f(round(celsius)))


def _decimals_k(kelvins: float) -> int:
    return 1 if abs(round(kelvins, 1)) < TENTHS_BELOW_K else 0


def k(kelvins: float) -> float:
    """A difference in kelvins as it is written: whole, a tenth below 3 K."""
    return round(kelvins, _decimals_k(kelvins))


def k_below(kelvins: float) -> float:
    """A limit in kelvins down to what is written, so that no fire beyond it reads as inside it."""
    parts = 10.0 if abs(kelvins) < TENTHS_BELOW_K else 1.0
    return math.floor(kelvins * parts + 1e-6) / parts


def f_difference(kelvins: float) -> float:
    """Fahrenheit degrees of a difference as it is written in kelvins, whole or to a tenth as those.

    One that was given in whole Fahrenheit degrees keeps them.
    """
    exact = k_difference_to_f(kelvins)
    if abs(exact - round(exact)) < GIVEN_DIFFERENCE_IN_FAHRENHEIT:
        return round(exact)
    return round(k_difference_to_f(k(kelvins)), _decimals_k(kelvins))


def in_minutes(minutes: float) -> float:
    """Minutes as they are written: whole from ten up, else to the half; under one, by five seconds."""
    if 0.0 < minutes < 0.96:
        return max(5 * round(minutes * 12), 5) / 60.0
    return float(round(minutes)) if minutes >= 10 else round(minutes * 2) / 2


def decimals_mm(mm: float) -> int:
    """How many decimals of a length are written."""
    return 2 if abs(mm) < 1 else 1 if abs(mm) < 100 else 0


def inches(mm: float) -> float:
    """Inches of a length as it is written in millimetres, so that the two agree where they stand together.

    A length that was given in parts of an inch keeps them.
    """
    parts = 64.0 * mm_to_inch(mm)
    given = abs(parts - round(parts)) < GIVEN_IN_64TH_INCH
    return mm_to_inch(mm if given else round(mm, decimals_mm(mm)))
