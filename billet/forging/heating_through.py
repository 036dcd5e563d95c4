"""Minutes that the bar takes to come to heat, for every heat of a step."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from billet.composition import Composition
from billet.formulas.diffusion import carbon_diffusivity_agren_m2_s
from billet.formulas.heating import ROOM_C, SCALING_FROM_C, heating_through, plate_of_bar_mm
from billet.tables.forging import forging_rule
from billet.units import c_to_k

LEAST_RISE_K = 100.0
"""A reheat begins at least so far under the heat wanted (own construction)."""

WARMING_SLICES = 24
EUTECTOID = Composition({"C": 0.77})


@dataclass(frozen=True)
class Heating:
    """Minutes until the middle is at heat, and how many of them the faces are above 900 C."""

    through_min: float
    above_900_min: float


def heating_of_bar(height_mm: float, width_mm: float, temperature_c: float, *, cold: bool) -> Heating:
    """A bar heated all round, from room temperature or from where forging stopped."""
    rule = forging_rule("furnace")
    start_c = ROOM_C if cold else min(rule["reheat_from_c"], temperature_c - LEAST_RISE_K)
    plate_mm = plate_of_bar_mm(height_mm, width_mm)
    found = heating_through(plate_mm, temperature_c, temperature_c + rule["hotter_k"], start_c)
    return Heating(found.minutes, found.minutes_above_900_c)


@lru_cache(maxsize=256)
def share_at_heat(temperature_c: float) -> float:
    """Minutes at full heat that move carbon as far as one minute of warming from 900 C up to it.

    Diffusivity (Agren, eutectoid carbon) averaged over a warming by radiation from the hotter chamber
    (own construction): 0.55 at 1100 C.
    """
    chamber = c_to_k(temperature_c + forging_rule("furnace")["hotter_k"]) ** 4
    slice_k = (temperature_c - SCALING_FROM_C) / WARMING_SLICES
    at_c = [SCALING_FROM_C + (i + 0.5) * slice_k for i in range(WARMING_SLICES)]
    dwell = [1.0 / (chamber - c_to_k(t) ** 4) for t in at_c]
    moved = [carbon_diffusivity_agren_m2_s(EUTECTOID, t) for t in at_c]
    full = carbon_diffusivity_agren_m2_s(EUTECTOID, temperature_c)
    return math.fsum(d * m for d, m in zip(dwell, moved, strict=True)) / math.fsum(dwell) / full


def heating_of_heats(sizes_mm: Sequence[tuple[float, float]], temperature_c: float) -> list[Heating]:
    """Times of heating through from height and width before each heat: the first from cold.

    Between the second and the last heat the times follow a power of the thickness, which the full
    calculation does within 1 %.
    """
    first = heating_of_bar(*sizes_mm[0], temperature_c, cold=True)
    again = sizes_mm[1:]
    if len(again) <= 2:
        return [first, *(heating_of_bar(*size, temperature_c, cold=False) for size in again)]
    begin = heating_of_bar(*again[0], temperature_c, cold=False)
    end = heating_of_bar(*again[-1], temperature_c, cold=False)
    plates_mm = [plate_of_bar_mm(*size) for size in again]
    span = math.log(plates_mm[-1] / plates_mm[0])
    shares = [math.log(p / plates_mm[0]) / span if span else 0.0 for p in plates_mm]
    return [first, *(_between(begin, end, share) for share in shares)]


def _between(begin: Heating, end: Heating, share: float) -> Heating:
    through_min = begin.through_min * (end.through_min / begin.through_min) ** share
    if begin.above_900_min <= 0.0 or end.above_900_min <= 0.0:
        above_min = begin.above_900_min + share * (end.above_900_min - begin.above_900_min)
    else:
        above_min = begin.above_900_min * (end.above_900_min / begin.above_900_min) ** share
    return Heating(through_min, above_min)
