"""The steels inside the blade of every bar: the plan's own layers, moved by what was drawn."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from billet.hardening.heat_treatment import HeatTreatment
from billet.hardening.samples import LayerSamples
from billet.hardening.zones import shifted
from billet.recipe.model import Recipe
from billet.variation.draws import Array, Draws, within_hundred

LEAST_CARBON_WT = 0.01


def layers_of_bars(
    recipe: Recipe, answered: HeatTreatment, more_carbon_wt: Mapping[str, Array], draws: Draws
) -> tuple[LayerSamples, ...]:
    """The layers of the plan in every bar; metals have blurred as far as in the plan."""
    off = {name: _off(recipe, draws, name) for name in draws.steels}
    shares = {layer.name: layer.share for layer in answered.judged.layers}
    found = []
    for layer in answered.undecided:
        more = more_carbon_wt[layer.name]
        blurred = _blurred(answered, off, shares, layer.name)
        wt = {
            e: np.maximum(v[0] + blurred.get(e, 0.0), 0.0) * np.ones(draws.bars) for e, v in layer.wt.items()
        }
        wt |= {e: np.maximum(v, 0.0) for e, v in blurred.items() if e not in wt}
        wt["C"] = np.maximum(layer.wt["C"][0] + more, LEAST_CARBON_WT)
        drawn = draws.steels[layer.name]
        supplied = {e: np.full(draws.bars, float(v[0])) for e, v in layer.supplied_wt.items()}
        found.append(
            replace(
                layer,
                wt=within_hundred(wt),
                supplied_wt={**supplied, **drawn.wt},
                edge=shifted(layer.edge, more),
                blade=shifted(layer.blade, more),
                weight=np.ones(draws.bars),
                errors=drawn.errors,
            )
        )
    return tuple(found)


def _off(recipe: Recipe, draws: Draws, name: str) -> dict[str, Array]:
    """How far each metal is off the plan's analysis, where it is drawn: {metal: (bars,)}."""
    supplied = recipe.steels[name].composition
    return {m: v - supplied[m] for m, v in draws.steels[name].wt.items() if m != "C"}


def _blurred(
    answered: HeatTreatment,
    off: Mapping[str, Mapping[str, Array]],
    shares: Mapping[str, float],
    name: str,
) -> dict[str, Array]:
    """The same after metals have crept over the seams: what is left of it, the rest as in the mean."""
    found = dict(off[name])
    for metal, row in answered.blur.contrast.items():
        none = np.zeros(1)
        mean = sum((share * off[n].get(metal, none) for n, share in shares.items()), none)
        found[metal] = mean + row.left * (found.get(metal, none) - mean)
    return found
