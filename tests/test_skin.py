"""The skin poor in carbon: what the face itself let out, and nothing that moved at a seam."""

import dataclasses
from typing import Any

import numpy as np
import pytest
from cycle_samples import pair, sandwich

from billet import parse_recipe, plan
from billet.diffusion.decarburised_skin import decarburised_depth_mm, lost_in_heats_mm
from billet.diffusion.profile import Metals, Profile, gather_metals
from billet.tables.steels import find_steel


def metals() -> Metals:
    steels = {"rich": find_steel("1084").nominal, "lean": find_steel("1018").nominal}
    return gather_metals(steels, {"rich": 7.85, "lean": 7.85})


def profile(carbon_wt: list[float], steel: list[str] | None = None, cell_mm: float = 0.1) -> Profile:
    found = metals()
    kinds = np.array([found.index(name) for name in steel or ["rich"] * len(carbon_wt)], dtype=np.intp)
    wt = np.array(carbon_wt)
    ratio = wt / 12.011 / ((100.0 - wt) / found.metal_weight[kinds])
    seams = int(np.count_nonzero(np.diff(kinds)))
    thick = np.full(len(wt), cell_mm)
    return Profile(found, thick, kinds, ratio[None, :], np.zeros((seams, 9)))


EVEN = profile([0.8] * 20)


def test_a_bar_that_lost_nothing_has_no_skin() -> None:
    assert decarburised_depth_mm(EVEN, EVEN) == (0.0, 0.0)


def test_the_skin_ends_where_nine_tenths_are_left_straight_between_two_cells() -> None:
    opened = profile([0.2, 0.6, 0.76, *[0.8] * 16, 0.4])
    bottom, top = decarburised_depth_mm(opened, EVEN)
    assert bottom == pytest.approx(0.15 + 0.1 * (0.72 - 0.6) / 0.16)
    assert top == pytest.approx(0.05 + 0.1 * (0.72 - 0.4) / 0.4)


def test_a_side_that_drank_carbon_at_its_seam_is_no_skin() -> None:
    names = ["lean"] * 5 + ["rich"] * 10 + ["lean"] * 5
    carbon = [0.3, 0.4, 0.5, 0.6, 0.7, *[0.8] * 10, 0.7, 0.6, 0.5, 0.4, 0.3]
    bar = profile(carbon, names)
    assert decarburised_depth_mm(bar, bar) == (0.0, 0.0)


def test_metal_that_would_not_harden_anyway_is_no_skin() -> None:
    sealed, opened = profile([0.18] * 20), profile([0.0, 0.05, 0.1, *[0.18] * 17])
    assert decarburised_depth_mm(opened, sealed) == (0.0, 0.0)


def test_one_cell_more_or_less_moves_the_depth_by_little() -> None:
    whole = decarburised_depth_mm(profile([0.70, *[0.8] * 19]), EVEN)[0]
    barely = decarburised_depth_mm(profile([0.719, *[0.8] * 19]), EVEN)[0]
    assert 0.0 < barely < 0.06 and 0.0 < whole - barely < 0.03


@pytest.mark.parametrize("core", ["80CrV2", "52100"])
@pytest.mark.parametrize("side", ["X5CrNi18-10", "AISI-420", "1018"])
def test_soft_sides_are_never_ground_off_for_their_carbon(core: str, side: str) -> None:
    """Sides of 2.1 mm that drank carbon at their seams, forged in a reducing fire."""
    report = plan(parse_recipe(sandwich(core, side))).report
    assert min(report.schedule[-1].skin_um) > 2000.0
    assert report.carbon.skin_mm == (0.0, 0.0)
    assert report.hardening.skin.forging_mm == 0.0


def fired(recipe: dict[str, Any], atmosphere: str) -> float:
    for step in recipe["steps"]:
        step["atmosphere"] = atmosphere
    return max(plan(parse_recipe(recipe)).report.carbon.skin_mm)


def test_air_takes_more_than_a_reducing_fire_and_a_seal_nothing() -> None:
    air, reducing, sealed = (fired(pair("1084", "75Ni8"), a) for a in ("air", "reducing", "sealed"))
    assert air > 2.0 * reducing and 0.1 < reducing < 0.3
    assert sealed == 0.0


def test_a_quarter_of_an_hour_at_860_in_air_takes_a_sixth_of_a_millimetre() -> None:
    """Known figure for plain steel: about 0.16 mm to nine tenths of the carbon."""
    bar = dataclasses.replace(EVEN, thickness_mm=np.full(20, 0.3))
    in_air, reducing = lost_in_heats_mm(bar, [(860.0, 15.0)])
    assert in_air == pytest.approx(0.165, abs=0.015)
    assert 0.05 < reducing < 0.5 * in_air + 0.05
    assert lost_in_heats_mm(bar, []) == (0.0, 0.0)
