"""Temperatures as a shop writes them: 815, 815 C, 1500F."""

import re
from fractions import Fraction

from billet.errors import BilletError

LONGEST = 30
SHOWN = 20
TEMPERATURE = re.compile(
    r"(?P<number>[-+\u2212]?(?:\d+[.,]?\d*|\.\d+))\s*(?:°\s*)?(?P<unit>[CcFf]?)", re.ASCII
)


def read_temperature_c(text: str) -> float:
    """Degrees Celsius from a text; a number without a letter is Celsius. Raises BilletError."""
    written = text.strip()
    found = TEMPERATURE.fullmatch(written) if len(written) <= LONGEST else None
    if found is None:
        raise BilletError(f"{_shown(text)} is no temperature; write 815, 815C or 1500F")
    value = Fraction(found["number"].replace(",", ".").replace("\u2212", "-").lstrip("+"))
    if found["unit"].lower() == "f":
        value = (value - 32) / Fraction(9, 5)
    return float(value)


def _shown(text: str) -> str:
    return repr(text if len(text) <= SHOWN else text[:SHOWN] + "...")
