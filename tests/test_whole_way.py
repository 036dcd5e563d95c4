"""A few drawn recipes the whole way; thousands by `python tests/benchmarks/whole_way.py`."""

import warnings
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from starlette.testclient import TestClient

from tests.drawn_recipes import recipes
from tests.whole_way import ACCEPTED, taken
from web.app import create_app
from web.settings import Settings

RECIPES = Path(__file__).parent.parent / "recipes"
FEW = settings(
    max_examples=6,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


@pytest.fixture(scope="module")
def client() -> TestClient:
    app = create_app(Settings(RECIPES, answer_s=600.0, wait_for_a_place_s=600.0))
    return TestClient(app, raise_server_exceptions=False, follow_redirects=False)


FOUND = {
    "iron and nothing else, in a fire of no minutes": (
        {"s0": {"name": "own melt", "wt": {"C": 0.0, "Mn": 0.0}}, "s1": "1008"},
        {"temperature_c": 1000, "minutes": 0.0, "atmosphere": "air"},
    ),
    "a steel that hardens in any section": (
        {"s0": {"name": "own melt", "wt": {"C": 0.306, "Si": 1.77, "Mn": 1.901, "Ni": 0.0, "V": 0.274}}},
        {"temperature_c": 1000, "minutes": 46.5, "atmosphere": "air"},
    ),
}
"""Drawn recipes that once broke something, made as small as they go."""


@pytest.mark.parametrize("found", FOUND)
def test_what_once_broke_is_answered_without_a_warning(client: TestClient, found: str) -> None:
    steels, fire = FOUND[found]
    recipe = {
        "format": 1,
        "title": found[:40],
        "steels": steels,
        "stack": {
            "width_mm": 27.1,
            "length_mm": 116.0,
            "pattern": list(steels),
            "count": 13,
            "thickness_mm": dict.fromkeys(steels, 6.1),
        },
        "steps": [{"do": "weld", "height_mm": 67.41, **fire}],
        "control": {"method": "magnet_plus_shade"},
    }
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert taken(client, recipe) == ACCEPTED


@given(recipes())
@FEW
def test_a_drawn_recipe_is_answered_everywhere_or_refused_in_words(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    taken(client, recipe)
