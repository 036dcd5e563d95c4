"""What a plan costs is known before it is computed, and what costs too much is refused in words."""

import time
from typing import Any

import pytest

from billet import RecipeError, example_recipes, load, plan, uncertainty
from billet.composition import Composition
from billet.diffusion import work
from billet.diffusion.simulation import simulate_diffusion
from billet.diffusion.work import (
    CELLS_OF_A_FIRE,
    CELLS_OF_A_TABLE,
    CELLS_OF_A_TABLED_HEAT,
    MOST_CELLS,
    work_of,
)
from billet.parse import forged_recipe
from billet.recipe.model import Recipe

MOST_STEELS = 12
SOON_S = 2.0


def many_fires(draws: int, heats: int, steels: int = MOST_STEELS) -> dict[str, Any]:
    """A bar of 9 600 layers of own steels, drawn out again and again."""
    own = {
        f"s{i}": {"name": f"s{i}", "wt": {"C": 0.6 + 0.02 * i, "Cr": 0.5 + 0.1 * i}} for i in range(steels)
    }
    weld = {"do": "weld", "temperature_c": 1100, "minutes": 0.2}
    drawn = [
        {
            "do": "draw",
            "temperature_c": 1090 - 2 * i,
            "minutes": 0.2,
            "heats": heats,
            "height_mm": 150 * 0.94**i,
        }
        for i in range(draws)
    ]
    return {
        "format": 1,
        "title": "Many fires",
        "steels": own,
        "stack": {
            "pattern": list(own),
            "count": 48,
            "thickness_mm": dict.fromkeys(own, 0.5),
            "width_mm": 60,
            "length_mm": 5000,
        },
        "steps": [
            {**weld, "height_mm": 20},
            {"do": "restack", "pieces": 20, "order": "same"},
            {**weld, "height_mm": 200},
            {"do": "restack", "pieces": 10, "order": "same"},
            {**weld, "height_mm": 200},
            *drawn,
        ],
    }


def compositions(recipe: Recipe) -> list[Composition]:
    return [steel.composition for steel in recipe.steels.values()]


def test_what_is_too_much_is_refused_at_once_with_the_limit_and_what_would_fit() -> None:
    began = time.process_time()
    with pytest.raises(RecipeError) as refused:
        load(many_fires(35, 50))
    assert time.process_time() - began < SOON_S
    (fault,) = refused.value.faults
    assert fault.where == "steps"
    assert "1753 fires of a bar of up to 9600 layers are more than is computed" in fault.message
    assert "at most 8;" in fault.message.replace("at most 8);", "at most 8;")
    fits = int(fault.message.rsplit("of such a bar ", 1)[1].split()[0])
    assert 500 < fits < 800
    heats = (fits - 3) // 35
    assert load(many_fires(35, heats)).steps


def test_the_numbers_of_the_limit() -> None:
    assert (MOST_CELLS, CELLS_OF_A_FIRE) == (8_000_000, 3000)
    assert (CELLS_OF_A_TABLED_HEAT, CELLS_OF_A_TABLE) == (10_000, 1_200)


def test_equilibria_count_by_temperature_and_steel() -> None:
    """Bars made first, each step at a heat of its own under 930 C: few cells, hundreds of tables."""
    bar = many_fires(0, 1)
    cold = {"do": "weld", "minutes": 0.2, "flux": False, "atmosphere": "sealed"}
    stack = {**bar["stack"], "length_mm": 100, "count": 12}
    made = {
        f"b{n}": {"stack": stack, "steps": [{**cold, "temperature_c": 860 + n + i / 64} for i in range(60)]}
        for n in range(12)
    }
    plates = [{"bar": name} for name in made]
    whole = {
        "stack": {"width_mm": 60, "length_mm": 100, "plates": plates},
        "steps": [{**cold, "temperature_c": 890}],
    }
    began = time.process_time()
    with pytest.raises(RecipeError, match=r"are more than is computed"):
        load({**bar, "bars": made, **whole})
    assert time.process_time() - began < SOON_S


@pytest.mark.parametrize("name", example_recipes())
def test_examples_are_far_from_it_and_the_cells_are_about_right(name: str) -> None:
    recipe, forged = forged_recipe(example_recipes()[name])
    found = work_of(forged, compositions(recipe))
    assert found.whole < MOST_CELLS / 50
    moved = simulate_diffusion(recipe, forged, 1)
    told = (found.cells - CELLS_OF_A_FIRE * found.fires) / found.fires
    assert 0.2 < told / len(moved.bar.steel) < 5.0


def test_a_count_of_bars_that_would_replay_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    planned = plan(next(iter(example_recipes().values())))
    once = work_of(planned.forged, compositions(planned.recipe)).whole
    monkeypatch.setattr(work, "MOST_CELLS", int(1.5 * once))
    with pytest.raises(RecipeError, match="2 times over, for a count of bars, are more than is computed"):
        uncertainty(planned)
