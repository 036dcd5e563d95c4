"""Many bars: the rules are those of the plan, the carbon that of full plans, the counts what was drawn."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

import billet
from billet import OutOfDomain, load_recipe_text, parse_recipe
from billet.diffusion.simulation import Metal, simulate_diffusion
from billet.forging.forge import forge
from billet.forging.model import Forged
from billet.forging.stack import build_stack
from billet.hardening.heat_treatment import HeatTreatment, answer
from billet.recipe.model import Recipe
from billet.variation.count import count_bars, drawn_layers, judged_bars
from billet.variation.draws import Draws, draw, exact, limits_wt, undisturbed
from tests.recipe_samples import good

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))
Planned = tuple[Recipe, Forged, Metal, HeatTreatment]


def planned(mapping: dict[str, Any]) -> Planned:
    recipe = parse_recipe(mapping)
    forged = forge(recipe, build_stack(recipe))
    metal = simulate_diffusion(recipe, forged, 1)
    return recipe, forged, metal, answer(recipe, forged, metal)


def of_file(path: Path) -> Planned:
    return planned(load_recipe_text(path.read_text(encoding="utf-8")))


def analyses_alone(recipe: Recipe, bars: int, seed: int = 3) -> Draws:
    """Drawn analyses, formulas that are never off."""
    drawn = draw(recipe, bars, seed)
    steels = {name: exact(steel.wt, bars) for name, steel in drawn.steels.items()}
    return Draws(bars, steels, np.ones(bars), np.zeros(bars))


def largest_error_of_carbon(pair: tuple[str, str], drawn: dict[str, dict[str, Any]]) -> float:
    """How far the mean carbon of the bars lies off full plans of the same analyses, wt%."""
    mapping = good() | {"steels": dict(zip(("dark", "bright"), pair, strict=True))}
    recipe, forged, metal, answered = planned(mapping)
    bars = len(drawn["dark"]["C"])
    steels = {name: exact(wt, bars) for name, wt in drawn.items()}
    draws = Draws(bars, steels, np.ones(bars), np.zeros(bars))
    layers = drawn_layers(recipe, forged, metal, answered, draws)
    means = {
        layer.name: (layer.blade.carbon_wt @ layer.blade.share) / layer.blade.share.sum() for layer in layers
    }
    off = []
    for i in range(bars):
        given = {
            name: {"like": mapping["steels"][name], "wt": {e: float(v[i]) for e, v in wt.items()}}
            for name, wt in drawn.items()
        }
        full = planned(mapping | {"steels": given})[3].spreads
        off += [abs(mean[i] - full[name].mean) for name, mean in means.items()]
    return float(max(off))


PAIRS = [("1084", "75Ni8"), ("1095", "75Ni8"), ("52100", "75Ni8"), ("51CrV4", "80CrV2")]


@pytest.mark.parametrize("pair", PAIRS, ids="|".join)
def test_carbon_of_a_bar_is_that_of_a_full_plan_with_its_analysis(pair: tuple[str, str]) -> None:
    recipe = parse_recipe(good() | {"steels": dict(zip(("dark", "bright"), pair, strict=True))})
    drawn = {name: dict(steel.wt) for name, steel in draw(recipe, 4, 11).steels.items()}
    assert largest_error_of_carbon(pair, drawn) < 0.02


@pytest.mark.parametrize("pair", PAIRS, ids="|".join)
def test_carbon_where_every_element_stands_at_its_limit(pair: tuple[str, str]) -> None:
    """One steel at all its low limits, the other at all its high ones, and the other way: the worst.

    0.03 wt%, for chromium pulls harder on carbon in the soak than in the welding heat it is reckoned for.
    """
    recipe = parse_recipe(good() | {"steels": dict(zip(("dark", "bright"), pair, strict=True))})
    drawn: dict[str, dict[str, Any]] = {"dark": {}, "bright": {}}
    for place, (name, steel) in enumerate(recipe.steels.items()):
        for element, value in steel.composition.wt.items():
            if value > 0.0:
                ends = limits_wt(steel, element)
                drawn[name][element] = np.array([ends[place], ends[1 - place]])
    assert largest_error_of_carbon(pair, drawn) < 0.03


def test_the_same_seed_gives_the_same_count_and_another_seed_another() -> None:
    parts = planned(good())
    assert count_bars(*parts, bars=200) == count_bars(*parts, bars=200)
    other = count_bars(*parts, bars=200, seed=5)
    assert other.window_low_c != count_bars(*parts, bars=200).window_low_c


def test_shares_add_up_and_a_better_hold_hits_more_bars() -> None:
    shares = {}
    for half_width in (5.0, 15.0, 40.0):
        found = billet.uncertainty(parse_recipe(good() | {"control": {"half_width_k": half_width}}))
        assert found.share_shared + found.share_narrow + found.share_none == pytest.approx(1.0)
        assert sum(found.medium_share.values()) == pytest.approx(1.0 - found.share_none)
        assert found.share_in_window_at_set_point is not None
        shares[half_width] = found.share_in_window_at_set_point
    assert shares[5.0] > shares[15.0] > shares[40.0]


def test_bars_as_planned_ask_for_the_medium_of_the_plan() -> None:
    recipe, forged, metal, answered = planned(good())
    still = undisturbed(recipe, 4)
    layers = drawn_layers(recipe, forged, metal, answered, still)
    found = judged_bars(recipe, answered, still, layers, 0)
    assert found.medium_share == {answered.quench.medium: 1.0}


def test_drawn_analyses_stay_inside_the_standard_around_the_usual_value() -> None:
    recipe = parse_recipe(good())
    drawn = draw(recipe, 4000, 1).steels["dark"].wt["C"]
    low, high = limits_wt(recipe.steels["dark"], "C")
    assert low < recipe.steels["dark"].composition["C"] < high
    assert drawn.min() >= low and drawn.max() <= high
    assert drawn.max() - drawn.min() > 0.98 * (high - low)
    assert np.median(drawn) == pytest.approx(recipe.steels["dark"].composition["C"], abs=0.004)


def test_a_given_analysis_has_the_error_of_a_laboratory_alone() -> None:
    given = {"like": "1084", "wt": {"C": 0.86, "Mn": 0.7}}
    recipe = parse_recipe(good() | {"steels": {"dark": given, "bright": "75Ni8"}})
    drawn = draw(recipe, 4000, 1).steels["dark"].wt["C"]
    assert np.quantile(np.abs(drawn - 0.86), 0.9) == pytest.approx(0.02, rel=0.06)
    told = billet.uncertainty(recipe, bars=50).assumptions
    assert "laboratory" in " ".join(told)


def test_bars_that_never_harden_have_no_window_and_no_medium() -> None:
    found = billet.uncertainty(parse_recipe(good() | {"steels": {"dark": "1018", "bright": "304"}}), bars=50)
    assert found.share_none == 1.0
    assert (found.width_k, found.medium, found.share_hardened_through) == (None, None, None)
    assert found.share_in_window_at_set_point is None
    assert found.sentence.startswith("In 100 bars made so, 0 have one temperature")


@pytest.mark.parametrize("bars", [0, 49, 20001])
def test_too_few_and_too_many_bars_are_refused(bars: int) -> None:
    with pytest.raises(OutOfDomain):
        billet.uncertainty(parse_recipe(good()), bars=bars)
