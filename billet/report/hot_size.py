"""What a caliper shows on the hot bar when its cold size is reached."""

from dataclasses import replace

from billet.contract.forging_rows import HeatSize
from billet.formulas.steel_heat import elongation_ec3


def with_hot_size(
    heats: tuple[HeatSize, ...], temperature_c: float, stop_c: float | None
) -> tuple[HeatSize, ...]:
    """The sizes of each fire with the hot one as a multiple of the cold."""
    hot = 1.0 + elongation_ec3(measured_at_c(temperature_c, stop_c))
    return tuple(replace(heat, hot=hot) for heat in heats)


def measured_at_c(temperature_c: float, stop_c: float | None) -> float:
    """How hot a bar is when it is measured amid its fire: halfway from the heat of the fire to where forging
    stops (common practice, no source); the heat itself where nobody published where to stop. [C]"""
    return temperature_c if stop_c is None else 0.5 * (temperature_c + min(stop_c, temperature_c))
