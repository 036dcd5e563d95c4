"""One steel of the blade in many samples: what every rule of hardening works on.

A plan is a sample of one, a hundred bars a sample of a hundred; the rules know no difference.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from billet.composition import Composition
from billet.contract.values import Range
from billet.tables.steels import Start, Steel

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class CellCarbon:
    """Carbon of one steel's cells in a zone of the blade.

    `carbon_wt` (samples, cells) in wt%; `share` (cells,), or (samples, cells) where it differs, of the
    zone's height, so that its sum is the steel's share of the zone (0 where it is absent).
    """

    carbon_wt: Array
    share: Array


@dataclass(frozen=True)
class FormulaErrors:
    """How far each formula is off in every sample: (samples,) each; all nought or one in a plan.

    Offsets in K and wt%; `soak` runs from 0, the least a short soak dissolves, over 0.5, the value, to 1,
    equilibrium; `range_sd` counts standard deviations of a
    good range; factors multiply the critical rate and the film coefficient.
    """

    ae1_k: Array
    ae3_k: Array
    acm_k: Array
    range_sd: Array
    ms_k: Array
    hrc: Array
    temper_hrc: Array
    soak: Array
    dissolved_wt: Array
    rate_factor: Array
    film_factor: Array

    @staticmethod
    def none(samples: int) -> "FormulaErrors":
        """Formulas that are never off: the errors of a plan."""
        zero, one = np.zeros(samples), np.ones(samples)
        return FormulaErrors(zero, zero, zero, zero, zero, zero, zero, np.full(samples, 0.5), zero, one, one)

    @staticmethod
    def side_by_side(parts: Sequence["FormulaErrors"]) -> "FormulaErrors":
        """Those of the samples of several steels one after another."""
        return FormulaErrors(
            *(np.concatenate([getattr(part, f.name) for part in parts]) for f in fields(FormulaErrors))
        )


def side_by_side(parts: Sequence[Mapping[str, Array]]) -> dict[str, Array]:
    """Samples of several steels one after another, each element (samples,): one that a steel does not name
    is nought in it."""
    elements = dict.fromkeys(e for wt in parts for e in wt)
    none = [np.zeros(len(wt["C"])) for wt in parts]
    return {
        e: np.concatenate([wt.get(e, zero) for wt, zero in zip(parts, none, strict=True)]) for e in elements
    }


@dataclass(frozen=True)
class LayerSamples:
    """One steel of the recipe inside the blade, after forging and the heats before the quench.

    `wt` holds what is left in the layer, with C the carbon that hardens (the mean over its cells weighted
    by how far each hardens), `supplied_wt` the analysis before the fire; each element (samples,). `edge`
    is the zone of the edge, `blade` the whole blade. `weight` (samples,) is how much the steel counts in
    every most and least, 0 to 1: declared cladding and what does not harden count nothing. `edge_weight`
    is the same by the edge alone, None until it is decided. `given` tells an analysis of its own from that
    of the grade.
    """

    name: str
    grade: Steel | None
    harden_c: Range | None
    cladding: bool
    given: bool
    start: Start
    wt: Mapping[str, Array]
    supplied_wt: Mapping[str, Array]
    edge: CellCarbon
    blade: CellCarbon
    weight: Array
    errors: FormulaErrors
    edge_weight: Array | None = None

    @property
    def at_edge(self) -> Array:
        """How much the steel counts where only the edge does: (samples,)."""
        return self.weight if self.edge_weight is None else self.edge_weight

    @property
    def samples(self) -> int:
        """How many samples there are."""
        return len(self.weight)

    def analysis(self, sample: int = 0) -> Composition:
        """The layer's metal in one sample."""
        return Composition({element: float(values[sample]) for element, values in self.wt.items()})

    @staticmethod
    def plain(wt: Mapping[str, Array], cells: CellCarbon, start: Start, samples: int) -> "LayerSamples":
        """A steel known by its analysis alone, the whole of its blade."""
        return LayerSamples(
            name="steel",
            grade=None,
            harden_c=None,
            cladding=False,
            given=True,
            start=start,
            wt=wt,
            supplied_wt=wt,
            edge=cells,
            blade=cells,
            weight=np.ones(samples),
            errors=FormulaErrors.none(samples),
        )


def one_start(layers: Sequence[LayerSamples]) -> Start:
    """The structure that all these layers had before hardening, for they are solved in one. Raises ValueError
    where they differ."""
    start, *others = {layer.start for layer in layers}
    if others:
        raise ValueError("layers that are solved together begin with one structure")
    return start
