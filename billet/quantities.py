"""Lengths, temperatures and numbers as people write them, and back without loss.

The one reader for the fields of the pages and for the command line. A comma is a decimal comma; a
number such as 1,250 could be either and is refused in words.
"""

import re
from fractions import Fraction

from billet.errors import BilletError
from billet.wording import Units

MM_PER_INCH = Fraction(127, 5)
LONGEST = 30
SHOWN = 20
FINEST_PART = 64
VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
LOOKALIKES = {"″": '"', "”": '"', "“": '"', "''": '"', "\u2212": "-", "\u202f": " ", "\u00a0": " ",
              "º": "°", "′": "'"}  # fmt: skip
_DECIMAL = r"(?P<decimal>\d+[.,]?\d*|[.,]\d+)"
_PARTS = r"(?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)"
_AMOUNT = rf"(?:{_PARTS}|{_DECIMAL})"
_SIGN = r"(?P<sign>[-+]?)\s*"
LENGTH = re.compile(rf"{_SIGN}{_AMOUNT}\s*(?P<unit>mm|cm|in|inch|inches|\")?\.?", re.ASCII)
TEMPERATURE = re.compile(rf"{_SIGN}{_DECIMAL}\s*(?:°\s*|deg\.?\s*)?(?P<unit>[cf]?)", re.ASCII)
DIFFERENCE = re.compile(rf"(?:\+\s*/?\s*-|±)?\s*{_DECIMAL}\s*(?:°\s*|deg\.?\s*)?(?P<unit>[kcf]?)")
NUMBER = re.compile(rf"{_SIGN}{_AMOUNT}\s*(?P<unit>[^\d\s].*)?")
THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}(?!\d)", re.ASCII)
UNIT_WORDS: dict[str, tuple[str, ...]] = {
    "": ("x", "times", "pieces", "plates", "heats", "heat"),
    "min": ("min", "min.", "mins", "minute", "minutes", "m", "'"),
    "s": ("s", "sec", "sec.", "seconds"),
    "°": ("°", "deg", "degrees"),
    "%": ("%", "wt%", "wt.%"),
    "HRC": ("hrc", "rc"),
    "K/h": ("k/h", "c/h", "°c/h"),
}
"""What may follow a number of each unit; it changes nothing."""


class NotAQuantity(BilletError, ValueError):
    """A text that cannot be read; `str()` is a sentence for the page and the command line."""


def read_length_mm(text: str, units: Units = "mm") -> float:
    """Millimetres. A number without a unit is in `units`; a fraction without a unit is in inches.

    Takes 3.2, 3,2 mm, 15 cm, 1/8, 0.125 in, 1 1/8", 1-1/8 in. Raises NotAQuantity.
    """
    found = LENGTH.fullmatch(_tidy(text))
    if found is None:
        raise NotAQuantity(f'{_shown(text)} is no length; write 3.2, 3.2 mm, 15 cm, 1/8, 0.125 in or 1 1/8"')
    value, unit = _amount(found, text), found["unit"]
    bare_inch = units == "inch" or found["decimal"] is None
    inches = bare_inch if unit is None else unit not in ("mm", "cm")
    scale = MM_PER_INCH if inches else Fraction(10) if unit == "cm" else Fraction(1)
    return float(value * scale)


def read_temperature_c(text: str, units: Units = "mm") -> float:
    """Degrees Celsius. A number without a letter is Celsius, in an inch shop Fahrenheit.

    Takes 815, 815 C, 2150F, 1500 °F. Raises NotAQuantity.
    """
    found = TEMPERATURE.fullmatch(_tidy(text))
    if found is None:
        raise NotAQuantity(f"{_shown(text)} is no temperature; write 815, 815 C or 1500 F")
    value = _amount(found, text)
    if (found["unit"] or ("f" if units == "inch" else "c")) == "f":
        value = (value - 32) / Fraction(9, 5)
    return float(value)


def read_difference_k(text: str, units: Units = "mm") -> float:
    """Kelvins of a difference, each way: 15, +-15, ±15 C, 27 F. A bare one is as in `units`.

    Raises NotAQuantity.
    """
    found = DIFFERENCE.fullmatch(_tidy(text))
    if found is None:
        raise NotAQuantity(f"{_shown(text)} is no difference of temperature; write 15, +-15 C or 27 F")
    value = _amount(found, text)
    in_f = (found["unit"] or ("f" if units == "inch" else "c")) == "f"
    return float(value / Fraction(9, 5) if in_f else value)


def read_number(text: str, unit: str = "") -> float:
    """A number: 12, 0,5, 1/2; its own unit may follow (12 min, 60 HRC). Raises NotAQuantity."""
    found = NUMBER.fullmatch(_tidy(text))
    if found is None or (found["unit"] and found["unit"].strip() not in UNIT_WORDS.get(unit, ())):
        raise NotAQuantity(f"{_shown(text)} is no number; write 12 or 0.5")
    return float(_amount(found, text))


def write_length(mm: float, units: Units = "mm") -> str:
    """A text for a field, which `read_length_mm` reads as the very same length.

    In inches: a fraction to 1/64, else four decimals, else the millimetres with their unit.
    """
    if units == "mm":
        return write_number(mm)
    inches = Fraction(mm).limit_denominator(10**9) / MM_PER_INCH
    nearest = Fraction(round(inches * FINEST_PART), FINEST_PART)
    decimal = f"{float(inches):.4f}".rstrip("0").rstrip(".")
    for candidate in (_mixed(nearest), decimal):
        if len(candidate) <= LONGEST and read_length_mm(candidate, "inch") == mm:
            return candidate
    return f"{write_number(mm)} mm"


def write_temperature(celsius: float, units: Units = "mm") -> str:
    """A text for a field, which `read_temperature_c` reads as the very same temperature."""
    plain, fahrenheit = write_number(celsius), write_number(round(celsius * 1.8 + 32, 1))
    short = len(f"{fahrenheit} F") <= LONGEST
    same = short and read_temperature_c(f"{fahrenheit} F") == celsius
    if units == "inch":
        return fahrenheit if same else f"{plain} C"
    return f"{fahrenheit} F" if len(plain) > 7 and same else plain


def write_difference(kelvins: float, units: Units = "mm") -> str:
    """A text for a field, which `read_difference_k` reads as the very same difference."""
    plain, fahrenheit = write_number(kelvins), write_number(round(kelvins * 1.8, 1))
    short = len(f"{fahrenheit} F") <= LONGEST
    same = short and read_difference_k(f"{fahrenheit} F") == kelvins
    if units == "inch":
        return fahrenheit if same else f"{plain} C"
    return f"{fahrenheit} F" if len(plain) > 7 and same else plain


def write_number(value: float) -> str:
    """The shortest decimal that reads back as the same number, never with an exponent."""
    text = repr(float(value))
    if "e" in text:
        text = f"{float(Fraction(text)):.20f}".rstrip("0") if abs(value) < 1 else f"{value:.0f}"
    return text.removesuffix(".0").removesuffix(".")


def shortest(value: float) -> float | int:
    """A whole number as an integer, so that 40 and 40.0 are one recipe."""
    return int(value) if value.is_integer() else value


def _amount(found: re.Match[str], text: str) -> Fraction:
    parts = found.groupdict()
    if parts["decimal"] is not None:
        if THOUSANDS.fullmatch(parts["decimal"]):
            whole, rest = parts["decimal"].split(",")
            raise NotAQuantity(f"{_shown(text)} can be read two ways; write {whole}{rest} or {whole}.{rest}")
        value = Fraction(parts["decimal"].replace(",", "."))
    elif int(parts["bottom"]) == 0:
        raise NotAQuantity(f"{_shown(text)} divides by nothing")
    else:
        value = Fraction(int(parts["whole"] or 0)) + Fraction(int(parts["top"]), int(parts["bottom"]))
    return -value if parts.get("sign") == "-" else value


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
    for sign, plain in LOOKALIKES.items():
        text = text.replace(sign, plain)
    return text.strip().lower()


def _shown(text: str) -> str:
    cut = text if len(text) <= SHOWN else text[:SHOWN] + "..."
    return "".join(c if c.isprintable() else "?" for c in f"“{cut}”")
