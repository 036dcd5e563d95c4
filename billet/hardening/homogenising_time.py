"""How long at welding heat would even out the carbon of a layer, as an order of magnitude."""

import math

from billet.formulas.diffusion import carbon_diffusivity_agren_m2_s
from billet.hardening.layer import LayerSteel

WELDING_HEAT_C = 1150.0
SHARE_LEFT = 0.05
SECONDS_PER_MINUTE = 60.0


def homogenisation_minutes(layer: LayerSteel, layer_mm: float) -> float | None:
    """Minutes at 1150 C until a twentieth of the difference is left in equal layers of this thickness.

    From the leading term of the laminate series (Crank 1975): centre amplitude (4/pi) exp(-pi^2 tau).
    """
    if not layer_mm > 0.0:
        return None
    diffusivity = carbon_diffusivity_agren_m2_s(layer.composition, WELDING_HEAT_C)
    tau = math.log(4.0 / math.pi / SHARE_LEFT) / math.pi**2
    return tau * (layer_mm / 1000.0) ** 2 / diffusivity / SECONDS_PER_MINUTE
