"""Refusals that every formula shares: numbers that cannot exist."""

import math

from billet.errors import OutOfDomain
from billet.units import ZERO_CELSIUS_K


def refuse_impossible_temperature(name: str, temperature_c: float) -> None:
    """Raise OutOfDomain for a temperature at or below absolute zero, or not finite."""
    if not (math.isfinite(temperature_c) and temperature_c > -ZERO_CELSIUS_K):
        raise OutOfDomain(name, temperature_c, "a number above -273.15 C")


def refuse_not_positive(name: str, value: float) -> None:
    """Raise OutOfDomain unless the value is finite and above 0."""
    if not (math.isfinite(value) and value > 0.0):
        raise OutOfDomain(name, value, "a number above 0")


def refuse_negative(name: str, value: float) -> None:
    """Raise OutOfDomain unless the value is finite and 0 or more."""
    if not (math.isfinite(value) and value >= 0.0):
        raise OutOfDomain(name, value, "a number of 0 or more")


def refuse_no_fraction(name: str, value: float) -> None:
    """Raise OutOfDomain unless the value lies between 0 and 1, ends included."""
    if not 0.0 <= value <= 1.0:
        raise OutOfDomain(name, value, "between 0 and 1")


def refuse_not_finite(name: str, value: float) -> None:
    """Raise OutOfDomain for nan and infinity."""
    if not math.isfinite(value):
        raise OutOfDomain(name, value, "a finite number")
