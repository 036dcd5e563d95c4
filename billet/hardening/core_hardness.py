"""Hardness of a section that was not cooled fast enough: martensite and fine pearlite in shares."""

import math

import numpy as np

from billet.contract.values import Estimate
from billet.hardening.media_cooling import Bath
from billet.hardening.quench_grades import LayerAsk
from billet.hardening.samples import Array
from billet.tables.practice import decision_numbers
from billet.tables.uncertainty import spread


def martensite_share(cooling_k_s: Array, critical_k_s: Array) -> Array:
    """Share of martensite at a cooling rate, (samples,), 0 to 1.

    Straight in the logarithm between all pearlite and all martensite, whose rates stand as far apart as
    the two published ones of the eutectoid steel.
    """
    limits = decision_numbers("quench")
    width = math.log(limits["eutectoid_all_martensite_k_s"] / limits["eutectoid_all_pearlite_k_s"])
    found: Array = np.clip(limits["martensite_frac"] + np.log(cooling_k_s / critical_k_s) / width, 0.0, 1.0)
    return found


def hrc_at(ask: LayerAsk, bath: Bath, thickness_mm: float, hardened: Estimate | None) -> Estimate | None:
    """Hardness at the middle of a thickness in the first sample; None where that of martensite is not known.

    The ends hold the critical rate's band and the film's, joined as independent errors of the logarithm.
    """
    if hardened is None:
        return None
    core, film = decision_numbers("quench_core"), spread("film")["film_frac"]
    pearlite = core["pearlite_hrc"] * min(1.0, float(ask.carbon_wt[0]) / core["full_from_c_wt"])

    def cooling(factor: float) -> float:
        return float(bath.rates_k_s(thickness_mm, ask.film_factor * factor)[0])

    def mixed(ratio: float, martensite_hrc: float, pearlite_hrc: float) -> float:
        share = float(martensite_share(np.array([ratio]), np.ones(1))[0])
        return share * martensite_hrc + (1.0 - share) * min(pearlite_hrc, martensite_hrc)

    rates, error, usual = ask.rates, core["pearlite_error_hrc"], cooling(1.0)
    value = float(rates.value[0])
    less = math.hypot(math.log(float(rates.high[0]) / value), math.log(usual / cooling(1.0 - film)))
    more = math.hypot(math.log(value / float(rates.low[0])), math.log(cooling(1.0 + film) / usual))
    ratio = usual / value
    return Estimate(
        mixed(ratio, hardened.value, pearlite),
        mixed(ratio * math.exp(-less), hardened.low, pearlite - error),
        mixed(ratio * math.exp(more), hardened.high, pearlite + error),
    )
