"""What a page weighs: as sent without compression, and that it is compressed for who asks."""

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from billet import EXAMPLE_WISH, load_recipe_text
from web.http.address import encode

RECIPES = sorted((Path(__file__).resolve().parents[2] / "recipes").glob("*.toml"))
HEAVIEST_BYTES = 150_000


@pytest.mark.parametrize("page", ["plan", "anvil", "design", "study", "uncertainty"])
@pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)
def test_a_page_stays_light(path: Path, page: str, client: TestClient) -> None:
    coded = encode(load_recipe_text(path.read_text(encoding="utf-8")))
    answer = client.get(f"/{page}?r={coded}", headers={"accept-encoding": "identity"})
    assert answer.status_code == 200
    assert len(answer.content) < HEAVIEST_BYTES


@pytest.mark.parametrize(
    "page",
    [
        "/",
        "/design?start=several",
        "/steels",
        "/methods",
        "/glossary",
        "/partners",
        "/partners?steel=1084",
        "/wish",
    ],
)
def test_the_other_pages_stay_light(page: str, client: TestClient) -> None:
    assert len(client.get(page, headers={"accept-encoding": "identity"}).content) < HEAVIEST_BYTES


def test_answers_over_many_bars_stay_light(client: TestClient) -> None:
    coded = encode(load_recipe_text(RECIPES[0].read_text(encoding="utf-8")))
    sweep = client.get(f"/sweep?r={coded}&place=steps%5B0%5D.minutes&low=6&high=18&step=1")
    wish = client.post("/wish", data={"wish": EXAMPLE_WISH})
    for answer in (sweep, wish):
        assert answer.status_code == 200
        assert len(answer.content) < HEAVIEST_BYTES


def test_it_is_compressed_for_who_asks(client: TestClient) -> None:
    answer = client.get("/methods", headers={"accept-encoding": "gzip"})
    assert answer.headers["content-encoding"] == "gzip"
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
