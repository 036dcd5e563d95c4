"""How much each steel counts: what of it hardens in the zone of the edge, and in the blade.

The share fades in as carbon comes, so nothing enters a decision at a step. Coefficients are ours.
"""

from collections.abc import Mapping, Sequence

import numpy as np

from billet.hardening.critical_lines import ramp
from billet.hardening.samples import Array, CellCarbon
from billet.tables.practice import decision_numbers


def hardens(carbon_wt: Array) -> Array:
    """How far metal of this carbon hardens as an edge, 0 to 1; any shape."""
    return ramp(carbon_wt, *decision_numbers("role")["carbon_wt"])


def stays_austenite(wt: Mapping[str, Array]) -> Array:
    """How far an analysis stays austenite whatever the fire does, 0 to 1: (samples,)."""
    numbers = decision_numbers("role")
    zero = np.zeros(len(wt["C"]))
    equivalent = sum(
        (factor * wt.get(element, zero) for element, factor in numbers["austenite_factor"].items()), zero
    )
    return ramp(equivalent, *numbers["austenite_equivalent_wt"])


def zone_share(zone: CellCarbon, metal: Array) -> Array:
    """Share of a zone that this steel hardens in: (samples,). `metal` is what its alloy lets harden."""
    found: Array = metal * (hardens(zone.carbon_wt) * zone.share).sum(-1)
    return found


def hardening_carbon_wt(edge: CellCarbon, blade: CellCarbon) -> Array:
    """Carbon of what hardens: the mean over the cells weighted by how far each does. [wt%] (samples,)

    Cells of the edge count as they do in the weight. Where nothing hardens it is the plain mean.
    """
    carbon = np.concatenate([edge.carbon_wt, blade.carbon_wt], axis=1)
    share = np.concatenate([edge.share, 0.5 * blade.share], axis=-1)
    counted = np.maximum(hardens(carbon), decision_numbers("role")["least_cell"]) * share
    found: Array = (counted * carbon).sum(1) / counted.sum(1)
    return found


def weights(edge: Array, blade: Array, cladding: Sequence[bool]) -> Array:
    """How much each steel counts, 0 to 1, from its hardening shares of edge and blade: (steels, samples).

    Divided by the greatest, so that in every bar that hardens at all one steel counts in full.
    """
    numbers = decision_numbers("role")
    counts = np.minimum(1.0, numbers["share_factor"] * np.maximum(edge, numbers["blade_share"] * blade))
    counts[np.array(cladding)] = 0.0
    greatest = np.maximum(counts.max(axis=0), 1e-12)
    found: Array = counts / np.where(greatest < numbers["nothing_hardens_weight"], 1.0, greatest)
    return found
