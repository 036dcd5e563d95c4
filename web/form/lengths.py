"""Lengths and temperatures as a shop writes them, and back without loss."""

import re
from fractions import Fraction

from billet import wording

Units = wording.Units

MM_PER_INCH = Fraction(127, 5)
LONGEST = 30
FINEST_PART = 64
VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
LENGTH = re.compile(
    r"(?P<sign>-?)\s*(?:(?P<decimal>\d+\.?\d*|\.\d+)"
    r"|(?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+))"
    r"\s*(?P<unit>mm|in|inch|inches|\")?",
    re.ASCII,
)
TEMPERATURE = re.compile(r"(?P<number>-?(?:\d+\.?\d*|\.\d+))\s*(?:°\s*)?(?P<unit>[CcFf]?)", re.ASCII)
NUMBER = re.compile(r"-?(?:\d+\.?\d*|\.\d+)", re.ASCII)


class NotAQuantity(ValueError):
    """A text that cannot be read; `str()` is a sentence for the page."""


def parse_length(text: str, units: Units = "mm") -> float:
    """Millimetres. A number without a unit is in `units`; a fraction without a unit is in inches.

    Takes 3.2, 3.2 mm, 1/8, 0.125 in, 1 1/8", 1-1/8 in. Raises NotAQuantity.
    """
    written = _tidy(text)
    found = LENGTH.fullmatch(written)
    if found is None:
        raise NotAQuantity(f'{_shown(text)} is no length; write 3.2, 3.2 mm, 1/8, 0.125 in or 1 1/8"')
    if found["decimal"] is not None:
        value = Fraction(found["decimal"])
        inches = found["unit"] not in (None, "mm") or (found["unit"] is None and units == "inch")
    else:
        if int(found["bottom"]) == 0:
            raise NotAQuantity(f"{_shown(text)} divides by nothing")
        value = Fraction(int(found["whole"] or 0)) + Fraction(int(found["top"]), int(found["bottom"]))
        inches = found["unit"] != "mm"
    if found["sign"]:
        value = -value
    return float(value * MM_PER_INCH if inches else value)


def parse_temperature(text: str) -> float:
    """Degrees Celsius. A number without a letter is Celsius; 1500 F is taken. Raises NotAQuantity."""
    found = TEMPERATURE.fullmatch(_tidy(text))
    if found is None:
        raise NotAQuantity(f"{_shown(text)} is no temperature; write 805, 805 C or 1480 F")
    value = Fraction(found["number"])
    if found["unit"].lower() == "f":
        value = (value - 32) / Fraction(9, 5)
    return float(value)


def parse_number(text: str) -> float:
    """A plain decimal number. Raises NotAQuantity."""
    written = _tidy(text)
    if NUMBER.fullmatch(written) is None:
        raise NotAQuantity(f"{_shown(text)} is no number; write 12 or 0.5")
    return float(written)


def write_length(mm: float, units: Units = "mm") -> str:
    """A text for a field, which `parse_length` reads as the very same length.

    In inches: a fraction to 1/64, else four decimals, else the millimetres with their unit.
    """
    if units == "mm":
        return write_number(mm)
    inches = Fraction(mm).limit_denominator(10**9) / MM_PER_INCH
    nearest = Fraction(round(inches * FINEST_PART), FINEST_PART)
    decimal = f"{float(inches):.4f}".rstrip("0").rstrip(".")
    for candidate in (_mixed(nearest), decimal):
        if len(candidate) <= LONGEST and parse_length(candidate, "inch") == mm:
            return candidate
    return f"{write_number(mm)} mm"


def write_temperature(celsius: float) -> str:
    """A text for a field, which `parse_temperature` reads as the very same temperature."""
    plain = write_number(celsius)
    fahrenheit = f"{round(celsius * 1.8 + 32)} F"
    reads_back = len(fahrenheit) <= LONGEST and parse_temperature(fahrenheit) == celsius
    return fahrenheit if len(plain) > 7 and reads_back else plain


def write_number(value: float) -> str:
    """The shortest decimal that reads back as the same number, never with an exponent."""
    text = repr(float(value))
    if "e" in text:
        text = f"{Fraction(text).__float__():.20f}".rstrip("0") if abs(value) < 1 else f"{value:.0f}"
    return text.removesuffix(".0").removesuffix(".")


def shortest(value: float) -> float | int:
    """A whole number as an integer, so that 40 and 40.0 are one recipe."""
    return int(value) if value.is_integer() else value


def _mixed(inches: Fraction) -> str:
    sign, size = ("-", -inches) if inches < 0 else ("", inches)
    whole, rest = divmod(size, 1)
    if rest == 0:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def _tidy(text: str) -> str:
    if len(text) > LONGEST:
        raise NotAQuantity("this is too long for a number")
    for sign, fraction in VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    for sign in ("″", "”", "“", "''"):
        text = text.replace(sign, '"')
    return text.replace("\u2212", "-").replace("\u202f", " ").replace("\u00a0", " ").strip().lower()


def _shown(text: str) -> str:
    return "".join(c if c.isprintable() else "?" for c in f"“{text}”")
