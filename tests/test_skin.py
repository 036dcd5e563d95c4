"""The skin poor in carbon, found on profiles whose answer is plain."""

import pytest

from billet.contract.report import Profile
from billet.diffusion.decarburised_skin import decarburised_depth_mm


def profile(carbon: list[float], steel: list[str] | None = None, step_mm: float = 0.1) -> Profile:
    positions = tuple(step_mm * i for i in range(len(carbon)))
    return Profile(1, positions, tuple(carbon), tuple(steel or ["a"] * len(carbon)))


def test_an_even_bar_has_no_skin() -> None:
    assert decarburised_depth_mm(profile([0.8] * 21), {}) == (0.0, 0.0)


def test_the_skin_ends_where_nine_tenths_of_the_inside_are_reached() -> None:
    bottom, top = decarburised_depth_mm(profile([0.2, 0.5, 0.73, *[0.8] * 17, 0.4]), {})
    assert bottom == pytest.approx(0.2) and top == pytest.approx(0.1)


def test_a_layer_that_carries_less_by_nature_is_no_skin() -> None:
    names = ["lean"] * 5 + ["rich"] * 11 + ["lean"] * 5
    carbon = [0.4] * 5 + [0.9] * 11 + [0.4] * 5
    assert decarburised_depth_mm(profile(carbon, names), {}) == (0.0, 0.0)


def test_carbon_that_rises_all_the_way_is_skin_up_to_the_inside() -> None:
    assert decarburised_depth_mm(profile([0.1]), {}) == (0.0, 0.0)
    bottom, _ = decarburised_depth_mm(profile([0.001 * i * i for i in range(21)]), {})
    assert bottom == pytest.approx(1.0)
