"""Hardness of the edge after the temper in every bar, by the rules of the plan's own temper."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from billet.hardening.austenite import austenitised
from billet.hardening.layer import is_high_alloy
from billet.hardening.samples import Array, LayerSamples
from billet.hardening.temper import edge_hrc
from billet.hardening.temper_types import TemperDecision
from billet.hardening.tempered_hardness import usual_quenched_hrc
from billet.tables.tempering import temper_numbers


@dataclass(frozen=True)
class ToldTemper:
    """The temper that is counted: the wanted one where it is in reach, else where the governing steel is
    told; `minutes` of all cycles, and the band told for that steel there. [C, min, HRC]"""

    temperature_c: float
    minutes: float
    low_hrc: float
    high_hrc: float


def told_temper(temper: TemperDecision) -> ToldTemper | None:
    """The temper of a plan that bars are counted by; None where none is told."""
    wanted = temper.wanted
    if wanted is not None and wanted.temperature_c is not None:
        at_c, minutes, rows = wanted.temperature_c, wanted.minutes, wanted.per_steel
    else:
        governing_c = temper_numbers("advised")["governing_c"]
        step = next((s for s in temper.table if s.temperature_c == governing_c), None)
        if step is None:
            return None
        at_c, minutes, rows = governing_c, step.minutes, step.per_steel
    row = next((one for one in rows if one.steel == temper.governs), None)
    return None if row is None else ToldTemper(float(at_c), minutes, row.low, row.high)


def tempered_edge_hrc(layers: Sequence[LayerSamples], heat_c: Array, told: ToldTemper) -> Array:
    """The softest layer of the edge in every bar, quenched from `heat_c` (bars,). [HRC]

    Infinite where no layer counts.
    """
    quenched: Mapping[str, Array] = {layer.name: _quenched_hrc(layer, heat_c) for layer in layers}
    off = {layer.name: layer.errors.temper_hrc for layer in layers}
    return edge_hrc(layers, quenched, told.temperature_c, told.minutes, off)


def _quenched_hrc(layer: LayerSamples, heat_c: Array) -> Array:
    """As quenched: computed, or as usual for an analysis too rich for the equilibria. [HRC]"""
    if is_high_alloy(layer.analysis()):
        return np.asarray(usual_quenched_hrc(layer.wt) + layer.errors.hrc)
    return austenitised(layer.wt, heat_c, layer.start, layer.errors).hrc
