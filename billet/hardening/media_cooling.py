"""How fast the middle of a section cools, in many samples at once: classes and a smith's own oil."""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from billet.hardening.samples import Array
from billet.tables.media import medium
from billet.tables.plate_cooling import centre_rate_k_s, table_range_mm, table_thicknesses_mm
from billet.tables.uncertainty import spread

BALL_CLASSES = ("fast oil", "medium oil", "slow oil")
# A steel that hardens in any section: its depth is drawn on no further than a number can be.
_MOST_LOG_MM = 300.0


@dataclass(frozen=True, eq=False)
class Bath:
    """Rates of the middle from 700 to 550 C at the table's thicknesses: logarithms, (thicknesses,) of one
    bath or (baths, thicknesses) of several.

    `power` is that of the film to which the rate goes at each thickness, of the same shape.
    """

    name: str
    log_thickness: Array
    log_rate: Array
    power: Array

    def rates_k_s(self, thickness_mm: float | Array, film_factor: float | Array) -> Array:
        """Rate at one thickness, or at one for each sample, with each sample's film, (samples,), of several
        baths (baths, samples) at thicknesses (1,) or (samples,). Samples may have several axes, thicknesses
        then as many. Outside 1 to 30 mm drawn on. [K/s]"""
        at, nodes = np.log(thickness_mm), self.log_thickness
        power = _straight(np.minimum(np.maximum(at, nodes[0]), nodes[-1]), nodes, self.power)
        found: Array = np.exp(_straight(at, nodes, self.log_rate)) * film_factor**power
        return found

    def depths_mm(self, critical_k_s: Array, film_factor: Array) -> Array:
        """Thickness whose middle cools just at the critical rate, (samples,), of several baths (baths,
        samples), drawn on beyond the table. Samples may have several axes."""
        log_rate, power = (_beside(each, critical_k_s.ndim) for each in (self.log_rate, self.power))
        excess = log_rate + np.log(film_factor)[..., None] * power - np.log(critical_k_s)[..., None]
        left = np.count_nonzero(excess[..., 1:-1] >= 0.0, axis=-1)
        begin = left + np.arange(0, excess.size, excess.shape[-1]).reshape(left.shape)
        above, below = excess.take(begin), excess.take(begin + 1)
        nodes, width = self.log_thickness, np.diff(self.log_thickness)
        found: Array = np.exp(np.minimum(nodes[left] + width[left] * above / (above - below), _MOST_LOG_MM))
        return found


def _beside(values: Array, axes: int) -> Array:
    """Baths or a bath over thickness, with so many axes of samples between."""
    *baths, thicknesses = values.shape
    return values.reshape(*baths, *(1,) * axes, thicknesses)


def _straight(at: Array, nodes: Array, values: Array) -> Array:
    left = np.searchsorted(nodes[1:-1], at, side="right")
    slope = (values[..., left + 1] - values[..., left]) / (nodes[left + 1] - nodes[left])
    found: Array = values[..., left] + slope * (at - nodes[left])
    return found


@cache
def class_baths(names: tuple[str, ...]) -> Bath:
    """The baths of several classes of the list as one. Raises OutOfDomain for an unknown one."""
    each = [class_bath(name) for name in names]
    rates, powers = (np.stack([getattr(bath, field) for bath in each]) for field in ("log_rate", "power"))
    return Bath("", each[0].log_thickness, rates, powers)


@cache
def class_bath(name: str) -> Bath:
    """The bath of a class of the list. Raises OutOfDomain for an unknown one."""
    thicknesses = table_thicknesses_mm()
    rates = [centre_rate_k_s(name, t) for t in thicknesses]
    table = spread("film")["table_frac"]
    width = math.log((1.0 + table) / (1.0 - table))
    power = np.array([math.log(r.high / r.low) / width for r in rates])
    log_rate = np.log([r.value for r in rates])
    return Bath(name, np.log(thicknesses), log_rate, power)


@cache
def ball_bath(seconds: float) -> Bath:
    """An oil told by its nickel-ball seconds, between the classes whose middles stand about it.

    Logarithms of rate and seconds are straight between the classes; an oil faster than the fastest or
    slower than the slowest has their film in the ratio of the seconds.
    """
    classes = [class_bath(name) for name in BALL_CLASSES]
    logs = np.log([_middle_s(name) for name in BALL_CLASSES])
    at = math.log(seconds)
    within = float(np.clip(at, logs[0], logs[-1]))
    rates = np.stack([bath.log_rate for bath in classes])
    powers = np.stack([bath.power for bath in classes])
    left = int(np.clip(np.searchsorted(logs, within, side="right") - 1, 0, len(logs) - 2))
    share = (within - logs[left]) / (logs[left + 1] - logs[left])
    power = (1.0 - share) * powers[left] + share * powers[left + 1]
    log_rate = (1.0 - share) * rates[left] + share * rates[left + 1] + power * (within - at)
    return Bath(nearest_class(seconds), classes[0].log_thickness, log_rate, power)


def nearest_class(seconds: float) -> str:
    """The class of oil whose middle lies nearest in the logarithm of the seconds: a word, no decision."""
    return min(BALL_CLASSES, key=lambda name: abs(math.log(seconds / _middle_s(name))))


def _middle_s(name: str) -> float:
    low_s, high_s = medium(name).nickel_ball_s or (math.nan, math.nan)
    return 0.5 * (low_s + high_s)


def deepest_told_mm() -> float:
    """The thickest plate of the table, which stands for more."""
    return table_range_mm()[1]
