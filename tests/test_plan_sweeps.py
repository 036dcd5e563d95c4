"""One per cent more of a thing moves no answer of a whole plan by a jump: a sample of the slow sweep.

The whole of it: `python tests/benchmarks/plan_sweep.py`.
"""

import itertools
from dataclasses import replace

import pytest

from billet import load, plan
from tests import plan_sweeps as sweeps
from tests.cycle_samples import alone

SAMPLE = [
    (("1095", "75Ni8"), "plate_mm", (1.0, 3.6)), (("1084", "52100"), "minutes", (6.0, 25.0)),
    (("O1", "75Ni8"), "blade_mm", (2.0, 4.4)), (("1095", "1018"), "C", (0.6, 0.9)),
    (("C105U", "80CrV2"), "Cr", (0.15, 0.3)), (("W2", "A203E"), "V", (0.05, 0.2)),
    (("60WCrV8", "80CrV2"), "W", (1.5, 1.95)), (("80CrV2", "304"), "edge_mm", (0.5, 1.6)),
]  # fmt: skip


def test_thirty_pairs_and_twelve_axes_are_swept() -> None:
    assert len(set(sweeps.PAIRS)) == 30 and len(sweeps.AXES) == 12


@pytest.mark.parametrize(
    ("pair", "axis", "values"),
    SAMPLE,
    ids=lambda v: "|".join(v) if isinstance(v, tuple) and isinstance(v[0], str) else None,
)
def test_one_per_cent_moves_little(pair: tuple[str, str], axis: str, values: tuple[float, ...]) -> None:
    assert list(sweeps.jumps(pair, axis, values)) == []


def test_the_sweep_sees_a_jump(monkeypatch: pytest.MonkeyPatch) -> None:
    """The measure itself: an answer that jumps at 0.8 is told, window, set point and medium."""
    low = sweeps.Told((790.0, 820.0), 805.0, "fast oil")
    high = replace(low, window_c=(795.0, 820.0), set_c=815.0)
    back = iter([low, replace(low, medium="medium oil"), low, low, high, high])
    monkeypatch.setattr(sweeps, "told", lambda *_: next(back))
    found = list(sweeps.jumps(("1095", "75Ni8"), "C", (0.7, 0.8)))
    assert len(found) == 3 and "medium" in found[0] and "5.0 K" in found[1] and "805 to 815" in found[2]


def test_a_film_that_a_cut_leaves_grows_in_steadily() -> None:
    """A blade cut ever thicker out of a core between sides, as the cut passes the seam."""
    ends, carbon = [], []
    for step in range(25):
        recipe = sweeps.recipe(("80CrV2", "1084"), "blade_mm", 1.30 + 0.02 * step)
        recipe["stack"]["plates"] = [
            {"steel": name, "thickness_mm": mm}
            for name, mm in (("second", 9.0), ("first", 9.0), ("second", 9.0))
        ]
        recipe["steps"][0]["height_mm"] = 24
        recipe["steps"][1]["height_mm"] = 4.0
        h = plan(load(recipe)).report.hardening
        assert h.window_c is not None
        ends.append(h.window_c)
        carbon.append(len(h.per_steel))
    assert carbon[0] == 1 and carbon[-1] == 2
    for side in (0, 1):
        moved = [abs(b[side] - a[side]) for a, b in itertools.pairwise(ends)]
        assert max(moved) <= sweeps.MOST_END_K


@pytest.mark.parametrize(("element", "limit_wt", "most"), [("W", 1.9, 1.08), ("Cr", 5.0, 1.3)])
def test_no_rate_jumps_where_a_steel_grows_too_rich_to_be_computed(
    element: str, limit_wt: float, most: float
) -> None:
    """1 % more of tungsten or chromium, over the end of what the equilibria hold to (V is 0.1 % here)."""
    wt = {"C": 0.8, "Mn": 0.4, "Si": 0.2, "Cr": 0.6, "V": 0.1}
    rates = []
    for content_wt in (0.995 * limit_wt, 1.005 * limit_wt):
        recipe = alone("1084")
        recipe["steels"] = {"a": {"name": "rich", "wt": {**wt, element: content_wt}, "harden_c": [830, 870]}}
        rates.append(plan(recipe).report.quench.per_steel[0].asked_k_s)
    low, high = sorted(float(rate or 0.0) for rate in rates)
    assert high / low < most
