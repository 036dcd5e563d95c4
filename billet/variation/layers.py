"""The steels inside the blade of every bar: what differs from the plan's own layers."""

from collections.abc import Mapping

import numpy as np

from billet.hardening.heat_treatment import HeatTreatment
from billet.recipe.model import Recipe
from billet.variation.carbon import BarCarbon
from billet.variation.draws import Array, Draws
from billet.variation.surfaces import MODEL_METALS
from billet.variation.windows import LayerBars

Off = dict[str, Array]


def layers_of_bars(
    recipe: Recipe, answered: HeatTreatment, carbon: Mapping[str, BarCarbon], draws: Draws
) -> tuple[LayerBars, ...]:
    """The layers of the plan in every bar; metals have blurred as far as in the plan."""
    off = {name: _off(recipe, draws, name) for name in draws.steels}
    shares = {layer.name: layer.share for layer in answered.judged.layers}
    found = []
    for layer in answered.judged.layers:
        drawn = draws.steels[layer.name]
        start = drawn.wt.get("C", np.full(draws.bars, layer.supplied["C"]))
        blurred = _blurred(answered, off, shares, layer.name)
        found.append(LayerBars(layer, carbon[layer.name], start, off[layer.name], blurred, drawn))
    return tuple(found)


def _off(recipe: Recipe, draws: Draws, name: str) -> Off:
    """How far each metal of the model is off the plan's analysis, where it is: {metal: (bars,)}."""
    supplied = recipe.steels[name].composition
    wt = draws.steels[name].wt
    return {m: wt[m] - supplied[m] if m in wt else np.zeros(draws.bars) for m in MODEL_METALS}


def _blurred(answered: HeatTreatment, off: Mapping[str, Off], shares: Mapping[str, float], name: str) -> Off:
    """The same after metals have crept over the seams: what is left of it, the rest as in the mean."""
    found = dict(off[name])
    for metal, row in answered.blur.contrast.items():
        if metal in found:
            mean = sum((share * off[n][metal] for n, share in shares.items()), np.zeros(1))
            found[metal] = mean + row.left * (found[metal] - mean)
    return found
