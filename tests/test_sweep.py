"""One number swept: the array rules agree with the plan of every value, followed or read between."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from recipe_samples import good

from billet import RecipeError, load, plan, sweep
from billet.contract.sweep import SweepRow
from billet.tables.wish import wish_numbers
from billet.wish.varied import read_varied

BETWEEN_K, BETWEEN_WT = 0.6, 0.005
"""How far a value that was read between two may be off its plan: the stated carbon, and what it moves."""


def base() -> dict[str, object]:
    return good()


def agrees(row: SweepRow, place: str, window_k: float, carbon_wt: float) -> None:
    report = plan(load(base()).with_(place, row.value)).report
    hardening, window = report.hardening, report.hardening.window_c
    assert row.verdict == hardening.verdict
    assert row.medium == report.quench.medium
    assert window is not None and row.window_low_c is not None and row.window_high_c is not None
    assert row.window_low_c == pytest.approx(window[0], abs=window_k)
    assert row.window_high_c == pytest.approx(window[1], abs=window_k)
    assert row.set_point_c == hardening.set_point_c
    assert row.grade == hardening.grade
    assert row.layers_visible == report.schedule[-1].layers_visible
    assert row.carbon_wt is not None
    planned = plan(load(base()).with_(place, row.value)).treatment.spreads
    for name, carbon in row.carbon_wt.items():
        assert carbon == pytest.approx(planned[name].mean, abs=carbon_wt)


@pytest.mark.parametrize(
    ("place", "span"),
    [
        ("steps[0].minutes", "4:40:0.5"),
        ("stack.thickness_mm.dark", "2:5:0.05"),
        ("blade.thickness_mm", "2:5:0.05"),
        ("steels.dark.wt.C", "0.7:1.0:0.005"),
    ],
)
def test_a_sweep_agrees_with_the_plan_of_each_value(place: str, span: str) -> None:
    found = sweep(base(), f"{place}={span}")
    told = [row for row in found.rows if row.refused is None]
    followed = [row for row in told if row.planned]
    read = [row for row in told if not row.planned]
    assert found.planned == len(followed) and followed and read
    agrees(followed[len(followed) // 2], place, 1e-6, 1e-9)
    agrees(followed[0], place, 1e-6, 1e-9)
    for row in (read[len(read) // 3], read[-1]):
        agrees(row, place, BETWEEN_K, BETWEEN_WT)
    assert 0.0 <= found.miss_wt <= 4.0 * wish_numbers("sweep")["carbon_wt"]


def test_a_count_is_swept_in_whole_numbers() -> None:
    found = sweep(base(), "stack.count=5:45:2")
    told = {row.value: row.layers_visible for row in found.rows if row.layers_visible is not None}
    assert all(layers <= 4 * count - 3 for count, layers in told.items()), "like steel meets at three seams"
    for count in (15, 21):
        planned = plan(load(base()).with_("stack.count", count)).report
        assert told[count] == planned.schedule[-1].layers_visible
    assert all(isinstance(row.value, int) for row in found.rows)


def test_more_carbon_in_a_melt_leaves_more_in_every_layer() -> None:
    rows = sweep(base(), "steels.dark.wt.C=0.6:1.1:0.02").rows
    for name in ("dark", "bright"):
        carbon = [row.carbon_wt[name] for row in rows if row.carbon_wt is not None]
        assert len(carbon) == len(rows)
        assert all(b > a for a, b in itertools.pairwise(carbon))


def test_a_rougher_fire_is_never_better() -> None:
    rows = sweep({**base(), "control": {"half_width_k": 10}}, "control.half_width_k=1:60:1").rows
    order = [("good", "works", "no").index(row.grade or "") for row in rows]
    # Between works and no the rounding of the set point may turn a grade back by one value.
    assert (order[0], order[-1]) == (0, 2)
    assert max(i for i, o in enumerate(order) if o == 0) < order.index(2)


def test_refused_values_are_told_and_the_others_answered() -> None:
    found = sweep(base(), "blade.thickness_mm=4:12:0.5")
    refused = [row for row in found.rows if row.refused is not None]
    assert refused and all("cannot be ground" in str(row.refused) for row in refused)
    assert all(row.value > 5.0 and row.set_point_c is None for row in refused)
    assert any(row.set_point_c is not None for row in found.rows)


@pytest.mark.parametrize(
    ("vary", "told"),
    [
        ("steps[0].minutes", "what to vary is written"),
        ("steps[0].minutes=2:30", "what to vary is written"),
        ("=2:30:1", "what to vary is written"),
        ("steps[0].minutes=a:30:1", "three numbers"),
        ("steps[0].minutes=2:inf:1", "finite"),
        ("steps[0].minutes=30:2:1", "high lies above low"),
        ("steps[0].minutes=2:30:0", "high lies above low"),
        ("steps[0].minutes=2:30:-1", "high lies above low"),
        ("steps[0].minutes=2:30:50", "one value"),
        ("steps[0].minutes=2:30:0.01", "at most 400 values"),
        ("steps[0].minutes=0:1e308:1e-300", "at most 400 values"),
        ("steps[0].minuts=2:30:1", "every value is refused"),
        ("steps[99].minutes=2:30:1", "every value is refused"),
        ("title=2:30:1", "every value is refused"),
    ],
)
def test_what_cannot_be_swept_is_refused_in_words(vary: str, told: str) -> None:
    with pytest.raises(RecipeError, match=told):
        sweep(base(), vary)


@given(st.integers(2, 200), st.floats(0.001, 10.0), st.floats(-50.0, 50.0))
def test_values_run_from_low_to_high_in_even_steps(count: int, step: float, low: float) -> None:
    high = low + (count - 0.5) * step
    values = read_varied(f"a.b={low!r}:{high!r}:{step!r}").values
    assert len(values) == count
    assert values[0] == pytest.approx(low) and values[-1] <= high
    for first, second in itertools.pairwise(values):
        assert second - first == pytest.approx(step, rel=1e-5, abs=1e-7)


def test_numbers_of_a_sweep() -> None:
    assert wish_numbers("sweep") == {
        "most_values": 400, "first_nodes": 9, "most_nodes": 48, "least_nodes": 9, "carbon_wt": 0.004,
        "share_frac": 0.004, "work_of_nodes": 120000.0, "most_work": 400000.0, "cells_beside_layers": 60.0,
        "basis": "own", "note": wish_numbers("sweep")["note"],
    }  # fmt: skip
