"""How hard a soft layer comes out of the quench: never told as zero."""

from billet.contract.report import Estimate
from billet.formulas.hardness import martensite_hardness_hrc
from billet.hardening.layer import LayerSteel, is_austenitic

LEAST_TOLD_C_WT = 0.10
LOW_SHARE = 0.75


def soft_hardness_hrc(layer: LayerSteel) -> Estimate | None:
    """Hardness of a layer with little carbon after the quench; None where the scale does not reach.

    The upper end is martensite of the highest tenth of its carbon, the lower end what a thin layer
    keeps when part of it becomes ferrite. From memory: 35 to 50 HRC between 0.15 and 0.30 % carbon.
    """
    if is_austenitic(layer.composition) or layer.carbon.mean < LEAST_TOLD_C_WT:
        return None
    value = martensite_hardness_hrc(layer.carbon.mean)
    low = LOW_SHARE * martensite_hardness_hrc(max(layer.carbon.p10, LEAST_TOLD_C_WT))
    high = martensite_hardness_hrc(max(layer.carbon.p90, layer.carbon.mean))
    return Estimate(value, min(low, value), max(high, value))
