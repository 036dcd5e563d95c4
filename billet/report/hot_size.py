"""What a caliper shows on the hot bar when its cold size is reached."""

from dataclasses import replace

from billet.contract.forging_rows import HeatSize
from billet.formulas.steel_heat import elongation_ec3


def with_hot_size(
    heats: tuple[HeatSize, ...], temperature_c: float, stop_c: float | None
) -> tuple[HeatSize, ...]:
    """The sizes of each fire with the hot one as a multiple of the cold.

    A bar is measured amid its fire: halfway from the heat of the fire to where forging stops (common
    practice, no source); at the heat itself where nobody published where to stop.
    """
    measured_c = temperature_c if stop_c is None else 0.5 * (temperature_c + min(stop_c, temperature_c))
    return tuple(replace(heat, hot=1.0 + elongation_ec3(measured_c)) for heat in heats)
