"""Steps in any order, and any bar of bars: the books close, or the recipe is refused in words."""

import itertools
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pattern_recipes import (
    DIMPLE,
    FIRE,
    FLAT,
    GROOVE,
    PRESS,
    SEALED,
    SPLIT,
    SQUARE,
    TWIST,
    WELD,
    books,
    layered,
    recipe,
)

from billet import plan
from billet.errors import RecipeError

CLOSE = 1e-9
GRIND: dict[str, Any] = {"do": "grind", "per_face_mm": 0.5, "side_mm": 0.3}
STEPS = st.lists(
    st.sampled_from(
        [TWIST, GROOVE, DIMPLE, PRESS, SPLIT, FLAT, SQUARE, GRIND, {"do": "stand"}, {"do": "turn"},
         {"do": "crop", "end_mm": 10}, {"do": "restack", "pieces": 2, "order": "same"},
         {**WELD, "height_mm": 12}, {"do": "upset", **FIRE, "length_mm": 150},
         {**GROOVE, "faces": "top", "depth_mm": 1.5, "width_mm": 12},
         {**PRESS, "depth_mm": 1.0}, {**TWIST, "turns": -2, "atmosphere": "air"}, {**TWIST, **SEALED}]
    ),
    max_size=6,
)  # fmt: skip


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(STEPS)
def test_any_order_of_steps_closes_its_books_or_is_refused_in_words(steps: list[dict[str, Any]]) -> None:
    try:
        found = plan(recipe(WELD, SQUARE, *steps))
    except RecipeError as error:
        assert all(fault.where and len(fault.message) > 20 for fault in error.faults)
        return
    assert books(found).open_share < CLOSE
    for row in found.forged.rows:
        mean = row.solid_height_mm * row.width_mm * row.length_mm * 7.85e-6
        assert row.mass_kg == pytest.approx(mean, rel=CLOSE)
        assert 0.0 < row.solid_height_mm <= row.height_mm * (1.0 + CLOSE)
    assert replace(found).report.hardening.verdict in ("shared", "narrow", "none")


def _cord(*more: dict[str, Any]) -> dict[str, Any]:
    square = {"do": "draw", **FIRE, "height_mm": 12, "width_mm": 12}
    stack = {**layered()["stack"], "length_mm": 200}
    return {"stack": stack, "steps": [{**WELD, "height_mm": 12}, square, *more]}


PLATES = [{"steel": "dark", "thickness_mm": 5}, {"steel": "bright", "thickness_mm": 4}]
COURSES = [[{"beside": pair} for pair in (["cord", "flat"], ["flat", "cord"], ["cord", "cord"])],
           [{"bar": "cord"}, {"bar": "flat", "turned": True}]]  # fmt: skip
LAID = st.sampled_from(COURSES).flatmap(
    lambda some: st.tuples(st.just(some), st.lists(st.sampled_from([*some, *PLATES]), min_size=1, max_size=4))
)
AFTER = st.lists(
    st.sampled_from(
        [{"do": "grind", "per_face_mm": 0.6, "side_mm": 0.4}, {"do": "draw", **FIRE, "height_mm": 6}, TWIST,
         GROOVE, DIMPLE, FLAT, {"do": "crop", "end_mm": 7}, {"do": "turn"}, {"do": "stand"},
         {"do": "restack", "pieces": 2, "lay": ["turned", {"beside": ["flat", "cord"]}, "piece"]},
         {**WELD, "height_mm": 15, "atmosphere": "air"}]
    ),
    max_size=4,
)  # fmt: skip


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(LAID, AFTER)
def test_any_bar_of_bars_closes_its_books_or_is_refused_in_words(
    lay: tuple[list[dict[str, Any]], list[dict[str, Any]]], after: list[dict[str, Any]]
) -> None:
    some, laid = lay
    told = f"{laid}{after}"
    bars = {name: bar for name, bar in (("cord", _cord(TWIST)), ("flat", _cord())) if f"'{name}'" in told}
    stack = {"width_mm": 24 if "beside" in some[0] else 12, "length_mm": 150, "plates": laid}
    steps = [{"do": "weld", **FIRE}, *after]
    try:
        found = plan({**recipe(*steps), **({"bars": bars} if bars else {}), "stack": stack})
    except RecipeError as error:
        assert all(fault.where and len(fault.message) > 20 for fault in error.faults)
        return
    assert books(found).open_share < CLOSE
    rows = found.report.schedule
    for row, later in itertools.pairwise(rows):
        gone = sum(vars(later.lost_kg).values()) - later.added_kg
        assert row.mass_kg - gone == pytest.approx(later.mass_kg, rel=CLOSE)
        assert later.layers_visible >= 1 and later.layers_laid >= 1
