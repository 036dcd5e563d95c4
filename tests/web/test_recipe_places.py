"""Places of a recipe in words, as a page offers them to the eye."""

from pathlib import Path

import pytest

from billet import load_recipe_text
from web.recipe_places import place_words

RECIPES = Path(__file__).resolve().parents[2] / "recipes"
PLACES = {
    "reed_bed_kitchen": {
        "stack.count": "stack: count",
        "stack.thickness_mm.dark": "stack: thickness of dark, mm",
        "steps[1].height_mm": "step 2 (draw): height, mm",
        "steps[5].temperature_c": "step 6 (draw): temperature, °C",
        "steps[1].minutes": "step 2 (draw): minutes",
        "blade.bevel_half_angle_deg": "blade: bevel half angle, degrees",
    },
    "twin_cord_composite": {
        "bars.left.steps[2].turns": "left, step 3 (twist): turns",
        "bars.rim.stack.plates[0].thickness_mm": "rim, stack, plate 1: thickness, mm",
    },
    "three_winds": {"steps[3].trim_mm[1]": "step 4 (restack): trim 2, mm"},
}


@pytest.mark.parametrize("name", PLACES)
def test_a_place_is_told_as_paper_counts(name: str) -> None:
    recipe = load_recipe_text((RECIPES / f"{name}.toml").read_text(encoding="utf-8"))
    for where, words in PLACES[name].items():
        assert place_words(where, recipe) == words


def test_a_place_that_is_not_there_is_told_all_the_same() -> None:
    assert place_words("steps[7].height_mm", {"steps": []}) == "step 8 (): height, mm"
