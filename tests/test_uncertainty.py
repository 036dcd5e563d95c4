"""Many bars: the rules are those of the plan, the carbon that of full plans, the counts what was drawn."""

import dataclasses
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from billet.variation.shared_window import NARROW, NONE, SHARED
from billet.variation.windows import LayerBars, windows_of_bars

import billet
from billet import OutOfDomain, load_recipe_text, parse_recipe
from billet.diffusion.simulation import Metal, simulate_diffusion
from billet.forging.forge import forge
from billet.forging.model import Forged
from billet.forging.stack import build_stack
from billet.hardening.austenite_state import austenitised_state
from billet.hardening.austenitising_window import steel_window
from billet.hardening.decision import dissolved
from billet.hardening.heat_treatment import HeatTreatment, answer
from billet.hardening.layer import is_high_alloy, judge_role
from billet.hardening.quench import MEDIA_BY_COOLING, layer_quench
from billet.hardening.shared_window import shared_window
from billet.recipe.model import Recipe
from billet.variation.carbon import BarCarbon
from billet.variation.count import drawn_layers, judge_bars, judged_bars, uncertainty
from billet.variation.draws import Draws, draw, exact, limits_wt, undisturbed
from billet.variation.quench import Hold, asked_of
from tests.recipe_samples import good

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))
VERDICTS = {"shared": SHARED, "narrow": NARROW, "none": NONE}
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


@pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
def test_bars_without_any_spread_are_the_plan(path: Path) -> None:
    recipe, forged, metal, answered = of_file(path)
    found = judge_bars(drawn_layers(recipe, forged, metal, answered, undisturbed(recipe, 2)))
    plain = answered.judged.agreement
    assert set(found.verdict) == {VERDICTS[plain.verdict]}
    if plain.window is not None:
        assert found.low == pytest.approx(plain.window.low.c, abs=1.0)
        assert found.high == pytest.approx(plain.window.high.c, abs=1.5)  # the plan searches to 1 K


def one_bar(bars: LayerBars, i: int) -> Any:
    """The layer of bar i as the plan's own rules take it."""
    layer = bars.layer
    computed = not is_high_alloy(layer.composition)
    carbon = dataclasses.replace(
        layer.carbon, mean=bars.carbon.mean[i], p10=bars.carbon.p10[i], p90=bars.carbon.p90[i]
    )

    def moved(composition: Any, off: dict[str, Any], carbon_wt: float) -> Any:
        wt = {e: v + (off[e][i] if computed and e in off else 0.0) for e, v in composition.wt.items()}
        return billet.Composition({**wt, "C": carbon_wt})

    alloy = moved(layer.composition, bars.off, carbon.mean)
    role, why = judge_role(alloy, carbon)
    return dataclasses.replace(
        layer,
        supplied=moved(layer.supplied, bars.supplied_off, bars.supplied_carbon_wt[i]),
        composition=alloy,
        carbon=carbon,
        role=role,
        role_because=why,
    )


@pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
def test_every_bar_is_judged_by_the_rules_of_the_plan(path: Path) -> None:
    """The two ways of writing the rules, held together bar by bar on drawn analyses."""
    recipe, forged, metal, answered = of_file(path)
    bars = drawn_layers(recipe, forged, metal, answered, analyses_alone(recipe, 8))
    found = judge_bars(bars)
    for i in range(8):
        layers = tuple(one_bar(layer, i) for layer in bars)
        plain = shared_window(layers, tuple(steel_window(layer) for layer in layers))
        near_the_step = plain.window is not None and abs(plain.window.width_k - 10.0) < 1.5
        assert near_the_step or found.verdict[i] == VERDICTS[plain.verdict]
        if plain.window is not None and not near_the_step:
            assert found.low[i] == pytest.approx(plain.window.low.c, abs=2.0)
            assert found.high[i] == pytest.approx(plain.window.high.c, abs=2.0)


OWN = {"name": "own melt", "wt": {"C": 0.85, "Si": 0.3, "Mn": 0.6, "Ni": 1.0}}
OWN_POOR = {"name": "own melt", "wt": {"C": 0.5, "Si": 0.3, "Mn": 0.6, "Cr": 0.9}}
COOL = {"name": "hardened cool", "wt": {"C": 0.5, "Si": 0.3, "Mn": 0.6}, "harden_c": [740, 800]}
RULES: list[tuple[Any, Any]] = [
    ("1084", "1018"), ("5160", "52100"), ("O1", "75Ni8"), ("80CrV2", "1045"), ("52100", "1095"),
    ("1045", "51CrV4"), (OWN, "75Ni8"), (OWN_POOR, "1084"), ("A2", "D2"), ("102Cr6", "1075"), (COOL, "1084"),
]  # fmt: skip


@pytest.mark.parametrize("pair", RULES, ids=str)
def test_both_windows_of_every_steel_follow_the_rules_of_the_plan(pair: tuple[Any, Any]) -> None:
    """Each steel by itself, on carbon from far below to far above its own."""
    steels = dict(zip(("dark", "bright"), pair, strict=True))
    recipe, forged, metal, answered = planned(good() | {"steels": steels})
    spread = np.linspace(-0.25, 0.25, 7)
    for bars in drawn_layers(recipe, forged, metal, answered, analyses_alone(recipe, 7)):
        mean = np.maximum(bars.supplied_carbon_wt + spread, 0.31)
        bars = dataclasses.replace(bars, carbon=BarCarbon(mean, mean - 0.01, mean + 0.01))
        found = windows_of_bars(bars)
        for i in range(7):
            plain = steel_window(one_bar(bars, i))
            if found is None or plain.preferred is None or plain.possible is None:
                assert plain.preferred is None and (found is None or not found.known[i])
                continue
            assert found.known[i] and found.uneven[i] == plain.uneven
            for now, window in ((found.preferred, plain.preferred), (found.possible, plain.possible)):
                assert now.low[i] == pytest.approx(window.low.c, abs=2.0), window
                assert now.high[i] == pytest.approx(window.high.c, abs=2.0), window


def largest_error_of_carbon(pair: tuple[str, str], drawn: dict[str, dict[str, Any]]) -> float:
    """How far mean, p10 and p90 of the bars lie off full plans of the same analyses, wt%."""
    mapping = good() | {"steels": dict(zip(("dark", "bright"), pair, strict=True))}
    recipe, forged, metal, answered = planned(mapping)
    bars = len(drawn["dark"]["C"])
    steels = {name: exact(wt, bars) for name, wt in drawn.items()}
    draws = Draws(bars, steels, np.ones(bars), np.zeros(bars))
    layers = drawn_layers(recipe, forged, metal, answered, draws)
    off = []
    for i in range(bars):
        given = {
            name: {"like": mapping["steels"][name], "wt": {e: float(v[i]) for e, v in wt.items()}}
            for name, wt in drawn.items()
        }
        full = planned(mapping | {"steels": given})[3].spreads
        off += [
            abs(getattr(layer.carbon, where)[i] - getattr(full[layer.layer.name], where))
            for layer in layers
            for where in ("mean", "p10", "p90")
        ]
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
    assert uncertainty(*parts, bars=200) == uncertainty(*parts, bars=200)
    other = uncertainty(*parts, bars=200, seed=5)
    assert other.window_low_c != uncertainty(*parts, bars=200).window_low_c


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


@pytest.mark.parametrize("pair", [("1084", "75Ni8"), ("52100", "75Ni8"), ("O1", "5160")], ids="|".join)
def test_every_bar_asks_for_the_medium_that_the_plan_would(pair: tuple[str, str]) -> None:
    recipe, forged, metal, answered = planned(
        good() | {"steels": dict(zip(("dark", "bright"), pair, strict=True))}
    )
    bars = drawn_layers(recipe, forged, metal, answered, analyses_alone(recipe, 6))
    for steel in bars:
        asked = asked_of(steel, Hold(812.0, "spheroidised", 3.0, True), np.ones(6))
        for i in range(6):
            layer = one_bar(steel, i)
            state = austenitised_state(layer.composition, 812.0, "spheroidised")
            plain = layer_quench(layer, dissolved(state, layer), 3.0, cycled=True)
            assert plain.hardenability is not None
            rate = plain.hardenability.critical_rate_k_s.value
            # read off as straight by each metal; a tenth of the stated factor of 1.6
            assert asked.critical_rate_k_s[i] == pytest.approx(rate, rel=0.06)
            assert MEDIA_BY_COOLING[asked.slowest[i]] == plain.slowest


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
    assert found.sentence.startswith("In 100 bars made so, 0 have a shared window")


@pytest.mark.parametrize("bars", [0, 49, 20001])
def test_too_few_and_too_many_bars_are_refused(bars: int) -> None:
    with pytest.raises(OutOfDomain):
        billet.uncertainty(parse_recipe(good()), bars=bars)
