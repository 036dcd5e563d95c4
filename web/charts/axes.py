"""The grammar all diagrams share: axis left and bottom, ticks outside, names at the lines."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from billet import units, wording
from web.charts.svg import level_lines, line, text, upright_lines

TICK = 6.0
TEXT_WIDTH = 7.6  # mean advance of one character at the label size, generous


@dataclass(frozen=True)
class Scale:
    """Where a value lies: `low` to `high` in the thing's own unit, `start` to `end` on the paper."""

    low: float
    high: float
    start: float
    end: float
    logarithmic: bool = False

    def __call__(self, value: float) -> float:
        """Position of a value on the paper; outside the range it lies outside."""
        if self.logarithmic:
            share = math.log(value / self.low) / math.log(self.high / self.low)
        else:
            share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def ticks(self, about: int) -> list[float]:
        """Round values inside the range, about so many; powers of ten when logarithmic."""
        if self.logarithmic:
            first = math.ceil(math.log10(self.low) - 1e-9)
            last = math.floor(math.log10(self.high) + 1e-9)
            return [10.0**power for power in range(first, last + 1)]
        return round_values(self.low, self.high, about)


def shop_degrees(scale: Scale, shop: wording.Units) -> tuple[Scale, str]:
    """The same axis of temperature with ticks at round values of the shop's own degree, and its sign."""
    if shop == "mm":
        return scale, "°C"
    return Scale(units.c_to_f(scale.low), units.c_to_f(scale.high), scale.start, scale.end), "°F"


def round_values(low: float, high: float, about: int) -> list[float]:
    """Values between low and high at steps of 1, 2 or 5 times a power of ten."""
    raw = (high - low) / max(about, 1)
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(m * power for m in (1.0, 2.0, 5.0, 10.0) if m * power >= raw * (1 - 1e-9))
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    return [round(index * step, 10) for index in range(first, last + 1)]


def padded(values: Sequence[float], share: float = 0.06, least: float = 1e-9) -> tuple[float, float]:
    """The range of the values with a little room at both ends; never empty."""
    low, high = min(values), max(values)
    room = max((high - low) * share, least)
    return low - room, high + room


def tick_words(value: float) -> str:
    """A tick's own value: round by its making, so it is written as it is."""
    return f"{value:g}" if abs(value) >= 1e-3 or value == 0 else f"{value:.0e}"


def bottom_axis(scale: Scale, y: float, name: str, about: int = 6) -> list[Markup]:
    """Axis along the bottom with ticks outside and its name under it."""
    ticks = scale.ticks(about)
    parts = [line((scale.start, y), (scale.end, y), "axis")]
    parts.append(upright_lines([scale(value) for value in ticks], y, TICK, "tick"))
    parts += [text(scale(v), y + TICK + 14, tick_words(v), "tick-label", "middle") for v in ticks]
    parts.append(text((scale.start + scale.end) / 2, y + TICK + 34, name, "axis-name", "middle"))
    return parts


def left_axis(
    scale: Scale, x: float, name: str, about: int = 5, rule_to: float | None = None
) -> list[Markup]:
    """Axis at the left, its name written flat above it; `rule_to` draws faint rules to that x."""
    ticks = scale.ticks(about)
    heights = [scale(value) for value in ticks]
    parts = [] if rule_to is None else [level_lines(x, rule_to - x, heights, "rule")]
    parts.append(level_lines(x - TICK, TICK, heights, "tick"))
    parts += [text(x - TICK - 4, scale(v) + 5, tick_words(v), "tick-label", "end") for v in ticks]
    parts.append(line((x, scale.start), (x, scale.end), "axis"))
    top = min(scale.start, scale.end)
    parts.append(text(4, top - 12, name, "axis-name"))
    return parts


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Positions near the wanted ones, at least `gap` apart, between low and high; order is kept."""
    order = sorted(range(len(wanted)), key=lambda index: wanted[index])
    placed = [0.0] * len(wanted)
    last = low - gap
    for index in order:
        last = max(wanted[index], last + gap)
        placed[index] = last
    limit = high
    for index in reversed(order):
        placed[index] = min(placed[index], limit)
        limit = placed[index] - gap
    return placed


def shorten(words: str, room: float) -> str:
    """The words cut to the room they have, with an ellipsis where something fell off."""
    fits = max(int(room / TEXT_WIDTH), 1)
    return words if len(words) <= fits else words[: max(fits - 1, 1)].rstrip() + "…"
