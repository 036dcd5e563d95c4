"""The only place where one unit becomes another.

Temperatures and differences of temperature are different things: 20 K more is 36 F more,
never 68 F. So each has its own function.
"""

ZERO_CELSIUS_K = 273.15
MM_PER_INCH = 25.4
POUNDS_PER_KG = 1.0 / 0.45359237


def c_to_k(celsius: float) -> float:
    """Temperature in kelvin from degrees Celsius."""
    return celsius + ZERO_CELSIUS_K


def k_to_c(kelvin: float) -> float:
    """Temperature in degrees Celsius from kelvin."""
    return kelvin - ZERO_CELSIUS_K


def c_to_f(celsius: float) -> float:
    """Temperature in degrees Fahrenheit from degrees Celsius."""
    return celsius * 1.8 + 32.0


def f_to_c(fahrenheit: float) -> float:
    """Temperature in degrees Celsius from degrees Fahrenheit."""
    return (fahrenheit - 32.0) / 1.8


def k_difference_to_f(kelvins: float) -> float:
    """Difference of temperature in Fahrenheit degrees from a difference in kelvins."""
    return kelvins * 1.8


def mm_to_inch(mm: float) -> float:
    """Length in inches from millimetres."""
    return mm / MM_PER_INCH


def inch_to_mm(inch: float) -> float:
    """Length in millimetres from inches."""
    return inch * MM_PER_INCH


def kg_to_lb(kg: float) -> float:
    """Mass in pounds (avoirdupois) from kilograms."""
    return kg * POUNDS_PER_KG
