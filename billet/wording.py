"""The only place that rounds and writes units.

Every number a person reads passes through here. A thin space stands between number and unit; a
temperature is always written both ways; a difference of temperatures is never written as a
temperature.
"""

from typing import Literal

from billet.units import c_to_f, k_difference_to_f, kg_to_lb, mm_to_inch

Units = Literal["mm", "inch"]
THIN = "\u202f"


def _plain(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0 else text.replace("-", "\u2212")


def temperature(celsius: float) -> str:
    """A temperature both ways: 805 °C / 1481 °F."""
    fahrenheit = _plain(c_to_f(celsius), 0)
    return f"{_plain(celsius, 0)}{THIN}°C / {fahrenheit}{THIN}°F"


def temperature_range(low_c: float, high_c: float) -> str:
    """A range of temperatures both ways: 790 to 820 °C / 1454 to 1508 °F."""
    fahrenheit = f"{_plain(c_to_f(low_c), 0)} to {_plain(c_to_f(high_c), 0)}"
    return f"{_plain(low_c, 0)} to {_plain(high_c, 0)}{THIN}°C / {fahrenheit}{THIN}°F"


def difference(kelvins: float) -> str:
    """A difference of temperatures both ways: 20 °C (36 °F) apart, never 68."""
    return f"{_plain(kelvins, 0)}{THIN}K / {_plain(k_difference_to_f(kelvins), 0)}{THIN}°F steps"


def length(mm: float, units: Units = "mm") -> str:
    """A length in the units of the sheet, three figures or a tenth of a millimetre."""
    if units == "inch":
        inches = mm_to_inch(mm)
        return f"{_plain(inches, 3 if inches < 1 else 2)}{THIN}in"
    return f"{_plain(mm, 2 if mm < 1 else 1 if mm < 100 else 0)}{THIN}mm"


def micrometres(um: float, units: Units = "mm") -> str:
    """A layer's thickness: micrometres, from 1000 up millimetres, or thousandths of an inch."""
    if units == "inch":
        return f"{_plain(mm_to_inch(um) , 1 if um < 2500 else 0)}{THIN}thou"
    if um >= 1000:
        return length(um / 1000, "mm")
    return f"{_plain(um, 1 if um < 10 else 0)}{THIN}µm"


def mass(kg: float, units: Units = "mm") -> str:
    """A mass in kilograms, or in pounds where the shop measures in inches."""
    if units == "inch":
        return f"{_plain(kg_to_lb(kg), 2)}{THIN}lb"
    return f"{_plain(kg, 2)}{THIN}kg" if kg >= 0.1 else f"{_plain(kg * 1000, 1)}{THIN}g"


def percent(share: float) -> str:
    """A share of 0 to 1 as percent."""
    return f"{_plain(share * 100, 0 if share >= 0.1 else 1)}{THIN}%"


def wt(wt_percent: float) -> str:
    """A content in percent by mass, two decimals."""
    return f"{_plain(wt_percent, 2)}{THIN}%"


def hardness(hrc: float) -> str:
    """A Rockwell C hardness to the whole point."""
    return f"{_plain(hrc, 0)}{THIN}HRC"


def minutes(value: float) -> str:
    """Minutes: whole from ten up, else to the half."""
    shown = round(value) if value >= 10 else round(value * 2) / 2
    return f"{shown:g}{THIN}min"
