"""The only place that rounds and writes units.

Every number a person reads passes through here. A thin space that does not break stands between
number and unit; a temperature is always written both ways; a difference of temperatures is never
written as a temperature: 20 K more is 36 °F more, never 68.
"""

import math
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Literal, Protocol

from billet import written
from billet.units import MM_PER_INCH, kg_to_lb, mm_to_inch

Units = Literal["mm", "inch"]
THIN = "\u202f"
MINUS = "\u2212"
NO_BREAK = "\u00a0"
NO_BREAK_TIMES = "\u00a0×\u00a0"
FINEST_INCH = 64
BENCH_INCH = 32
"""The parts of an inch that a rule at the bench shows."""
SAME_INCH = 0.0015
"""A fraction this near stands alone; one further off is only "about"."""


class Banded(Protocol):
    """A value with its band, as the report's estimates are."""

    @property
    def value(self) -> float: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...


def _plain(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    nought = text[0] == "-" and float(text) == 0
    return text.lstrip("-") if nought else text.replace("-", MINUS)


def _short(value: float, decimals: int) -> str:
    """As `_plain`, without zeros at the end: 12, not 12.0."""
    text = _plain(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


def temperature(celsius: float, units: Units = "mm") -> str:
    """A temperature both ways: 805 °C / 1481 °F; in an inch shop Fahrenheit first."""
    return " / ".join(in_order(temperature_lines(celsius), units))


def in_order(ways: tuple[str, str], units: Units) -> tuple[str, str]:
    """Celsius and Fahrenheit, or the other way about in an inch shop."""
    return (ways[1], ways[0]) if units == "inch" else ways


def temperature_lines(celsius: float) -> tuple[str, str]:
    """A temperature both ways, for two lines: 805 °C, 1481 °F."""
    return f"{_plain(celsius, 0)}{THIN}°C", f"{_plain(written.f(celsius), 0)}{THIN}°F"


def temperature_range(low_c: float, high_c: float, units: Units = "mm") -> str:
    """A range of temperatures both ways: 790 to 820 °C / 1454 to 1508 °F."""
    return " / ".join(in_order(temperature_range_lines(low_c, high_c), units))


def temperature_range_lines(low_c: float, high_c: float) -> tuple[str, str]:
    """A range of temperatures both ways, for two lines: 790 to 820 °C, 1454 to 1508 °F."""
    return (
        f"{_span(_plain(low_c, 0), _plain(high_c, 0))}{THIN}°C",
        f"{_span(_plain(written.f(low_c), 0), _plain(written.f(high_c), 0))}{THIN}°F",
    )


def temperature_aside(celsius: float) -> str:
    """A temperature that is no order, both ways and never printed large: 769 °C (1416 °F)."""
    return f"{_plain(celsius, 0)}{THIN}°C ({_plain(written.f(celsius), 0)}{THIN}°F)"


def temperature_range_aside(low_c: float, high_c: float) -> str:
    """A range that is no order for this bar: 1010 to 1065 °C (1850 to 1949 °F)."""
    celsius, fahrenheit = temperature_range_lines(low_c, high_c)
    return f"{celsius} ({fahrenheit})"


def _span(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def difference(kelvins: float, units: Units = "mm") -> str:
    """A difference of temperatures both ways: 20 K (36 °F); a tenth of a kelvin below 3 K.

    In an inch shop the kelvin is not written: 36 °F (20 °C).
    """
    kelvin, fahrenheit = _difference_ways(kelvins)
    if units == "inch":
        return f"{fahrenheit}{THIN}°F ({kelvin}{THIN}°C)"
    return f"{kelvin}{THIN}K ({fahrenheit}{THIN}°F)"


def _difference_ways(kelvins: float) -> tuple[str, str]:
    return _short(written.k(kelvins), 1), _short(written.f_difference(kelvins), 1)


def plus_minus(kelvins: float) -> str:
    """A half-width: ±13 K (±23 °F); a tenth of a kelvin below 3 K."""
    kelvin, fahrenheit = _difference_ways(kelvins)
    return f"±{kelvin}{THIN}K (±{fahrenheit}{THIN}°F)"


def rate(k_s: float) -> str:
    """A rate of cooling, two figures: 140 K/s."""
    magnitude = 10.0 if k_s >= 100.0 else 1.0
    return f"{_short(round(k_s / magnitude) * magnitude, 0) if k_s >= 10.0 else _short(k_s, 1)}{THIN}K/s"


def rate_an_hour(k_h: float) -> str:
    """A rate of a furnace: 20 K (36 °F) an hour."""
    return f"{difference(k_h)} an hour"


def _mm(mm: float) -> str:
    return _short(mm, written.decimals_mm(mm))


def _inch(mm: float) -> str:
    inches = mm_to_inch(mm)
    return _plain(inches, 3 if abs(inches) < 1 else 2)


def length(mm: float, units: Units = "mm") -> str:
    """A length in the units of the sheet: 12.4 mm, 173 mm, 0.35 mm; 0.488 in, 6.81 in."""
    return f"{_inch(mm)}{THIN}in" if units == "inch" else f"{_mm(mm)}{THIN}mm"


def at_least(mm: float, units: Units = "mm") -> str:
    """A depth that must be taken off whole, up to the next tenth of a millimetre: 0.21 mm is 0.3 mm."""
    return length(math.ceil(10.0 * mm - 1e-6) / 10.0, units)


def length_both(mm: float) -> str:
    """A length both ways, the inches of the millimetres as written: 2.5 mm / 0.10 in."""
    inches = written.inches(mm)
    return f"{_mm(mm)}{THIN}mm / {_plain(inches, 3 if abs(inches) < 0.095 else 2)}{THIN}in"


def lengths(values_mm: Sequence[float], units: Units = "mm", joined: str = ", ") -> str:
    """Several lengths with one unit at the end: 22.3, 17.7, 12 mm."""
    told = joined.join(_inch(mm) if units == "inch" else _mm(mm) for mm in values_mm)
    return f"{told}{THIN}{'in' if units == 'inch' else 'mm'}"


def size(height_mm: float, width_mm: float, length_mm: float, units: Units = "mm") -> str:
    """Height, width and length of a bar: 26 × 40 × 173 mm."""
    return lengths((height_mm, width_mm, length_mm), units, NO_BREAK_TIMES)


def inch_fraction(mm: float) -> str:
    """The nearest 1/64 inch: 1/8, 1 1/4; "0" under half of that."""
    return _mixed(Fraction(round(mm_to_inch(mm) * FINEST_INCH), FINEST_INCH))


def _mixed(parts: Fraction, between: str = " ") -> str:
    whole, rest = divmod(parts, 1)
    if rest == 0:
        return str(whole)
    return f"{whole}{between}{rest}" if whole else str(rest)


def stock(mm: float, units: Units = "mm") -> str:
    """A size of stock; in inches with the fraction to ask for: 0.118 in (about 1/8), 1/8 in."""
    if units == "mm":
        return length(mm)
    fraction = inch_fraction(mm)
    if fraction == "0":
        return length(mm, "inch")
    off = abs(mm_to_inch(mm) - round(mm_to_inch(mm) * FINEST_INCH) / FINEST_INCH)
    return f"{fraction}{THIN}in" if off < SAME_INCH else f"{_inch(mm)}{THIN}in (about {fraction})"


def thirty_seconds(mm: float) -> str:
    """The nearest 1/32 inch, as a rule at the bench has it: 27/32, 1 1/32; "0" under half of that."""
    return _mixed(Fraction(round(mm_to_inch(mm) * BENCH_INCH), BENCH_INCH), NO_BREAK)


def bench_parts(mm: float, units: Units = "mm") -> tuple[str, str]:
    """A length for the anvil as two numbers without a unit: 21.4 and nothing; 27/32 and 0.843.

    Millimetres keep their tenth, so that numbers in a row read alike. Under 3/32 inch only the decimal.
    """
    if units == "mm":
        return _plain(mm, 1 if abs(mm) < 100 else 0), ""
    decimal = _plain(mm_to_inch(mm), 3 if abs(mm_to_inch(mm)) < 10 else 2)
    return (decimal, "") if abs(mm) < 3 * MM_PER_INCH / BENCH_INCH else (thirty_seconds(mm), decimal)


def bench_length(mm: float, units: Units = "mm") -> str:
    """A length for the bench: 97.5 mm; 3 27/32 in (3.838)."""
    if units == "mm":
        return length(mm)
    fraction, decimal = bench_parts(mm, units)
    return f"{fraction}{THIN}in ({decimal})" if decimal else f"{fraction}{THIN}in"


def bench_mark(mm: float, units: Units = "mm") -> str:
    """A length beside a dimension line: 34.5 mm; 1 11/32 in."""
    return length(mm) if units == "mm" else f"{bench_parts(mm, units)[0]}{THIN}in"


def bench_size(height_mm: float, width_mm: float, length_mm: float, units: Units = "mm") -> str:
    """A size for the bench: 26 × 40 × 173 mm; 1 1/32 × 1 9/16 × 6 13/16 in."""
    return _bench((height_mm, width_mm, length_mm), units)


def bench_face(width_mm: float, length_mm: float, units: Units = "mm") -> str:
    """Width and length for the bench: 40 × 150 mm; 1 9/16 × 5 29/32 in."""
    return _bench((width_mm, length_mm), units)


def _bench(values_mm: Sequence[float], units: Units) -> str:
    if units == "mm":
        return lengths(values_mm, units, NO_BREAK_TIMES)
    return f"{NO_BREAK_TIMES.join(bench_parts(mm, units)[0] for mm in values_mm)}{THIN}in"


def micrometres(um: float, units: Units = "mm") -> str:
    """A layer's thickness: micrometres, from 1000 up millimetres, or thousandths of an inch."""
    if units == "inch":
        return f"{_plain(mm_to_inch(um), 1 if um < 2500 else 0)}{THIN}thou"
    if um >= 1000:
        return length(um / 1000, "mm")
    return f"{_plain(um, 1 if um < 10 else 0)}{THIN}µm"


def mass(kg: float, units: Units = "mm") -> str:
    """A mass in kilograms, or in pounds where the shop measures in inches."""
    if units == "inch":
        return f"{_plain(kg_to_lb(kg), 2)}{THIN}lb"
    return f"{_plain(kg, 2)}{THIN}kg" if kg >= 0.1 else f"{_plain(kg * 1000, 1)}{THIN}g"


def percent(share: float) -> str:
    """A share of 0 to 1 as percent: 67 %, 4.5 %, 0 %."""
    return f"{_short(share * 100, 0 if abs(share) >= 0.1 else 1)}{THIN}%"


def wt(wt_percent: float) -> str:
    """A content in percent by mass, two decimals."""
    return f"{_plain(wt_percent, 2)}{THIN}%"


def hardness(hrc: float) -> str:
    """A Rockwell C hardness to the whole point."""
    return f"{_plain(hrc, 0)}{THIN}HRC"


def hardness_range(low_hrc: float, high_hrc: float) -> str:
    """Two hardnesses with one unit: 58 to 62 HRC."""
    return f"{_span(_plain(low_hrc, 0), _plain(high_hrc, 0))}{THIN}HRC"


def hardness_span(low_hrc: float, high_hrc: float) -> str:
    """Two hardnesses under a head that names the unit: 58 to 62."""
    return _span(_plain(low_hrc, 0), _plain(high_hrc, 0))


def minutes(value: float) -> str:
    """Minutes: whole from ten up, else to the half; under one, seconds by fives."""
    shown = written.in_minutes(value)
    return f"{60.0 * shown:.0f}{THIN}s" if 0.0 < value < 0.96 else f"{shown:g}{THIN}min"


def hours(value_min: float) -> str:
    """A long time given in minutes: 2 h, 1.5 h."""
    return f"{_short(value_min / 60.0, 1)}{THIN}h"


def seconds(value_s: float) -> str:
    """Whole seconds, tenths below two."""
    return f"{_short(value_s, 1 if value_s < 2 else 0)}{THIN}s"


def estimate(banded: Banded, writer: Callable[[float], str]) -> str:
    """A value with its band: 59 HRC (56 to 62); the band in the writer's own figures.

    A temperature's band is written both ways, like everything that is a temperature. Where an end reads
    like the value only the other end is told: 46 HRC (down to 34), 5 % (up to 8).
    """
    if writer is temperature:
        return f"{temperature(banded.value)} ({temperature_range(banded.low, banded.high)})"
    value, low, high = (
        writer(v).rpartition(THIN)[0] or writer(v) for v in (banded.value, banded.low, banded.high)
    )
    if low == high or value not in (low, high):
        return f"{writer(banded.value)} ({_span(low, high)})"
    return f"{writer(banded.value)} ({f'up to {high}' if value == low else f'down to {low}'})"


def times(ratio: float) -> str:
    """How often one figure holds another, two figures: 2.1 times, 12 times, 0.65 times."""
    return f"{_short(ratio, 0 if ratio >= 10.0 else 1 if ratio >= 1.0 else 2)}{THIN}times"


def count(number: int, thing: str, things: str | None = None) -> str:
    """1 heat, 4 heats."""
    return f"{number} {thing if number == 1 else things or thing + 's'}"


def listed(words: Sequence[str]) -> str:
    """a; a and b; a, b and c."""
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"


def capital(words: str) -> str:
    """The same with a capital at the beginning."""
    return f"{words[:1].upper()}{words[1:]}"
