"""How many melts of a grade, each forged and hardened as the plan says, lie inside the bands of the plan."""

from dataclasses import dataclass

import numpy as np

from billet import parse_recipe, plan
from billet.contract.report import Estimate
from billet.formulas.martensite import retained_austenite_of
from billet.hardening.austenite import austenitised
from billet.hardening.critical_lines import lines_of
from billet.hardening.decision import blade_section
from billet.hardening.samples import Array
from billet.hardening.tempered_hardness import band_hrc, tempered_hrc
from billet.planned import Planned
from billet.variation.count import drawn_layers
from billet.variation.draws import draw
from billet.variation.quench import Hold, asked_of
from tests.cycle_samples import alone

STEELS = (
    "1050", "1075", "1084", "1095", "W1", "C105U", "75Ni8", "80CrV2", "5160", "52100", "O1", "L6",
)  # fmt: skip
TEMPER_C = 200.0
BATH_C = (20.0, 60.0)
"""A blade is tempered from the cold or straight from a warm bath."""


@dataclass(frozen=True)
class Coverage:
    """Shares of the melts: inside the band told, under it, over it."""

    inside: float
    under: float
    over: float


def told_bands(found: Planned) -> dict[str, Estimate]:
    """Every band that the plan of one steel tells of it."""
    row, quench = found.report.hardening.per_steel[0], found.report.quench.per_steel[0]
    step = next(s for s in found.report.temper.table if s.temperature_c == TEMPER_C)
    temper = step.per_steel[0]
    bands = {
        "dissolved carbon": row.austenite_carbon_wt,
        "Ms": row.ms_c,
        "retained austenite": row.retained_austenite,
        "HRC": row.hrc,
        "critical rate": quench.critical_rate_k_s,
        "tempered HRC": Estimate(temper.value, temper.low, temper.high),
        "Ae1": row.ae1_c,
        "Ae3": row.ae3_c,
        "Acm": row.acm_c,
    }
    return {name: band for name, band in bands.items() if band is not None}


def melts(found: Planned, bars: int, seed: int) -> dict[str, Array]:
    """The same quantities in every melt: analysis inside the grade, residuals, errors of all formulas."""
    draws = draw(found.recipe, bars, seed)
    (layer,) = drawn_layers(found.recipe, found.forged, found.metal, found.treatment, draws)
    judged = found.treatment.judged
    heat_c = float(judged.set_point_c or 0.0)
    state = austenitised(layer.wt, np.full(bars, heat_c), layer.start, layer.errors)
    hold = Hold(heat_c, layer.start, blade_section(found.recipe, judged))
    residual_wt = draws.steels[layer.name].residual_wt
    rates = asked_of(layer, judged.layers[0], hold, residual_wt).rates
    lines = lines_of([(layer.wt, layer.errors)])[0]
    minutes = found.treatment.temper.table[0].minutes
    off = layer.errors.temper_hrc * band_hrc(layer.wt)
    tempered = np.minimum(tempered_hrc(layer.wt, state.hrc, TEMPER_C, minutes) + off, state.hrc)
    bath_c = np.random.default_rng(seed).uniform(*BATH_C, bars)
    return {
        "dissolved carbon": state.dissolved_wt["C"],
        "Ms": state.ms_c,
        "retained austenite": retained_austenite_of(state.dissolved_wt, state.ms_c, bath_c),
        "HRC": state.hrc,
        "critical rate": rates.value,
        "tempered HRC": tempered,
        "Ae1": lines.ae1_c,
        "Ae3": lines.ae3_c,
        "Acm": lines.acm_c,
    }


def coverage(steel: str, bars: int, seed: int = 1) -> dict[str, Coverage]:
    """Of one steel alone, drawn out, hardened at the plan's set point from a normalised start."""
    found = plan(parse_recipe(alone(steel)))
    drawn, result = melts(found, bars, seed), {}
    for name, band in told_bands(found).items():
        values = drawn[name][np.isfinite(drawn[name])]
        under, over = float(np.mean(values < band.low)), float(np.mean(values > band.high))
        result[name] = Coverage(1.0 - under - over, under, over)
    return result
