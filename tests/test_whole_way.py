"""A few drawn recipes the whole way; thousands by `python tests/benchmarks/whole_way.py`."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from starlette.testclient import TestClient

from tests.whole_way import recipes, taken
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


@given(recipes())
@FEW
def test_a_drawn_recipe_is_answered_everywhere_or_refused_in_words(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    taken(client, recipe)
