"""Layer counts: what was laid, what the eye sees, and the line of arithmetic between them."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from recipe_samples import good

from billet.forging.forge import forge
from billet.forging.model import Forged
from billet.forging.stack import build_stack
from billet.parse import parse_recipe
from billet.report.words import layer_arithmetic

WELD: dict[str, Any] = {"do": "weld", "temperature_c": 1100, "minutes": 5, "atmosphere": "sealed"}


def forged(count: int, *restacks: dict[str, Any], steels: dict[str, Any] | None = None) -> Forged:
    """A stack of two steels in turn, welded, then each restack welded; nothing scales."""
    mapping = good()
    del mapping["blade"]
    mapping["steels"] = steels or mapping["steels"]
    mapping["stack"] |= {
        "count": count,
        "length_mm": 5000,
        "thickness_mm": {"dark": 3.0, "bright": 1.5},
    }
    mapping["steps"] = [WELD]
    for restack in restacks:
        mapping["steps"] += [{"do": "restack", "kerf_mm": 0, **restack}, WELD]
    recipe = parse_recipe(mapping)
    return forge(recipe, build_stack(recipe))


def counts(count: int, *restacks: dict[str, Any], **more: Any) -> tuple[int, int]:
    final = forged(count, *restacks, **more).final
    return final.layers_laid, final.layers_visible


@pytest.mark.parametrize(
    ("count", "pieces", "order", "laid", "visible"),
    [
        (15, 4, "same", 60, 57),  # dark on dark at all three seams
        (15, 4, "turned", 60, 57),
        (15, 4, "folded", 60, 57),
        (14, 4, "same", 56, 56),  # dark on bright: no seam of like steel
        (14, 4, "turned", 56, 53),  # every seam meets itself
        (14, 3, "folded", 42, 40),
        (7, 2, "folded", 14, 13),
        (2, 4, "folded", 8, 5),
        (3, 2, "same", 6, 5),
        (12, 5, "same", 60, 60),
    ],
)
def test_one_restack(count: int, pieces: int, order: str, laid: int, visible: int) -> None:
    assert counts(count, {"pieces": pieces, "order": order}) == (laid, visible)


def test_folds_follow_the_doubling_rule() -> None:
    """n layers folded in two are 2n - 1 to the eye, for odd and for even counts alike."""
    visible = 5
    for folds in range(1, 6):
        laid, seen = counts(5, *[{"pieces": 2, "order": "folded"}] * folds)
        visible = 2 * visible - 1
        assert (laid, seen) == (5 * 2**folds, visible)


def test_first_fold_of_an_even_stack_makes_it_odd() -> None:
    assert counts(6, {"pieces": 2, "order": "folded"}) == (12, 11)
    assert counts(6, {"pieces": 2, "order": "folded"}, {"pieces": 3, "order": "same"}) == (36, 31)


def test_one_steel_is_one_layer_however_often_it_is_folded() -> None:
    steels = {"dark": "1084", "bright": "1084"}
    assert counts(9, {"pieces": 4, "order": "folded"}, steels=steels) == (36, 1)


def test_equal_analyses_under_two_names_are_one_to_the_eye_and_two_in_the_books() -> None:
    steels = {"dark": "1084", "bright": {"like": "1084", "melt": "77"}}
    made = forged(3, steels=steels)
    assert made.final.layers_visible == 1
    assert [layer.steel for layer in made.final.layers] == ["dark", "bright", "dark"]


def test_another_analysis_of_one_grade_is_another_steel_to_the_eye() -> None:
    steels = {"dark": "1084", "bright": {"like": "1084", "wt": {"Mn": 0.9}}}
    assert counts(3, steels=steels) == (3, 3)


def test_lay_with_a_core_and_a_piece_left_over() -> None:
    lay = ["piece", {"steel": "bright", "thickness_mm": 4.0}, "turned"]
    made = forged(15, {"pieces": 3, "lay": lay})
    assert (made.final.layers_laid, made.final.layers_visible) == (31, 31)
    row = made.rows[2]
    assert layer_arithmetic(row.layer_sum) == "2 x 15 + 1 = 31 laid, loose"
    assert row.lost_kg.left_over == pytest.approx(made.rows[1].mass_kg / 3, rel=1e-9)
    assert row.added_kg == pytest.approx(4.0 * row.width_mm * row.length_mm * 7.85e-6, rel=1e-9)


def test_fresh_plate_of_like_steel_melts_into_the_face() -> None:
    lay = [{"steel": "dark", "thickness_mm": 4.0}, "piece"]
    assert counts(15, {"pieces": 1, "lay": lay}) == (16, 15)


def test_arithmetic_can_be_added_up_again() -> None:
    made = forged(15, {"pieces": 4, "order": "same"}, {"pieces": 5, "order": "same"})
    assert [layer_arithmetic(row.layer_sum) for row in made.rows] == [
        "15 laid, loose",
        "15 laid, 0 seams of like steel: 15 visible",
        "4 x 15 = 60 laid, loose",
        "4 x 15 = 60 laid, 3 seams of like steel: 57 visible",
        "5 x 60 = 300 laid, 5 x 57 = 285 visible, loose",
        "5 x 60 = 300 laid, 5 x 57 = 285, 4 seams of like steel: 281 visible",
    ]


def test_visible_layers_are_summed_while_loose() -> None:
    made = forged(15, {"pieces": 4, "order": "same"})
    assert [row.layers_visible for row in made.rows] == [15, 15, 60, 57]
    assert [row.pieces for row in made.rows] == [15, 1, 4, 1]
    assert [row.loose for row in made.rows] == [True, False, True, False]


def test_layer_sizes_leave_the_skins_out() -> None:
    row = forged(5).rows[1]
    assert row.skin_um == pytest.approx((3000.0, 3000.0))
    assert row.layer_um.mean == pytest.approx((1500 + 3000 + 1500) / 3)
    assert (row.layer_um.thinnest, row.layer_um.thickest) == pytest.approx((1500.0, 3000.0))


def test_two_layers_have_no_inner_one_so_both_count() -> None:
    row = forged(2).rows[1]
    assert row.layer_um.mean == pytest.approx(2250.0)


@settings(max_examples=60, deadline=None)
@given(
    count=st.integers(2, 9),
    restacks=st.lists(
        st.tuples(st.integers(2, 4), st.sampled_from(["same", "turned", "folded"])),
        min_size=1,
        max_size=4,
    ),
)
def test_counts_agree_with_a_string_of_letters(count: int, restacks: list[tuple[int, str]]) -> None:
    """The same work done on a string: each letter a layer, like neighbours one."""
    bar = ("ab" * count)[:count]
    laid = count
    for pieces, order in restacks:
        others = bar if order == "same" else bar[::-1]
        whole = "".join(others if index % 2 else bar for index in range(pieces))
        bar = "".join(c for i, c in enumerate(whole) if i == 0 or c != whole[i - 1])
        laid *= pieces
    made = counts(count, *[{"pieces": pieces, "order": order} for pieces, order in restacks])
    assert made == (laid, len(bar))


def test_layers_that_scale_takes_stand_in_the_arithmetic() -> None:
    recipe = parse_recipe(good())
    rows = forge(recipe, build_stack(recipe)).rows
    assert layer_arithmetic(rows[6].layer_sum) == "60 laid, 2 gone in scale, 55 visible"


def test_a_lost_layer_of_like_steel_is_not_missed_by_the_eye() -> None:
    """Outer plate and the one under it have one analysis: the eye sees one layer before and after."""
    mapping = good()
    del mapping["blade"]
    mapping["steels"]["skin"] = {"like": "1084", "melt": "9"}
    thin, thick = {"steel": "skin", "thickness_mm": 0.05}, {"steel": "dark", "thickness_mm": 9.0}
    bright = {"steel": "bright", "thickness_mm": 5.0}
    mapping["stack"] = {"width_mm": 40, "length_mm": 150, "plates": [thin, thick, bright]}
    mapping["steps"] = [{**WELD, "atmosphere": "air"}]
    recipe = parse_recipe(mapping)
    made = forge(recipe, build_stack(recipe))
    assert [layer.steel for layer in made.final.layers] == ["dark", "bright"]
    assert layer_arithmetic(made.rows[1].layer_sum) == "3 laid, 1 seam of like steel: 2 visible"
