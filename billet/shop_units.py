"""Words already written, put the way a shop that measures in inches reads them."""

import re

from billet.units import k_difference_to_f
from billet.wording import MINUS, THIN

_DEGREES = rf"(?:{MINUS}?\d+ to )?{MINUS}?\d+{THIN}°"
_BOTH_WAYS = re.compile(rf"({_DEGREES}C)( / )({_DEGREES}F)")
_ASIDE = re.compile(rf"({_DEGREES}C) \(({_DEGREES}F)\)")
_BARE_KELVINS = re.compile(rf"(?<![\d.])(\d+)[ {THIN}]K\b")
_KELVINS = re.compile(rf"±?[\d.]+{THIN}K \((±?[\d.]+{THIN}°F)\)")


def fahrenheit_first(words: str) -> str:
    """The words for a shop that measures in inches: Fahrenheit before Celsius, no kelvin."""
    turned = _BOTH_WAYS.sub(lambda m: f"{m[3]}{m[2]}{m[1]}", words)
    turned = _ASIDE.sub(lambda m: f"{m[2]} ({m[1]})", turned)
    turned = _KELVINS.sub(lambda m: m[1], turned)
    return _BARE_KELVINS.sub(lambda m: f"{k_difference_to_f(float(m[1])):.0f}{THIN}°F", turned)
