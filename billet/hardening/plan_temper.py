"""The temper of a plan: its layers, with what the chosen heat made of them, handed to the rules."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from billet.contract.values import Estimate
from billet.hardening.layer import LayerSteel
from billet.hardening.samples import Array
from billet.hardening.temper import temper_decision
from billet.hardening.temper_types import Quenched, TemperDecision


@dataclass(frozen=True)
class _PlanLayer:
    """A layer of a plan as a sample of one; it counts as far as it hardens where the edge is."""

    name: str
    wt: Mapping[str, Array]
    weight: Array
    at_edge: Array


def temper_of_plan(
    layers: tuple[LayerSteel, ...],
    quenched_hrc: Mapping[str, Estimate | None],
    varied: Mapping[str, Quenched],
    temper_to_hrc: float | None = None,
) -> TemperDecision:
    """The temper of the layers that the chosen heat has hardened; `varied` widens their bands."""
    plan = tuple(
        _PlanLayer(
            layer.name,
            {e: np.array([value]) for e, value in layer.composition.wt.items()},
            np.array([0.0 if layer.role == "soft" else layer.weight]),
            np.array([0.0 if layer.role == "soft" else layer.edge_weight]),
        )
        for layer in layers
    )
    known = {name: np.array([hrc.value]) for name, hrc in quenched_hrc.items() if hrc is not None}
    return temper_decision(plan, known, temper_to_hrc, varied=varied)
