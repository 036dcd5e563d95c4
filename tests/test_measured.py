"""The real size entered midway: the rest goes on from it, the books close, the bar keeps its number."""

import math
from typing import Any

import pytest
from recipe_samples import good

from billet import Planned, RecipeError, build_sheet, plan, wording


def measured(step: int, **sizes: float) -> dict[str, Any]:
    recipe = good()
    recipe["steps"][step]["measured"] = sizes
    return recipe


def codes(planned: Planned) -> dict[str, Any]:
    return {notice.code: notice for notice in planned.report.notices}


PLAN = plan(good())


def row(planned: Planned, step: int) -> Any:
    return planned.report.schedule[step]


@pytest.mark.parametrize(
    "sizes",
    [
        {"height_mm": 13.0},
        {"width_mm": 42.0},
        {"length_mm": 300.0},
        {"height_mm": 13.0, "width_mm": 41.0},
        {"height_mm": 12.5, "length_mm": 330.0},
        {"width_mm": 39.0, "length_mm": 350.0},
    ],
)
def test_two_sizes_rule_and_the_metal_stays(sizes: dict[str, float]) -> None:
    found, before = row(plan(measured(1, **sizes)), 2), row(PLAN, 2)
    for name, value in sizes.items():
        assert getattr(found, name) == pytest.approx(value)
    volume = [math.prod((r.height_mm, r.width_mm, r.length_mm)) for r in (found, before)]
    assert volume[0] == pytest.approx(volume[1], rel=1e-9)
    assert found.mass_kg == pytest.approx(before.mass_kg, rel=1e-9)
    assert found.planned_mm == pytest.approx((before.height_mm, before.width_mm, before.length_mm))
    assert found.layer_um.mean / before.layer_um.mean == pytest.approx(found.height_mm / before.height_mm)


def test_what_was_planned_measured_changes_nothing() -> None:
    before = row(PLAN, 2)
    same = plan(measured(1, height_mm=before.height_mm, width_mm=before.width_mm))
    for mine, plain in zip(same.report.schedule, PLAN.report.schedule, strict=True):
        assert (mine.height_mm, mine.length_mm) == pytest.approx((plain.height_mm, plain.length_mm))
        assert dict(mine.carbon_wt) == pytest.approx(dict(plain.carbon_wt), abs=1e-6)
    assert "measured-longer" not in codes(same) and "measured-shorter" not in codes(same)


def test_the_number_of_the_bar_stays() -> None:
    found = plan(measured(1, height_mm=14.5)).report
    assert found.bar_id == PLAN.report.bar_id and found.recipe_id != PLAN.report.recipe_id
    assert [r.heats for r in found.schedule] == [r.heats for r in PLAN.report.schedule]


def test_a_bad_end_cut_away_is_booked_and_shortens_the_bar() -> None:
    before = row(PLAN, 2)
    found = plan(measured(1, cut_away_mm=50.0))
    here = row(found, 2)
    assert here.length_mm == pytest.approx(before.length_mm - 50.0)
    assert here.lost_kg.trim == pytest.approx(before.mass_kg * 50.0 / before.length_mm)
    told = codes(found)["measured-shorter"]
    now, planned = found.report.schedule[-1].length_mm, PLAN.report.schedule[-1].length_mm
    assert told.values["length_mm"] == pytest.approx(now) and now < planned
    assert told.values["planned_mm"] == pytest.approx(planned)


def test_the_draw_that_is_proposed_reaches_the_planned_length() -> None:
    recipe = measured(1, cut_away_mm=50.0)
    told = codes(plan(recipe))["measured-shorter"]
    place = int(told.values["step"]) - 1
    recipe["steps"][place]["height_mm"] = told.values["draw_to_mm"]
    again = plan(recipe).report.schedule[-1].length_mm
    assert again == pytest.approx(PLAN.report.schedule[-1].length_mm, rel=0.01)


def test_a_third_size_that_does_not_fit_is_asked_about() -> None:
    length = row(PLAN, 2).length_mm
    near = plan(measured(1, height_mm=12.0, width_mm=40.0, length_mm=1.05 * length))
    far = plan(measured(1, height_mm=12.0, width_mm=40.0, length_mm=0.8 * length))
    assert "measured-check" not in codes(near)
    assert "cut" in codes(far)["measured-check"].text and "misread" in codes(far)["measured-check"].text
    assert row(far, 2).length_mm == pytest.approx(length, rel=1e-6), "two sizes rule"


def test_thicker_layers_keep_more_of_their_carbon_apart() -> None:
    thick = plan(measured(0, height_mm=29.5)).report.carbon.difference_wt.now
    thin = plan(measured(0, height_mm=20.0)).report.carbon.difference_wt.now
    assert thick >= thin - 1e-6


def test_planned_and_real_stand_side_by_side_on_the_sheet() -> None:
    found = plan(measured(1, height_mm=13.0, width_mm=41.0)).report
    rows = [cells for part in build_sheet(found, "forge", "mm").sections for cells in part.rows]
    drawn = next(cells for cells in rows if cells[0].startswith("2\u00a0draw"))
    planned, real = row(PLAN, 2), found.schedule[2]
    assert drawn[2] == wording.bench_size(planned.height_mm, planned.width_mm, planned.length_mm, "mm")
    assert drawn[5] == wording.bench_size(real.height_mm, real.width_mm, real.length_mm, "mm") != drawn[2]


def test_a_loose_pile_is_not_measured() -> None:
    assert "measured-loose" in codes(plan(measured(3, height_mm=44.0)))


def test_more_than_the_bar_cannot_be_cut_away() -> None:
    with pytest.raises(RecipeError, match="cannot be cut away"):
        plan(measured(1, cut_away_mm=4000.0))


@pytest.mark.parametrize(
    ("sizes", "key", "words"),
    [
        ({"height_mm": 60.0}, "height_mm", "60 mm high and 40 mm wide, .* only upsetting"),
        ({"height_mm": 400.0}, "height_mm", "only upsetting"),
        ({"width_mm": 120.0}, "width_mm", "only upsetting"),
        ({"height_mm": 12.0, "length_mm": 60.0}, "length_mm", "60 mm long"),
        (
            {"height_mm": 12.0, "width_mm": 40.0, "length_mm": 600.0},
            "length_mm",
            "more metal than the bar has",
        ),
    ],
)
def test_a_draw_can_make_no_bar_shorter_and_no_metal(sizes: dict[str, float], key: str, words: str) -> None:
    with pytest.raises(RecipeError, match=rf"Step 2 \(draw\): .*{words}") as refused:
        plan(measured(1, **sizes))
    assert [fault.where for fault in refused.value.faults] == [f"steps[1].measured.{key}"]


def test_a_draw_that_hardly_drew_is_planned_to_what_measuring_is_off() -> None:
    before = row(PLAN, 1)
    section = before.height_mm * before.width_mm / 40.0
    plan(measured(1, height_mm=1.07 * section, width_mm=40.0))
    with pytest.raises(RecipeError, match="only upsetting"):
        plan(measured(1, height_mm=1.10 * section, width_mm=40.0))


def test_a_step_that_the_real_bar_does_not_allow_is_refused_by_its_number() -> None:
    with pytest.raises(RecipeError, match=r"Step 5 \(weld\)"):
        plan(measured(1, height_mm=8.0))
