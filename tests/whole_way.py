"""A recipe taken the whole way.

`taken(client, recipe)` plans one in the application of the client and asks for page, study, count of bars,
picture and every sheet; it fails at whatever is neither an answer nor a refusal in words, at a book that does
not close and at a figure that is none. `drawn_recipes.py` draws the recipes.
"""

import json
import math
from typing import Any

from httpx2 import Response
from starlette.testclient import TestClient

from billet import RecipeError, load
from billet.diffusion.carbon_balance import carbon_books
from billet.diffusion.simulation import Metal
from web.http.address import TooLong, encode
from web.http.links import SHEET_KINDS

PAGES = (
    "/plan",
    "/study",
    "/uncertainty",
    "/recipe.toml",
    "/sheet/kiln.csv",
    "/anvil",
    "/face.png?view=first",
)
OF_AN_ADDRESS = ("/plan.json", "/design")
COUNTED = "/uncertainty"
"""A count of bars may say that this recipe leaves nothing to count."""
SHEETS = tuple(f"/sheet/{kind}{end}" for kind in SHEET_KINDS for end in ("", ".txt"))
IN_INCHES = ("/plan", "/sheet/forge")
MOST_CARBON_WT = 7.0
CLOSED_SHARE = 1e-9
ACCEPTED, REFUSED = "accepted", "refused"


def taken(client: TestClient, recipe: dict[str, Any]) -> str:
    """Whether the recipe was accepted; every page of it was answered then."""
    try:
        load(recipe)
    except RecipeError as error:
        assert error.faults and all(fault.message.isprintable() for fault in error.faults)
        _refused(client, recipe)
        return REFUSED
    planned = client.app.state.service.calculator.planned(recipe)  # type: ignore[attr-defined]
    books = carbon_books(planned.recipe, planned.forged, planned.metal)
    assert books.open_share <= CLOSED_SHARE, books
    hold_sound(planned.metal)
    assert math.isclose(sum(planned.report.schedule[-1].mass_share.values()), 1.0, rel_tol=1e-9)
    json.dumps(planned.to_dict(), allow_nan=False)
    _answered(client, recipe)
    return ACCEPTED


def hold_sound(metal: Metal) -> None:
    """No carbon below none, and no more than iron can hold, in any column of any bar."""
    for column in metal.columns:
        for step in column.moved.steps:
            carbon_wt = step.profile.carbon_wt
            assert 0.0 <= float(carbon_wt.min()) <= float(carbon_wt.max()) < MOST_CARBON_WT
    for bar in metal.bars.values():
        hold_sound(bar)


def _refused(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.post("/api/plan", json=recipe)
    assert answer.status_code == 422 and answer.json()["errors"], answer.text


def _answered(client: TestClient, recipe: dict[str, Any]) -> None:
    """Every page of a recipe, by its address or, where that would be too long, by its form."""
    try:
        address = encode(recipe)
    except TooLong:
        for path in (*PAGES, *SHEETS):
            _held(path, client.post(path, data={"recipe": json.dumps(recipe)}))
        return
    for path in (*PAGES, *SHEETS, *OF_AN_ADDRESS):
        for units in ("mm", "inch") if path in IN_INCHES else ("mm",):
            joint = "&" if "?" in path else "?"
            _held(path, client.get(f"{path}{joint}r={address}&units={units}"))


def _held(path: str, answer: Response) -> None:
    allowed = (200, 422) if path == COUNTED else (200,)
    assert answer.status_code in allowed, (path, answer.text[:600])
    if not answer.headers["content-type"].startswith("image/"):
        assert "nan" not in answer.text.lower().replace("nano", "").split(), path
