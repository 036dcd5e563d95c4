"""Recipes as a smith might write them, and some as nobody would, each taken the whole way.

`recipes()` draws them: grades of the library or analyses of one's own, wild ones among them; stacks, draws,
restacks, a blade, a way to hold the heat. `taken(client, recipe)` plans one and asks for its page, study,
count of bars and every sheet; it fails at whatever is neither an answer nor a refusal in words, at a book
that does not close and at a figure that is none.
"""

import json
import math
from typing import Any

from hypothesis import strategies as st
from starlette.testclient import TestClient

from billet import ELEMENTS, RecipeError, control_methods, load, plan, steels
from billet.diffusion.carbon_balance import carbon_books
from web.http.address import TooLong, encode
from web.http.links import SHEET_KINDS

PAGES = ("/plan.json", "/plan", "/design", "/study", "/uncertainty", "/recipe.toml", "/sheet/kiln.csv")
CLOSED_SHARE = 1e-9
ACCEPTED, REFUSED = "accepted", "refused"

_GRADES = tuple(steel.designation for steel in steels())
_USUAL_WT = {"C": 1.4, "Si": 2.0, "Mn": 2.0, "Cr": 5.0, "Ni": 5.0, "Mo": 1.0, "V": 0.5, "W": 1.5, "Cu": 0.5}
_FIRE_C = st.integers(760, 1250)


def _tenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


@st.composite
def _analysis(draw: st.DrawFn) -> dict[str, float]:
    """One that could be melted, or any at all."""
    if draw(st.integers(0, 3)):
        some = draw(st.lists(st.sampled_from(sorted(_USUAL_WT)), max_size=5, unique=True))
        return {e: round(draw(st.floats(0.0, _USUAL_WT[e])), 3) for e in dict.fromkeys(["C", *some])}
    some = draw(st.lists(st.sampled_from(ELEMENTS), max_size=6, unique=True))
    return {"C": round(draw(st.floats(0.0, 2.5)), 3)} | {
        e: round(draw(st.floats(0.0, 60.0)), 2) for e in some if e != "C"
    }


@st.composite
def _steel(draw: st.DrawFn) -> Any:
    grade = draw(st.sampled_from(_GRADES))
    kind = draw(st.integers(0, 4))
    if kind < 3:
        return grade
    wt = draw(_analysis())
    return {"like": grade, "wt": wt} if kind == 3 else {"name": "own melt", "wt": wt}


@st.composite
def _steps(draw: st.DrawFn, height_mm: float) -> list[dict[str, Any]]:
    atmosphere = draw(st.sampled_from(["air", "reducing", "sealed"]))

    def fire(least_c: int = 760) -> dict[str, Any]:
        return {
            "temperature_c": max(draw(_FIRE_C), least_c),
            "minutes": draw(_tenths(0, 60)),
            "atmosphere": atmosphere,
        }

    def pressed(share: float) -> float:
        return max(round(height_mm * share, 2), 0.5)

    height_mm = pressed(0.85)
    steps: list[dict[str, Any]] = [{"do": "weld", **fire(1000), "height_mm": height_mm}]
    for _ in range(draw(st.integers(0, 4))):
        kind = draw(st.sampled_from(["draw", "draw", "grind", "restack", "crop"]))
        if kind == "draw":
            height_mm = pressed(draw(st.floats(0.3, 0.9)))
            steps.append({"do": "draw", **fire(), "heats": draw(st.integers(1, 8)), "height_mm": height_mm})
        elif kind == "grind":
            steps.append({"do": "grind", "per_face_mm": round(0.02 * height_mm, 3)})
            height_mm = pressed(0.95)
        elif kind == "crop":
            steps.append({"do": "crop", "end_mm": draw(_tenths(1, 10))})
        else:
            pieces = draw(st.integers(2, 5))
            order = draw(st.sampled_from(["same", "turned"]))
            steps.append({"do": "restack", "pieces": pieces, "order": order})
            height_mm = pressed(0.8 * pieces)
            steps.append({"do": "weld", **fire(1000), "height_mm": height_mm})
    return steps


@st.composite
def recipes(draw: st.DrawFn) -> dict[str, Any]:
    """Most of them can be forged."""
    names = [f"s{number}" for number in range(draw(st.integers(1, 3)))]
    thickness = {name: draw(_tenths(0.1, 8)) for name in names}
    count = draw(st.integers(max(2, len(names)), 40))
    height_mm = sum(thickness[names[place % len(names)]] for place in range(count))
    recipe: dict[str, Any] = {
        "format": 1,
        "title": "Taken the whole way",
        "steels": {name: draw(_steel()) for name in names},
        "stack": {
            "width_mm": draw(_tenths(20, 80)),
            "length_mm": draw(_tenths(60, 400)),
            "pattern": names,
            "count": count,
            "thickness_mm": thickness,
        },
        "steps": draw(_steps(height_mm)),
    }
    if draw(st.booleans()):
        recipe["blade"] = {"thickness_mm": draw(_tenths(1.5, 6)), "edge_mm": draw(_tenths(0.2, 1))}
    if draw(st.booleans()):
        recipe["control"] = {"method": draw(st.sampled_from([m.key for m in control_methods()]))}
    return recipe


def taken(client: TestClient, recipe: dict[str, Any]) -> str:
    """Whether the recipe was accepted; every page of it was answered then."""
    try:
        load(recipe)
    except RecipeError as error:
        assert error.faults and all(fault.message.isprintable() for fault in error.faults)
        _refused(client, recipe)
        return REFUSED
    planned = plan(recipe)
    books = carbon_books(planned.recipe, planned.forged, planned.metal)
    assert books.open_share <= CLOSED_SHARE, books
    for step in planned.metal.moved.steps:
        assert 0.0 <= float(step.profile.carbon_wt.min()) <= float(step.profile.carbon_wt.max()) < 7.0
    assert math.isclose(sum(planned.report.schedule[-1].mass_share.values()), 1.0, rel_tol=1e-9)
    json.dumps(planned.to_dict(), allow_nan=False)
    _answered(client, recipe)
    return ACCEPTED


def _refused(client: TestClient, recipe: dict[str, Any]) -> None:
    answer = client.post("/api/plan", json=recipe)
    assert answer.status_code == 422 and answer.json()["errors"], answer.text


def _answered(client: TestClient, recipe: dict[str, Any]) -> None:
    try:
        address = encode(recipe)
    except TooLong:
        return
    sheets = [f"/sheet/{kind}{end}" for kind in SHEET_KINDS for end in ("", ".txt")]
    for path in (*PAGES, *sheets):
        for units in ("mm", "inch") if path in ("/plan", "/sheet/forge") else ("mm",):
            answer = client.get(path, params={"r": address, "units": units})
            allowed = (200, 422) if path == "/uncertainty" else (200,)
            assert answer.status_code in allowed, (path, units, answer.text[:600])
            assert "nan" not in answer.text.lower().replace("nano", "").split(), (path, units)
