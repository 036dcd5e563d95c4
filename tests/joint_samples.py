"""Layers of a blade as samples, without a forging before them."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from billet.composition import Composition
from billet.hardening.joint_decision import JointDecision, decide_jointly
from billet.hardening.samples import CellCarbon, FormulaErrors, LayerSamples
from billet.tables.steels import find_steel


def layer(
    steel: str | Mapping[str, float],
    carbon_wt: Any = None,
    share: float = 0.5,
    start: Any = "normalised",
    harden_c: tuple[float, float] | None = None,
    cladding: bool = False,
    **more: Any,
) -> LayerSamples:
    """A steel of the library, or an analysis, level in carbon, with this share of edge and blade.

    `carbon_wt` and any element may be an array: then it is as many samples.
    """
    grade = find_steel(steel) if isinstance(steel, str) else None
    analysis = grade.nominal if grade is not None else Composition(dict(steel))  # type: ignore[arg-type]
    columns = {**analysis.wt, **more}
    if carbon_wt is not None:
        columns["C"] = carbon_wt
    count = max(np.size(v) for v in columns.values())
    wt = {e: np.broadcast_to(np.asarray(v, dtype=float), (count,)).copy() for e, v in columns.items()}
    supplied = {e: np.full(count, v) for e, v in analysis.wt.items()}
    cells = CellCarbon(wt["C"][:, None], np.array([share]))
    return LayerSamples(
        name=steel if isinstance(steel, str) else "own",
        grade=grade,
        harden_c=harden_c,
        cladding=cladding,
        given=grade is None,
        start=start,
        wt=wt,
        supplied_wt=supplied,
        edge=cells,
        blade=cells,
        weight=np.ones(count),
        errors=FormulaErrors.none(count),
    )


def decided(*layers: LayerSamples, half_width_k: float = 0.0) -> JointDecision:
    """What is decided for these layers, all of them given as many samples as the longest."""
    count = max(one.samples for one in layers)
    return decide_jointly([_long(one, count) for one in layers], half_width_k)


def _long(one: LayerSamples, count: int) -> LayerSamples:
    if one.samples == count:
        return one
    alloy = {e: float(v[0]) for e, v in one.wt.items()}
    steel: Any = one.name if one.grade is not None else alloy
    wt = {e: np.full(count, v) for e, v in alloy.items()}
    share = float(one.edge.share[0])
    return layer(
        steel, wt.pop("C"), share, one.start, one.harden_c, one.cladding, **(wt if one.grade is None else {})
    )
