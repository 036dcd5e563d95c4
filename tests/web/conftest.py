"""The service under test, and a recipe that every page can show."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from web.app import create_app
from web.settings import Settings

RECIPES = Path(__file__).resolve().parent.parent.parent / "recipes"


@pytest.fixture(scope="session")
def settings() -> Settings:
    """A service that waits long, so that a busy machine fails nothing."""
    return Settings(recipes=RECIPES, answer_s=60.0, wait_for_a_place_s=60.0)


@pytest.fixture(scope="session")
def client(settings: Settings) -> Iterator[TestClient]:
    """Server errors come back as answers, as they would from a running service."""
    app = create_app(settings)
    with TestClient(app, raise_server_exceptions=False, follow_redirects=False) as started:
        yield started


@pytest.fixture
def recipe() -> dict[str, Any]:
    """Every kind of table of a recipe, valid."""
    fire = {"temperature_c": 1120, "minutes": 15}
    return {
        "format": 1,
        "title": "Reed bed, kitchen bar",
        "steels": {
            "dark": "1084",
            "bright": {
                "like": "75Ni8",
                "melt": "4471",
                "wt": {"C": 0.74, "Si": 0.22, "Mn": 0.41, "Ni": 1.98},
            },
        },
        "stack": {
            "width_mm": 40,
            "length_mm": 150,
            "pattern": ["dark", "bright"],
            "count": 15,
            "thickness_mm": {"dark": 3, "bright": 1.5},
        },
        "steps": [
            {"do": "weld", "temperature_c": 1150, "minutes": 12, "height_mm": 30},
            {"do": "draw", **fire, "heats": 5, "height_mm": 12, "width_mm": 40},
            {"do": "grind", "per_face_mm": 0.4},
            {"do": "restack", "pieces": 4, "trim_mm": [10, 5], "order": "same"},
            {"do": "weld", "temperature_c": 1150, "minutes": 12, "note": "brush well"},
            {"do": "draw", **fire, "heats": 6, "height_mm": 5.5, "width_mm": 40},
        ],
        "blade": {"thickness_mm": 3, "bevel_half_angle_deg": 4},
        "control": {"half_width_k": 15},
        "sheet": {"number": "7", "share_recipe": True},
    }
