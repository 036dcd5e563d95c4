"""One temperature inside the window, for a way of holding it that is never exact."""

import math
from dataclasses import dataclass

from billet import wording
from billet.contract.report import ControlRow, LeastBad, MethodRow, Suffers
from billet.hardening.austenitising_window import AustenitisingWindow, SteelWindow
from billet.hardening.layer import LayerSteel
from billet.hardening.shared_window import SharedWindow
from billet.recipe.model import Control
from billet.tables.control import control_method, control_methods

ROUND_TO_C = 5.0
SHARE_OF_NARROW = 0.4
KEPT_MARGIN = 0.5


@dataclass(frozen=True)
class SetPoint:
    c: float
    fits: bool


def set_point(window: AustenitisingWindow, half_width_k: float) -> SetPoint:
    """The temperature to set, rounded down to 5 C where that stays inside. [C]

    The middle where the half-width fits twice; else low in the window, since overshoot stays in the
    steel while a blade that came out soft can be hardened again. Rounding takes at most half of the
    way from the low end. Never rises with the half-width.
    """
    low, high = window.range_c
    fits = high - low >= 2.0 * half_width_k
    exact = 0.5 * (low + high) if fits else low + min(half_width_k, SHARE_OF_NARROW * (high - low))
    for step in (ROUND_TO_C, 1.0):
        rounded = step * math.floor(exact / step)
        if rounded >= low + KEPT_MARGIN * (exact - low):
            return SetPoint(rounded, fits)
    return SetPoint(exact, fits)


def control_row(control: Control | None, window: AustenitisingWindow | None) -> ControlRow | None:
    """How the smith holds the temperature, and whether that can hit the window."""
    if control is None:
        return None
    method = None if control.method is None else control_method(control.method)
    half_width = method.half_width_k if method is not None else float(control.half_width_k or 0.0)
    label = method.label if method is not None else None
    fits = window is not None and window.width_k >= 2.0 * half_width
    return ControlRow(control.method, label, half_width, fits, _advice(window, half_width, fits))


def method_rows(window: AustenitisingWindow | None) -> tuple[MethodRow, ...]:
    """Every method of the table against the window."""
    width = window.width_k if window is not None else 0.0
    return tuple(
        MethodRow(
            m.key, m.label, m.half_width_k, window is not None and width >= 2 * m.half_width_k, m.how, m.basis
        )
        for m in control_methods()
    )


def _advice(window: AustenitisingWindow | None, half_width_k: float, fits: bool) -> str:
    if window is None:
        return "no window to hit"
    if fits:
        return (
            f"\u00b1{wording.difference(half_width_k)} fits inside the window of "
            f"{wording.difference(window.width_k)}"
        )
    better = [m for m in control_methods() if window.width_k >= 2.0 * m.half_width_k]
    start = (
        f"\u00b1{wording.difference(half_width_k)}, {wording.difference(2.0 * half_width_k)} in all, is "
        f"wider than the window of {wording.difference(window.width_k)}: the set point stands low in the "
        "window, because a soft blade can be hardened again and an overheated one cannot be mended"
    )
    if not better:
        return f"{start}; no method of the table fits: choose a pair with a wider window"
    best = max(better, key=lambda m: m.half_width_k)
    return f"{start}; what would fit: {best.label} (\u00b1{wording.difference(best.half_width_k)})"


def least_bad(
    layers: tuple[LayerSteel, ...],
    windows: tuple[SteelWindow, ...],
    agreement: SharedWindow,
    half_width_k: float,
) -> LeastBad | None:
    """Where the windows do not meet: the set point of the largest layer that can form the edge."""
    if agreement.none_because != "gap":
        return None
    able = [
        (layer.share, window)
        for layer, window in zip(layers, windows, strict=True)
        if layer.role == "hardens" and window.preferred is not None
    ]
    if not able:
        return None
    chosen = max(able, key=lambda item: item[0])[1]
    if chosen.preferred is None:
        return None
    c = min(set_point(chosen.preferred, half_width_k).c, chosen.preferred.high.c)
    rows = tuple(
        Suffers(layer.name, _suffers(layer, window, c)) for layer, window in zip(layers, windows, strict=True)
    )
    return LeastBad(c, rows)


def _suffers(layer: LayerSteel, window: SteelWindow, c: float) -> str:
    if layer.role == "soft":
        return "stays soft, as at any temperature"
    possible = window.possible
    if possible is None:
        return "no range is known: try it on a coupon"
    if c < possible.low.c:
        short = wording.difference(possible.low.c - c)
        return f"{short} under its range: hardens little or not at all"
    if c > possible.high.c:
        over = wording.difference(c - possible.high.c)
        return f"{over} over its range: coarse grain, much retained austenite, brittle"
    return "inside what it can take"
