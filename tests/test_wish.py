"""From the bar wanted back to the stack: what is proposed is what the ordinary plan gives."""

import copy
import math
import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from billet import RecipeError, plan, propose
from billet.contract.wish import Proposal, WishAnswer, WishProgress
from billet.tables.wish import wish_numbers
from billet.wish.schedules import Way, layers_of, ways
from billet.wish.sizing import sized
from billet.wish.wanted import read_wish

KITCHEN: dict[str, Any] = {
    "format": 1,
    "title": "Kitchen bar",
    "steels": {"dark": "1084", "bright": "75Ni8"},
    "want": {"thickness_mm": 5, "width_mm": 40, "length_mm": 280, "layers": 200},
    "stock": {
        "width_mm": [40, 50],
        "thickness_mm": {"dark": [1.5, 2.0, 3.0], "bright": [1.0, 1.5, 2.0]},
        "price_kg": {"dark": 4, "bright": 12},
    },
    "limits": {"stack_mm": 60, "bar_mm": 600},
}
BOLD: dict[str, Any] = {
    **KITCHEN,
    "steels": {"dark": "1084", "bright": "75Ni8", "core": "52100"},
    "want": {"thickness_mm": 5, "width_mm": 40, "length_mm": 280, "layers": 30, "core": "core"},
    "stock": {
        "width_mm": 40,
        "thickness_mm": {"dark": [1.5, 2.0, 3.0], "bright": [1.0, 1.5, 2.0], "core": [3, 4, 6]},
    },
}
FINE: dict[str, Any] = {
    **KITCHEN,
    "steels": {"dark": "1095", "bright": "75Ni8"},
    "want": {"thickness_mm": 6, "width_mm": 50, "length_mm": 400, "layer_um": 20},
}


@pytest.fixture(scope="module", params=[KITCHEN, BOLD, FINE], ids=["kitchen", "bold", "fine"])
def asked(request: pytest.FixtureRequest) -> dict[str, Any]:
    return copy.deepcopy(request.param)


@pytest.fixture(scope="module")
def answer(asked: dict[str, Any]) -> WishAnswer:
    return propose(asked)


def test_a_proposal_meets_the_wish(asked: dict[str, Any], answer: WishAnswer) -> None:
    assert answer.proposals and not answer.none_because and answer.nearest is None
    want, limits = asked["want"], asked["limits"]
    for one in answer.proposals:
        assert one.size_mm[0] == pytest.approx(want["thickness_mm"], abs=1e-6)
        assert one.size_mm[1] == pytest.approx(want["width_mm"], abs=1e-6)
        assert one.size_mm[2] == pytest.approx(want["length_mm"], abs=0.01)
        assert one.stack_mm <= limits["stack_mm"] and one.bar_mm <= limits["bar_mm"]
        wanted = want.get("layers", 1000 * want["thickness_mm"] / want.get("layer_um", 1.0))
        assert abs(one.layers_visible / wanted - 1.0) <= 0.1
        assert one.off_by.layers == pytest.approx(one.layers_visible - wanted)


def test_the_plan_of_a_proposal_is_the_same_bar(answer: WishAnswer) -> None:
    for one in answer.proposals:
        report = plan(one.recipe).report
        last = report.schedule[-1]
        assert (last.height_mm, last.width_mm, last.length_mm) == one.size_mm
        assert last.layers_visible == one.layers_visible
        assert (report.bar_id, report.recipe_id) == (one.bar_id, one.recipe_id)
        assert report.hardening == one.hardening and report.quench == one.quench
        assert sum(row.heats or 0 for row in report.schedule) == one.heats
        assert max(row.length_mm for row in report.schedule) == one.bar_mm
        kerf_mm = wish_numbers("schedule")["kerf_mm"]
        net = sum(row.mass_kg * row.length_mm / (row.length_mm + kerf_mm) for row in one.cut_list)
        laid_kg = report.schedule[0].mass_kg + sum(row.added_kg for row in report.schedule)
        # A core is cut in whole mm, the pieces it lies between are not.
        assert net == pytest.approx(laid_kg, rel=0.01)
        assert one.yield_ == pytest.approx(report.schedule[-1].mass_kg / one.steel_kg)
        assert re.match("a fire (is good|works) that is off by at most .*; (the roughest|no fire)", one.fire)
        assert not [n for n in report.notices if n.level == "limit"]


def test_proposals_differ_and_stand_in_order(answer: WishAnswer) -> None:
    kinds = [(one.pieces, one.start_count // 8) for one in answer.proposals]
    assert len(set(kinds)) == len(kinds) <= wish_numbers("search")["proposals"]
    order = [(one.heats, one.steel_kg) for one in answer.proposals]
    assert order == sorted(order)


def test_the_steel_to_cut_is_the_stack(answer: WishAnswer) -> None:
    for one in answer.proposals:
        kerf_mm = wish_numbers("schedule")["kerf_mm"]
        for row in one.cut_list:
            assert row.strip_mm == pytest.approx(row.pieces * (row.length_mm + kerf_mm))
        assert one.steel_kg == pytest.approx(sum(row.mass_kg for row in one.cut_list))
        stack = one.recipe["stack"]
        assert sum(row.pieces for row in one.cut_list) == stack["count"] + ("core" in one.recipe["steels"])


def test_cost_is_price_times_mass() -> None:
    one = propose(KITCHEN).proposals[0]
    price = KITCHEN["stock"]["price_kg"]
    assert one.cost == pytest.approx(sum(row.mass_kg * price[row.steel] for row in one.cut_list))
    assert propose(BOLD).proposals[0].cost is None


def test_a_core_is_as_thick_as_wished_for() -> None:
    for one in propose(BOLD).proposals:
        last = plan(one.recipe).forged.rows[-1].layers
        core_mm = sum(mm for name, mm in last if name == "core")
        assert len([name for name, _ in last if name == "core"]) == 1
        assert core_mm == pytest.approx(5.0 / 3.0, rel=0.08)
        assert last[len(last) // 2][0] == "core"


def nearest_of(**limits: Any) -> tuple[WishAnswer, Proposal]:
    found = propose({**FINE, "limits": {**FINE["limits"], **limits}})
    assert not found.proposals and found.nearest is not None
    return found, found.nearest


def test_what_stands_in_the_way_is_told_with_the_nearest_bar() -> None:
    found, nearest = nearest_of(bar_mm=300)
    told = {one.what: one for one in found.none_because}
    assert told["bar"].asked == 300 and told["bar"].needed == nearest.bar_mm > 300
    assert "longest bar" in told["bar"].text
    again = propose({**FINE, "limits": {**FINE["limits"], "bar_mm": math.ceil(nearest.bar_mm)}})
    assert again.proposals, "the figure that would do does"


def test_without_a_proposal_something_stands_in_the_way() -> None:
    for heats in (6, 8, 9, 10, 12):
        found = propose({**BOLD, "limits": {"stack_mm": 30, "bar_mm": 320, "heats": heats}})
        assert bool(found.proposals) == (not found.none_because) == (found.nearest is None)


def test_too_few_heats_stand_in_the_way() -> None:
    found, nearest = nearest_of(heats=5)
    assert {one.what for one in found.none_because} >= {"heats"}
    assert nearest.heats > 5


def test_a_share_narrows_the_plates() -> None:
    even = {**KITCHEN, "share": {"dark": 0.5}}
    for one in propose(even).proposals:
        gauges = one.recipe["stack"]["thickness_mm"]
        assert abs(one.off_by.share["dark"]) <= 0.12
        assert gauges["dark"] == gauges["bright"]


def test_a_steel_rich_in_chromium_is_welded_sealed() -> None:
    rich = {**KITCHEN, "steels": {"dark": "X46Cr13", "bright": "440C"}}
    rich["want"] = {**KITCHEN["want"], "layers": 30}
    steps = propose(rich).proposals[0].recipe["steps"]
    assert {step["atmosphere"] for step in steps if step["do"] == "weld"} == {"sealed"}


def test_progress_is_told_and_stops_the_search() -> None:
    class Stop(Exception):
        pass

    told: list[WishProgress] = []

    def listen(far: WishProgress) -> None:
        told.append(far)
        if far.planned == 1:
            raise Stop

    with pytest.raises(Stop):
        propose(KITCHEN, listen)
    shares = [far.share for far in told]
    assert shares == sorted(shares) and told[0] == WishProgress()
    assert told[1].sized == propose(KITCHEN).tried
    assert [far.forged for far in told[2:-2]] == list(range(1, told[-1].forged + 1))
    assert (told[-1].planned, told[-1].chosen) == (1, len(propose(KITCHEN).proposals))


@given(st.integers(2, 60), st.lists(st.integers(2, 6), max_size=3))
@settings(deadline=None)
def test_layers_multiply_and_like_steel_meets(count: int, pieces: list[int]) -> None:
    wish = read_wish(KITCHEN)
    meets = count % 2 == 1
    laid = ["dark" if i % 2 == 0 else "bright" for i in range(count)]
    for k in pieces:
        laid = laid * k
    seen = sum(a != b for a, b in pairwise(laid)) + 1
    kept = [1.0] * (len(pieces) + 1)
    assert layers_of(wish, count, tuple(pieces), kept, meets) == pytest.approx(seen)


def test_sizing_comes_near_what_forging_finds() -> None:
    for one in propose(KITCHEN).proposals:
        gauges = tuple(one.recipe["stack"]["thickness_mm"].values())
        draws = [s["height_mm"] for s in one.recipe["steps"] if s["do"] == "draw"][:-1]
        piece_mm = tuple(round(h - 2 * wish_numbers("schedule")["grind_between_mm"], 1) for h in draws)
        way = Way(gauges, 40.0, one.start_count, one.pieces, piece_mm, None)
        found = sized(read_wish(KITCHEN), way)
        assert found.length_mm == pytest.approx(one.recipe["stack"]["length_mm"], rel=0.15)
        assert found.layers == pytest.approx(one.layers_visible, rel=0.08)
        assert found.heats == one.heats


def test_the_search_is_bounded() -> None:
    most = wish_numbers("search")
    wide = copy.deepcopy(KITCHEN)
    gauges = [1.0 + 0.25 * i for i in range(int(most["most_gauges"]))]
    wide["stock"]["thickness_mm"] = {"dark": gauges, "bright": gauges}
    wide["stock"]["width_mm"] = [36, 38, 40, 42, 44, 46]
    assert sum(1 for _ in ways(read_wish(wide))) <= most["most_ways"]


def broken(path: str, value: Any) -> dict[str, Any]:
    wish = copy.deepcopy(KITCHEN)
    *way, last = path.split(".")
    table: Any = wish
    for key in way:
        table = table.setdefault(key, {})
    if value is ...:
        del table[last]
    else:
        table[last] = value
    return wish


@pytest.mark.parametrize(
    ("path", "value", "where"),
    [
        ("format", 2, "format"), ("format", ..., "format"), ("steels", ..., "steels"), ("want", ..., "want"),
        ("stock", ..., "stock"), ("limits", ..., "limits"), ("steels.dark", "unobtainium", "steels.dark"),
        ("want.layers", ..., "want"), ("want.layer_um", 20, "want.layer_um"),
        ("want.layers", 1, "want.layers"),
        ("want.thickness_mm", 0, "want.thickness_mm"), ("want.width_mm", "40", "want.width_mm"),
        ("want.length_mm", float("nan"), "want.length_mm"), ("want.core", "gold", "want.core"),
        ("want.core_mm", 2, "want.core_mm"), ("want.colour", "red", "want.colour"),
        ("stock.thickness_mm", {"dark": [2]}, "stock.thickness_mm"),
        ("stock.thickness_mm.dark", [], "stock.thickness_mm.dark"),
        ("stock.thickness_mm.gold", [2], "stock.thickness_mm.gold"),
        ("stock.width_mm", [1] * 9, "stock.width_mm"), ("stock.width_mm", ..., "stock.width_mm"),
        ("stock.price_kg.dark", -1, "stock.price_kg.dark"), ("limits.stack_mm", ..., "limits.stack_mm"),
        ("limits.heats", 0, "limits.heats"), ("share", {"dark": 0.9, "bright": 0.9}, "share"),
        ("share.dark", 2, "share.dark"), ("blade", {"thickness_mm": 9}, "blade.thickness_mm"),
        ("shop", [], "shop"), ("surprise", 1, "surprise"),
    ],
)  # fmt: skip
def test_a_wish_that_cannot_be_is_refused_with_its_place(path: str, value: Any, where: str) -> None:
    with pytest.raises(RecipeError) as refused:
        propose(broken(path, value))
    assert where in {fault.where for fault in refused.value.faults}


def test_numbers_of_the_search() -> None:
    shop, search = wish_numbers("schedule"), wish_numbers("search")
    assert {k: v for k, v in shop.items() if k not in ("basis", "note")} == {
        "pressed_to_frac": 0.86, "trim_mm": 10.0, "kerf_mm": 2.0, "grind_between_mm": 0.4,
        "least_draw_frac": 0.10, "tall_over_width": 2.0,
    }  # fmt: skip
    assert {k: v for k, v in search.items() if k not in ("basis", "note")} == {
        "least_piece_mm": 50.0, "most_restacks": 3, "most_pieces": [8, 6, 4, 4], "width_from_frac": 0.75,
        "pile_fractions": [1.0, 0.8, 0.6, 0.45, 0.3], "width_to_frac": 1.25, "weld_yield": 0.965,
        "draw_yield": 0.985, "scale_mm": 0.16, "share_within": 0.07, "fitted_most": 16,
        "proposals": 4, "most_gauges": 8, "most_widths": 6, "sealed_cr_wt": 5.0, "most_ways": 20000,
    }  # fmt: skip
