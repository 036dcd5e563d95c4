"""Hardness of martensite against carbon and with austenite left in it; HRC to HV and back."""

from typing import Any

import numpy as np
import numpy.typing as npt

from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_no_fraction, refuse_not_positive
from billet.formulas.hardenability import initial_hardness_hrc, initial_hardness_of
from billet.published import published

# The A255 line for all martensite reaches its highest value here and turns down beyond.
MARTENSITE_PEAK_CARBON_WT = 0.697

Array = npt.NDArray[np.float64]
RETAINED_AUSTENITE_HV = 250.0


@published(
    "astm-e140",
    where="closed form for the table of non-austenitic steel",
    equation="HRC = (100 HV - 14500) / (HV + 223)",
    unit="HRC",
    note="A fit, within 0.22 HRC of the table from 30 to 65 HRC.",
    hardness_hv=(302.0, 832.0),
)
def hv_to_hrc(hardness_hv: float) -> float:
    """Rockwell C hardness from Vickers hardness. [HRC]"""
    refuse_not_positive("hardness_hv", hardness_hv)
    return float(_hrc(hardness_hv))


def _hrc(hv: Any) -> Any:
    return (100.0 * hv - 14500.0) / (hv + 223.0)


@published(
    "astm-e140",
    where="closed form for the table of non-austenitic steel, turned round",
    equation="HV = (223 HRC + 14500) / (100 - HRC)",
    unit="HV",
    note="A fit, within 0.22 HRC of the table from 30 to 65 HRC.",
    hardness_hrc=(30.0, 65.0),
)
def hrc_to_hv(hardness_hrc: float) -> float:
    """Vickers hardness from Rockwell C hardness. [HV]

    Raises OutOfDomain for 100 HRC or more, and for what would give no positive Vickers hardness.
    """
    if not -65.0 < hardness_hrc < 100.0:
        raise OutOfDomain("hardness_hrc", hardness_hrc, "above -65 and below 100")
    return float(_hv(hardness_hrc))


def _hv(hrc: Any) -> Any:
    return (223.0 * hrc + 14500.0) / (100.0 - hrc)


@published(
    "astm-a255",
    where="initial hardness against carbon, held at its highest value above 0.697 % C",
    equation="A255 initial hardness up to 0.697 % C, 65.8 HRC above",
    unit="HRC",
    note="The hold is ours: the A255 line turns down above 0.7 %, martensite itself stays near 66 HRC.",
    carbon_wt=(0.10, 0.70),
)
def martensite_hardness_hrc(carbon_wt: float) -> float:
    """Hardness of martensite without retained austenite, against its dissolved carbon. [HRC]"""
    return initial_hardness_hrc(min(carbon_wt, MARTENSITE_PEAK_CARBON_WT))


@published(
    "from-memory",
    where="rule of mixtures in Vickers, austenite taken at 250 HV",
    equation="HV = (1 - RA) HV_martensite + 250 RA",
    unit="HRC",
    basis="memory",
    note="Retained austenite lies between about 200 and 350 HV.",
    retained_austenite_frac=(0.0, 0.4),
)
def hardness_with_retained_austenite(martensite_hrc: float, retained_austenite_frac: float) -> float:
    """Hardness of martensite with a fraction of austenite left in it. [HRC]

    Raises OutOfDomain for a fraction outside 0 to 1.
    """
    refuse_no_fraction("retained_austenite_frac", retained_austenite_frac)
    return hv_to_hrc(_mixed_hv(hrc_to_hv(martensite_hrc), retained_austenite_frac))


def _mixed_hv(martensite_hv: Any, austenite_frac: Any) -> Any:
    return (1.0 - austenite_frac) * martensite_hv + RETAINED_AUSTENITE_HV * austenite_frac


def quenched_hardness_of(carbon_wt: Array, austenite_frac: Array) -> Array:
    """Martensite of these dissolved carbons with this much austenite left in it: (samples,). [HRC]

    `martensite_hardness_hrc` and `hardness_with_retained_austenite` of many samples at once.
    """
    carbon = np.clip(carbon_wt, 0.0, MARTENSITE_PEAK_CARBON_WT)
    found: Array = _hrc(_mixed_hv(_hv(initial_hardness_of(carbon)), austenite_frac))
    return found
