"""The keys of the report, on every recipe that ships: what callers rely on."""

import itertools
import json
import math
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from billet import parse_recipe, plan
from billet.diffusion.carbon_balance import carbon_books
from billet.diffusion.simulation import simulate_diffusion
from billet.forging.forge import forge
from billet.forging.stack import build_stack

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))
TOP = {
    "format",
    "title",
    "recipe",
    "recipe_id",
    "bar_id",
    "defaults_used",
    "made_with",
    "schedule",
    "programmes",
    "steels",
    "carbon",
    "pattern",
    "blend",
    "blade",
    "headline",
    "hardening",
    "quench",
    "temper",
    "notices",
    "sources",
    "bars",
}
SCHEDULE = {
    "step",
    "do",
    "note",
    "temperature_c",
    "minutes",
    "heats",
    "fire_min",
    "height_mm",
    "width_mm",
    "length_mm",
    "each_heat",
    "loose",
    "piece_mm",
    "cut_marks_mm",
    "mass_kg",
    "lost_kg",
    "yield",
    "layers_laid",
    "layers_visible",
    "layer_um",
    "skin_um",
    "mass_share",
    "carbon_wt",
    "stop_c",
    "reduction",
}
HARDENING = {
    "verdict",
    "none_because",
    "window_c",
    "set_point_c",
    "gap_k",
    "low_set_by",
    "high_set_by",
    "least_bad",
    "normalise_c",
    "normalise_because",
    "soak_min",
    "heat_through_min",
    "anneal",
    "grain",
    "skin",
    "cold_treatment",
    "per_steel",
    "control",
    "methods",
}
HARDENING_STEEL = {
    "steel",
    "role",
    "supplied_c",
    "preferred_c",
    "possible_c",
    "austenite_carbon_wt",
    "carbide",
    "ms_c",
    "retained_austenite",
    "hrc",
}
QUENCH = {
    "verdict", "medium", "bath_c", "by_thickness", "per_steel", "pays", "reasons", "grade", "also", "in_shop",
    "edge",
}  # fmt: skip
MEDIA = {"brine", "water", "fast oil", "vegetable oil", "medium oil", "slow oil", "hot oil", "plates", "air"}


@cache
def report(path: Path) -> dict[str, Any]:
    return plan(parse_recipe(tomllib.loads(path.read_text(encoding="utf-8")))).to_dict()


def numbers(value: Any) -> list[float]:
    if isinstance(value, dict):
        return [n for v in value.values() for n in numbers(v)]
    if isinstance(value, list):
        return [n for v in value for n in numbers(v)]
    return [value] if isinstance(value, float) else []


def estimates(value: Any) -> list[dict[str, float]]:
    if isinstance(value, dict):
        if set(value) == {"value", "low", "high"}:
            return [value]
        return [e for v in value.values() for e in estimates(v)]
    return [e for v in value for e in estimates(v)] if isinstance(value, list) else []


every = pytest.mark.parametrize("path", RECIPES, ids=lambda p: p.stem)


def test_there_are_nine_recipes_or_more() -> None:
    assert len(RECIPES) >= 9


@every
def test_keys_stand(path: Path) -> None:
    found = report(path)
    assert set(found) == TOP
    for row in found["schedule"]:
        assert set(row) >= SCHEDULE
        assert set(row["lost_kg"]) == {"scale", "grind", "trim", "kerf", "left_over", "cut"}
        assert set(row["layer_um"]) == {"mean", "thinnest", "thickest"}
    assert set(found["hardening"]) >= HARDENING
    for row in found["hardening"]["per_steel"]:
        assert set(row) >= HARDENING_STEEL
    assert set(found["quench"]) >= QUENCH
    for row in found["carbon"]["profiles"]:
        assert set(row) == {"step", "position_mm", "carbon_wt", "steel", "column"}
        assert len(row["position_mm"]) == len(row["carbon_wt"]) == len(row["steel"]) <= 400
    assert set(found["carbon"]) >= {"mean_wt", "lost_g", "difference_wt", "profiles"}
    assert set(found["temper"]) >= {"table", "governs", "cycles", "minutes"}
    assert {"disturbed", "finest_useful_um"} <= set(found["pattern"])
    for row in found["notices"]:
        assert set(row) == {"code", "level", "where", "text", "values"}
        assert row["level"] in {"caution", "limit", "note"}
    for row in found["sources"]:
        assert set(row) == {"key", "citation", "used_for", "basis"}


@every
def test_it_is_json_without_nan_and_without_a_clock(path: Path) -> None:
    found = report(path)
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert all(math.isfinite(n) for n in numbers(found))
    assert plan(parse_recipe(tomllib.loads(path.read_text(encoding="utf-8")))).to_dict() == found


@every
def test_estimates_hold_their_value(path: Path) -> None:
    found = estimates(report(path))
    assert all(e["low"] <= e["value"] <= e["high"] for e in found)


@every
def test_one_row_for_each_step_and_one_for_the_stack(path: Path) -> None:
    found = report(path)
    assert [row["step"] for row in found["schedule"]] == list(range(len(found["recipe"]["steps"]) + 1))


@every
def test_mass_closes_with_every_loss_named(path: Path) -> None:
    rows = report(path)["schedule"]
    for before, after in itertools.pairwise(rows):
        gone = sum(after["lost_kg"].values()) - after["added_kg"]
        assert before["mass_kg"] - gone == pytest.approx(after["mass_kg"], rel=1e-9)


@every
def test_shares_add_up(path: Path) -> None:
    for row in report(path)["schedule"]:
        assert sum(row["mass_share"].values()) == pytest.approx(1.0, abs=1e-9)


@every
def test_carbon_closes(path: Path) -> None:
    """Carbon laid = carbon in the bar + through faces + gone with metal, no remainder anywhere."""
    recipe = parse_recipe(tomllib.loads(path.read_text(encoding="utf-8")))
    forged = forge(recipe, build_stack(recipe))
    books = carbon_books(recipe, forged, simulate_diffusion(recipe, forged, 1))
    assert books.faces >= 0.0 and books.metal >= 0.0
    assert books.open_share < 1e-9
    assert report(path)["carbon"]["lost_g"] == {"faces": books.faces, "metal": books.metal}


@every
def test_the_answer_is_of_one_piece(path: Path) -> None:
    found = report(path)
    hardening, quench = found["hardening"], found["quench"]
    if hardening["verdict"] == "none":
        assert hardening["set_point_c"] is None and hardening["window_c"] is None
        assert quench["verdict"] == "none" and quench["medium"] is None
    else:
        low, high = hardening["window_c"]
        assert low <= hardening["set_point_c"] <= high
        assert quench["medium"] in MEDIA
        assert hardening["soak_min"] > 0.0
    assert (hardening["gap_k"] is not None) == (hardening["none_because"] == "gap")
    for row in hardening["per_steel"]:
        assert (row["role"] == "soft") <= (row["preferred_c"] is None)


@pytest.mark.parametrize("name", ["reed_bed_kitchen", "mill_race_bearing", "hearth_mild_beside_1095"])
def test_a_finer_grid_says_the_same(name: str) -> None:
    path = next(p for p in RECIPES if p.stem == name)
    recipe = parse_recipe(tomllib.loads(path.read_text(encoding="utf-8")))
    coarse, fine = plan(recipe).report, plan(recipe, refine=10).report
    assert coarse.blade is not None and fine.blade is not None
    for steel, spread in coarse.blade.carbon_wt.items():
        other = fine.blade.carbon_wt[steel]
        for field in ("mean", "p10", "p90", "min", "max"):
            assert getattr(spread, field) == pytest.approx(getattr(other, field), abs=0.003), (steel, field)
