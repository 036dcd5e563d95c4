"""Words already written, put the way a shop that measures in inches reads them."""

import re

from billet import written
from billet.units import k_difference_to_f
from billet.wording import MINUS, THIN

_DEGREES = rf"(?:{MINUS}?\d+ to )?{MINUS}?\d+{THIN}°"
_BOTH_WAYS = re.compile(rf"({_DEGREES}C)( / )({_DEGREES}F)")
_ASIDE = re.compile(rf"({_DEGREES}C) \(({_DEGREES}F)\)")
_BARE_KELVINS = re.compile(rf"(?<![\d.])(\d+)[ {THIN}]K\b(?!/)")
_RATE = re.compile(rf"(?<![\d.])([\d.]+){THIN}K/s(?: \(([\d.]+) to ([\d.]+)\))?")
_KELVINS = re.compile(rf"±?[\d.]+{THIN}K \((±?[\d.]+{THIN}°F)\)")


def fahrenheit_first(words: str) -> str:
    """The words for a shop that measures in inches: Fahrenheit before Celsius, no kelvin."""
    turned = _BOTH_WAYS.sub(lambda m: f"{m[3]}{m[2]}{m[1]}", words)
    turned = _ASIDE.sub(lambda m: f"{m[2]} ({m[1]})", turned)
    turned = _KELVINS.sub(lambda m: m[1], turned)
    turned = _RATE.sub(_rate, turned)
    return _BARE_KELVINS.sub(lambda m: f"{written.f_difference(float(m[1])):g}{THIN}°F", turned)


def _rate(found: re.Match[str]) -> str:
    """A rate of cooling with the band that follows it, all in degrees Fahrenheit a second, two figures."""
    rate, low, high = (None if part is None else _two_figures(part) for part in found.groups())
    band = "" if low is None else f" ({low} to {high})"
    return f"{rate}{THIN}°F/s{band}"


def _two_figures(k_s: str) -> str:
    return f"{float(f'{k_difference_to_f(float(k_s)):.2g}'):g}"
