"""Layers as the rules of the quench take them, from grades and analyses, without a plan around them."""

from collections.abc import Mapping

import numpy as np

from billet.composition import Composition
from billet.hardening.quench_grades import BladeSection, LayerAsk, LayerInput, layer_ask
from billet.hardening.residuals import printed_residuals, with_usual_residuals
from billet.hardening.samples import Array, CellCarbon, FormulaErrors, LayerSamples
from billet.tables.steels import Steel, find_steel

PLATE = BladeSection(3.0, 1.0, 4.0, True)


def section(thickness_mm: float, edge_mm: float = 1.0) -> BladeSection:
    return BladeSection(thickness_mm, edge_mm, 4.0, True)


def samples(
    name: str, wt: Mapping[str, Array], grade: Steel | None = None, weight: float = 1.0
) -> LayerSamples:
    count = len(wt["C"])
    cells = CellCarbon(wt["C"][:, None], np.ones(1))
    full = np.full(count, weight)
    return LayerSamples(
        name, grade, None, False, False, "normalised", wt, wt, cells, cells, full, FormulaErrors.none(count)
    )


def swept(base: Mapping[str, float], element: str, contents_wt: Array) -> dict[str, Array]:
    wt = {e: np.full(len(contents_wt), v) for e, v in base.items()}
    return wt | {element: contents_wt}


def whole(name: str) -> dict[str, float]:
    """A grade's nominal analysis with the usual residuals."""
    grade = find_steel(name)
    return with_usual_residuals(grade.nominal.wt, printed_residuals(grade.nominal, grade))


def given(name: str, dissolved_c_wt: float | None = None, weight: float = 1.0) -> LayerInput:
    """A grade with all of its metals dissolved and this carbon; None: more than is computed."""
    grade = find_steel(name)
    wt = {e: np.array([v]) for e, v in whole(name).items()}
    layer = samples(name, wt, grade, weight)
    if dissolved_c_wt is None:
        return LayerInput(layer, None)
    metal = Composition(whole(name)).with_carbon(dissolved_c_wt)
    return LayerInput(layer, {e: np.array([v]) for e, v in metal.wt.items()})


def ask(name: str, dissolved_c_wt: float | None = None, at: BladeSection = PLATE) -> LayerAsk:
    one = given(name, dissolved_c_wt)
    return layer_ask(one.layer, one.dissolved_wt, at)
