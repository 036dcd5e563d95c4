"""A plan is a sample of one, many bars a sample of many: the same rules, the same answer."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from billet import load_recipe_text, parse_recipe
from billet.diffusion.simulation import simulate_diffusion
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.hardening.decision import blade_section, half_width
from billet.hardening.heat_treatment import answer
from billet.hardening.joint_decision import decide_jointly
from billet.hardening.media_ranking import bar_quenches
from billet.hardening.samples import CellCarbon, FormulaErrors, LayerSamples
from billet.variation.count import drawn_layers
from billet.variation.draws import draw, undisturbed
from billet.variation.quench import Hold, asked_of

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))
BARS = 50


def parts_of(path: Path) -> Any:
    recipe = parse_recipe(load_recipe_text(path.read_text(encoding="utf-8")))
    forged = forge(recipe, build_stack(recipe))
    metal = simulate_diffusion(recipe, forged, 1)
    return recipe, forged, metal, answer(recipe, forged, metal)


def one_bar(layer: LayerSamples, i: int) -> LayerSamples:
    """Bar i alone."""
    errors = FormulaErrors(
        **{name: getattr(layer.errors, name)[i : i + 1] for name in FormulaErrors.__dataclass_fields__}
    )

    def cells(zone: CellCarbon) -> CellCarbon:
        return CellCarbon(zone.carbon_wt[i : i + 1], zone.share)

    return replace(
        layer,
        wt={e: v[i : i + 1] for e, v in layer.wt.items()},
        supplied_wt={e: v[i : i + 1] for e, v in layer.supplied_wt.items()},
        edge=cells(layer.edge),
        blade=cells(layer.blade),
        weight=layer.weight[i : i + 1],
        errors=errors,
    )


def media_of(recipe: Any, answered: Any, layers: Any) -> Any:
    """The medium of every sample at the plan's set point; None where the plan has none."""
    judged = answered.judged
    if judged.set_point_c is None:
        return None
    hold = Hold(judged.set_point_c, recipe.start, blade_section(recipe, judged))
    told = {layer.name: layer for layer in judged.layers}
    hardening = [layer for layer in layers if told[layer.name].role != "soft"]
    asks = [asked_of(layer, told[layer.name], hold, {}) for layer in hardening]
    return bar_quenches(asks, hold.section).place


@pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
def test_fifty_bars_are_planned_one_by_one_as_all_at_once(path: Path) -> None:
    recipe, forged, metal, answered = parts_of(path)
    layers = drawn_layers(recipe, forged, metal, answered, draw(recipe, BARS, 7))
    half_width_k = half_width(recipe)
    together = decide_jointly(layers, half_width_k)
    media = media_of(recipe, answered, together.layers)
    for i in range(BARS):
        alone = decide_jointly([one_bar(layer, i) for layer in layers], half_width_k)
        if media is not None:
            own = media_of(recipe, answered, alone.layers)
            assert own is not None and own[0] == media[i]
        assert alone.verdict() == together.verdict(i)
        assert alone.none_because() == together.none_because(i)
        if alone.has_window[0]:
            assert alone.window.low_c[0] == pytest.approx(together.window.low_c[i], abs=1e-9)
            assert alone.window.high_c[0] == pytest.approx(together.window.high_c[i], abs=1e-9)
            assert alone.point.c[0] == together.point.c[i]


@pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
def test_bars_without_any_spread_are_the_plan(path: Path) -> None:
    recipe, forged, metal, answered = parts_of(path)
    layers = drawn_layers(recipe, forged, metal, answered, undisturbed(recipe, 2))
    found = decide_jointly(layers, half_width(recipe))
    plan = answered.judged
    assert found.verdict(1) == plan.verdict
    if plan.window is not None:
        assert found.window.low_c[1] == pytest.approx(plan.window.low.c, abs=1e-6)
        assert found.window.high_c[1] == pytest.approx(plan.window.high.c, abs=1e-6)
        assert found.point.c[1] == plan.set_point_c


def test_draws_are_the_same_for_a_seed_and_differ_for_another() -> None:
    recipe = parse_recipe(load_recipe_text(RECIPES[0].read_text(encoding="utf-8")))
    first, again, other = (draw(recipe, 60, seed) for seed in (3, 3, 4))
    name = next(iter(first.steels))
    assert np.array_equal(first.steels[name].errors.ae1_k, again.steels[name].errors.ae1_k)
    assert not np.array_equal(first.steels[name].errors.ae1_k, other.steels[name].errors.ae1_k)
