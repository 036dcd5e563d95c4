"""Conduction, heating through, scale, quench numbers: limits, directions, refusals, second routes."""

import math

import numpy as np
import pytest

from billet.errors import OutOfDomain
from billet.forging.heating_through import heating_of_bar, heating_of_heats
from billet.formulas.conduction import (
    LUMPED_BELOW_BIOT,
    plate_after,
    plate_eigenvalue,
    plate_theta,
    plate_theta_one_term,
)
from billet.formulas.heating import (
    FURNACE_CONVECTION_W_M2_K,
    SCALED_EMISSIVITY,
    heating_through,
    heating_through_min,
    minutes_above_900_c,
    minutes_per_mm,
    plate_of_bar_mm,
    radiant_heating_s,
    seconds_in_air,
)
from billet.formulas.plate_cooling import Film, Plate, cool_plates
from billet.formulas.quench_media import (
    ball_seconds_from_film,
    film_from_severity_w_m2_k,
    mean_film_from_ball_w_m2_k,
    severity_from_film_per_inch,
)
from billet.formulas.radiation import STEFAN_BOLTZMANN_W_M2_K4
from billet.formulas.scaling import (
    IRON_PER_OXYGEN,
    metal_loss_band_mm,
    metal_loss_mm,
    minutes_to_lose,
    oxygen_uptake_kubaschewski_hopkins_g2_cm4_s,
    oxygen_uptake_paidassi_g2_cm4_s,
    wustite_iron_per_oxygen,
)
from billet.formulas.steel_heat import (
    conductivity_ec3_w_m_k,
    enthalpy_ec3_j_kg,
    heat_taken_up_ec3_j_kg,
    specific_heat_ec3_j_kg_k,
)
from billet.tables.media import media


@pytest.mark.parametrize("edge_c", [600.0, 735.0, 900.0])
def test_specific_heat_joins_at_its_edges(edge_c: float) -> None:
    """The standard's pieces meet to its rounding: 760.2/760.2, 5000/5000, 650.4/650."""
    below, above = specific_heat_ec3_j_kg_k(edge_c - 1e-9), specific_heat_ec3_j_kg_k(edge_c)
    assert below == pytest.approx(above, rel=0.001)


@pytest.mark.parametrize(("low_c", "high_c"), [(20, 600), (600, 734), (20, 850), (740, 1200)])
def test_enthalpy_is_the_sum_of_the_specific_heat(low_c: float, high_c: float) -> None:
    middles = low_c + (np.arange(40000) + 0.5) * (high_c - low_c) / 40000
    summed = sum(specific_heat_ec3_j_kg_k(float(t)) for t in middles) * (high_c - low_c) / 40000
    assert heat_taken_up_ec3_j_kg(low_c, high_c) == pytest.approx(summed, rel=2e-5)


def test_series_starts_at_one_and_dies() -> None:
    assert plate_theta(0.5, 0.0, 0.3) == pytest.approx(1.0, abs=0.01)
    assert plate_theta(0.5, 50.0) < 1e-8
    assert plate_theta(5.0, 0.1, 1.0) < plate_theta(5.0, 0.1, 0.0)


@pytest.mark.parametrize("biot", [0.05, 1.0, 20.0])
def test_one_term_is_enough_above_a_fifth(biot: float) -> None:
    assert plate_theta_one_term(biot, 0.2) == pytest.approx(plate_theta(biot, 0.2), rel=0.02)


@pytest.mark.parametrize("number", [1, 2, 5, 40])
def test_eigenvalue_solves_its_equation(number: int) -> None:
    root = plate_eigenvalue(0.7, number)
    assert (number - 1) * math.pi < root < (number - 0.5) * math.pi
    assert root * math.tan(root) == pytest.approx(0.7, rel=1e-6)


def test_thin_plate_is_a_lump() -> None:
    thin = plate_after(0.0013, 30.0, 7750.0, 600.0, 2000.0, 815.0, 50.0, 1.0)
    assert thin.biot < LUMPED_BELOW_BIOT
    assert thin.middle_c == pytest.approx(thin.lumped_c, rel=0.03)


def whole_plate_minutes(thickness_mm: float, target_c: float, furnace_c: float) -> float:
    """The same heating by an explicit solver in enthalpy, half a plate in 12 cells."""
    cells, half_m = 12, thickness_mm / 2000.0
    cell_m = half_m / cells
    at_c = np.arange(0.0, 1301.0, 0.5)
    at_j = np.array([enthalpy_ec3_j_kg(float(t)) for t in at_c])
    heat = np.full(cells, enthalpy_ec3_j_kg(20.0))
    step_s = 0.4 * cell_m**2 * 7850.0 * 430.0 / 54.0
    seconds = 0.0
    while True:
        t = np.interp(heat, at_j, at_c)
        if t[0] >= target_c:
            return seconds / 60.0
        k = np.where(t < 800.0, 54.0 - 0.0333 * t, 27.3)
        face_c = t[-1]
        for _ in range(4):
            flow = SCALED_EMISSIVITY * STEFAN_BOLTZMANN_W_M2_K4 * (
                (furnace_c + 273.15) ** 4 - (face_c + 273.15) ** 4
            ) + FURNACE_CONVECTION_W_M2_K * (furnace_c - face_c)
            face_c = t[-1] + flow * 0.5 * cell_m / k[-1]
        between = 0.5 * (k[1:] + k[:-1]) * (t[1:] - t[:-1]) / cell_m
        gained = np.zeros(cells)
        gained[:-1] += between
        gained[1:] -= between
        gained[-1] += flow
        heat = heat + gained * step_s / (7850.0 * cell_m)
        seconds += step_s


@pytest.mark.parametrize(
    ("thickness_mm", "target_c", "furnace_c"), [(10.0, 815.0, 850.0), (30.0, 1150.0, 1200.0)]
)
def test_heating_agrees_with_the_whole_plate(thickness_mm: float, target_c: float, furnace_c: float) -> None:
    solved = whole_plate_minutes(thickness_mm, target_c, furnace_c)
    assert heating_through_min(thickness_mm, target_c, furnace_c) == pytest.approx(solved, rel=0.01)


def test_face_and_middle_at_the_end_follow_one_parabola() -> None:
    """The face leads the middle by qL/2k, with q into the face and 15 mm to the middle."""
    through = heating_through(30.0, 1150.0, 1200.0)
    face_c = 1150.0 + through.face_hotter_k
    radiated = SCALED_EMISSIVITY * STEFAN_BOLTZMANN_W_M2_K4 * (1473.15**4 - (face_c + 273.15) ** 4)
    flow = radiated + FURNACE_CONVECTION_W_M2_K * (1200.0 - face_c)
    assert through.face_hotter_k == pytest.approx(flow * 0.015 / (2.0 * 27.3), rel=0.01)


def test_heating_takes_longer_for_more_steel_and_less_fire() -> None:
    assert heating_through_min(20.0, 1150.0) < heating_through_min(30.0, 1150.0)
    assert heating_through_min(20.0, 1150.0, 1180.0) > heating_through_min(20.0, 1150.0, 1250.0)
    assert heating_through_min(20.0, 1150.0, start_c=700.0) < heating_through_min(20.0, 1150.0)
    assert minutes_per_mm(30.0, 1150.0) == pytest.approx(0.38, abs=0.02)


def test_faces_scale_only_part_of_the_time() -> None:
    through = heating_through(30.0, 1150.0)
    assert 0.0 < minutes_above_900_c(30.0, 1150.0) < through.minutes
    assert minutes_above_900_c(10.0, 815.0) == 0.0
    assert 3.0 < through.face_hotter_k < 15.0


def test_bar_heats_like_a_thinner_plate() -> None:
    assert plate_of_bar_mm(30.0, 30.0) == pytest.approx(15.0)
    assert plate_of_bar_mm(30.0, 1e6) == pytest.approx(30.0, rel=1e-4)


def test_closed_form_agrees_with_small_steps() -> None:
    kelvin, furnace, seconds = 293.15, 1473.15, 0.0
    while kelvin < 1423.15:
        rate = 0.8 * STEFAN_BOLTZMANN_W_M2_K4 * (furnace**4 - kelvin**4) / (7850.0 * 700.0 * 0.005)
        kelvin += rate * 0.01
        seconds += 0.01
    assert radiant_heating_s(0.005, 700.0, 20.0, 1150.0, 1200.0) == pytest.approx(seconds, rel=0.001)


@pytest.mark.parametrize("thickness_mm", [2.0, 6.0])
def test_seconds_in_air_agree_with_the_plate_solver(thickness_mm: float) -> None:
    air = Film(((20.0, 10.0),), 20.0, emissivity=0.8)
    solved = cool_plates([Plate(thickness_mm, air, 830.0, 700.0)])[0].seconds_to_c(780.0)
    assert seconds_in_air(thickness_mm, 830.0, 780.0) == pytest.approx(solved, rel=0.01)


def test_scale_follows_the_square_root() -> None:
    assert metal_loss_mm(1100.0, 40.0) == pytest.approx(2.0 * metal_loss_mm(1100.0, 10.0))
    assert metal_loss_mm(1200.0, 10.0) > metal_loss_mm(1100.0, 10.0)
    assert metal_loss_mm(1100.0, 0.0) == 0.0
    assert minutes_to_lose(1150.0, metal_loss_mm(1150.0, 7.0)) == pytest.approx(7.0)


@pytest.mark.parametrize("temperature_c", [800.0, 1000.0, 1150.0, 1250.0])
def test_both_scale_laws_lie_in_the_band(temperature_c: float) -> None:
    low, high = metal_loss_band_mm(temperature_c, 10.0)
    main = oxygen_uptake_paidassi_g2_cm4_s(temperature_c)
    other = oxygen_uptake_kubaschewski_hopkins_g2_cm4_s(temperature_c)
    by_other = metal_loss_mm(temperature_c, 10.0) * math.sqrt(other / main)
    assert low <= by_other <= high
    assert low < metal_loss_mm(temperature_c, 10.0) < high


@pytest.mark.parametrize("temperature_c", [950.0, 1050.0, 1150.0])
def test_the_two_scale_laws_agree_where_both_were_measured(temperature_c: float) -> None:
    """Two constants remembered apart from each other; they part by less than a third."""
    main = oxygen_uptake_paidassi_g2_cm4_s(temperature_c)
    other = oxygen_uptake_kubaschewski_hopkins_g2_cm4_s(temperature_c)
    assert 0.75 < other / main < 1.35


def test_iron_for_oxygen_is_that_of_wustite() -> None:
    assert wustite_iron_per_oxygen() == pytest.approx(IRON_PER_OXYGEN, rel=0.01)


def test_severity_turns_round() -> None:
    assert severity_from_film_per_inch(film_from_severity_w_m2_k(0.7)) == pytest.approx(0.7)


@pytest.mark.parametrize("name", ["fast oil", "medium oil", "slow oil", "hot oil"])
def test_class_curve_gives_the_ball_seconds_of_its_class(name: str) -> None:
    """Band from memory; the oil stands at 25 C in the test whatever bath it is used at."""
    oil = next(m for m in media() if m.name == name)
    assert oil.nickel_ball_s is not None
    seconds = ball_seconds_from_film(oil.film, 25.0)
    assert oil.nickel_ball_s[0] <= seconds <= oil.nickel_ball_s[1]


def test_constant_film_gives_the_mean_film_back() -> None:
    seconds = ball_seconds_from_film([(0.0, 1500.0)], 25.0)
    assert mean_film_from_ball_w_m2_k(seconds, 25.0) == pytest.approx(1500.0, rel=1e-5)


def test_refuses_what_cannot_be() -> None:
    with pytest.raises(OutOfDomain, match="temperature_c"):
        specific_heat_ec3_j_kg_k(-300.0)
    with pytest.raises(OutOfDomain, match="temperature_c"):
        conductivity_ec3_w_m_k(float("nan"))
    with pytest.raises(OutOfDomain, match="minutes"):
        metal_loss_mm(1100.0, -1.0)
    with pytest.raises(OutOfDomain, match="biot"):
        plate_eigenvalue(0.0)
    with pytest.raises(OutOfDomain, match="place"):
        plate_theta(1.0, 1.0, 1.5)
    with pytest.raises(OutOfDomain, match="furnace_c"):
        heating_through(10.0, 1150.0, 1100.0)
    with pytest.raises(OutOfDomain, match="furnace_c"):
        heating_through(10.0, 1150.0, 1700.0)
    with pytest.raises(OutOfDomain, match="start_c"):
        heating_through(10.0, 1150.0, 1200.0, 1160.0)
    with pytest.raises(OutOfDomain, match="target_c"):
        radiant_heating_s(0.005, 700.0, 20.0, 1250.0, 1200.0)
    with pytest.raises(OutOfDomain, match="oil_c"):
        mean_film_from_ball_w_m2_k(10.0, 400.0)
    with pytest.raises(OutOfDomain, match="to_c"):
        seconds_in_air(3.0, 830.0, 10.0)


@pytest.mark.parametrize("temperature_c", [880.0, 1000.0, 1130.0])
def test_many_heats_follow_the_full_calculation(temperature_c):
    sizes = [(30.0 * 0.8**k, 40.0) for k in range(7)]
    told = heating_of_heats(sizes, temperature_c)
    for place, size in enumerate(sizes):
        exact = heating_of_bar(*size, temperature_c, cold=place == 0)
        assert told[place].through_min == pytest.approx(exact.through_min, rel=0.01)
        assert told[place].above_900_min == pytest.approx(exact.above_900_min, rel=0.01, abs=1e-9)
