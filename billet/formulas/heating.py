"""How long a piece takes to heat through, and how long its faces are above 900 C meanwhile."""

import math
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from billet.errors import OutOfDomain
from billet.formulas.domain import (
    refuse_impossible_temperature,
    refuse_negative,
    refuse_not_positive,
)
from billet.formulas.radiation import STEFAN_BOLTZMANN_W_M2_K4, radiation_coefficient_w_m2_k
from billet.formulas.steel_heat import (
    STEEL_DENSITY_KG_M3,
    austenite_conductivity_w_m_k,
    austenite_density_kg_m3,
    austenite_specific_heat_j_kg_k,
    enthalpy_ec3_j_kg,
)
from billet.published import published
from billet.units import ZERO_CELSIUS_K, c_to_k

Array = NDArray[np.float64]
ROOM_C = 20.0
FURNACE_ABOVE_K = 50.0
SCALED_EMISSIVITY = 0.8  # from memory, 0.6 to 0.9 in tables of oxidised steel
FURNACE_CONVECTION_W_M2_K = 20.0  # from memory
SCALING_FROM_C = 900.0
HOTTEST_FIRE_C = 1600.0
SLICES = 120


@dataclass(frozen=True)
class HeatingThrough:
    """Minutes until the middle is at heat, minutes the face is above 900 C meanwhile, and by how
    much the face is hotter than the middle at the end, K."""

    minutes: float
    minutes_above_900_c: float
    face_hotter_k: float


@cache
def _enthalpy_table() -> tuple[Array, Array]:
    """Temperatures in C, every degree up to the hottest fire, and enthalpy there in J/kg."""
    temperature_c = np.arange(-273.0, HOTTEST_FIRE_C + 1.0)
    return temperature_c, np.array([enthalpy_ec3_j_kg(float(t)) for t in temperature_c])


def _lead_and_flow(mean_c: Array, furnace_c: float, half_m: float) -> tuple[Array, Array]:
    """By how much the face leads each mean, K, and the heat flow into it, W/m2.

    The face leads by qL/3k, and q falls as the face gets hotter: solved by Newton's rule.
    """
    conductivity = np.where(mean_c < 800.0, 54.0 - 3.33e-2 * mean_c, 27.3)  # EN 1993-1-2
    path = half_m / (3.0 * conductivity)
    grey = SCALED_EMISSIVITY * STEFAN_BOLTZMANN_W_M2_K4
    furnace_k4 = c_to_k(furnace_c) ** 4
    lead_k = np.zeros_like(mean_c)
    for _ in range(3):
        face_c = mean_c + lead_k
        face_k = face_c + ZERO_CELSIUS_K
        face_k3 = face_k * face_k * face_k
        flow = grey * (furnace_k4 - face_k3 * face_k) + FURNACE_CONVECTION_W_M2_K * (furnace_c - face_c)
        slope = 1.0 + path * (4.0 * grey * face_k3 + FURNACE_CONVECTION_W_M2_K)
        lead_k += (path * flow - lead_k) / slope
    return lead_k, lead_k / path


def _ending(target_c: float, furnace_c: float, half_m: float) -> tuple[float, float]:
    """Mean and face in C when the middle is at heat: the middle lags the mean by qL/6k.

    That lag is half of what the face leads the mean by, since both follow one parabola.
    """
    guesses_c = target_c + np.linspace(0.0, furnace_c - target_c, 9)
    lead_k, _ = _lead_and_flow(guesses_c, furnace_c, half_m)
    mean_c = float(np.interp(target_c, guesses_c - 0.5 * lead_k, guesses_c))
    return mean_c, mean_c + 2.0 * (mean_c - target_c)


@lru_cache(maxsize=1024)
def heating_through(
    thickness_mm: float,
    target_c: float,
    furnace_c: float | None = None,
    start_c: float = ROOM_C,
) -> HeatingThrough:
    """A plate heated from both faces until its middle is at the target.

    The furnace stands 50 K above the target unless it is given. Specific heat with its peak
    (EN 1993-1-2), emissivity 0.8, 20 W/m2K of moving gas (both from memory); the inside is followed
    by the parabola of steady heating. Heated from one face only, give twice the thickness.
    Raises OutOfDomain for a thickness not above 0, or temperatures not in the order start, target,
    furnace, 1600 C.
    """
    refuse_not_positive("thickness_mm", thickness_mm)
    refuse_impossible_temperature("start_c", start_c)
    refuse_impossible_temperature("target_c", target_c)
    hot_c = target_c + FURNACE_ABOVE_K if furnace_c is None else furnace_c
    refuse_impossible_temperature("furnace_c", hot_c)
    if not target_c < hot_c <= HOTTEST_FIRE_C:
        raise OutOfDomain("furnace_c", hot_c, f"above {target_c} C, at most {HOTTEST_FIRE_C} C")
    if not target_c > start_c:
        raise OutOfDomain("start_c", start_c, f"below the target, {target_c} C")
    half_m = thickness_mm / 2000.0
    end_c, face_end_c = _ending(target_c, hot_c, half_m)
    edges_c = np.linspace(start_c, end_c, SLICES + 1)
    middles_c = 0.5 * (edges_c[1:] + edges_c[:-1])
    lead_k, flow = _lead_and_flow(middles_c, hot_c, half_m)
    taken_j_kg = np.diff(np.interp(edges_c, *_enthalpy_table()))
    slices_s = STEEL_DENSITY_KG_M3 * half_m * taken_j_kg / flow
    above_k = middles_c + lead_k - SCALING_FROM_C
    hot_frac = np.clip(above_k / (edges_c[1] - edges_c[0]) + 0.5, 0.0, 1.0)
    minutes, hot_minutes = float(slices_s.sum()) / 60.0, float((slices_s * hot_frac).sum()) / 60.0
    return HeatingThrough(minutes, hot_minutes, face_end_c - target_c)


@published(
    "own-construction",
    where="heat balance with EN 1993-1-2, radiation and the lag of the inside",
    equation="t = integral rho L dh / q, q = e s (Tf4 - T4) + 20 (Tf - T)",
    unit="min",
    basis="memory",
    note="Emissivity 0.8 and the moving gas are from memory; a whole-plate solver agrees to 1 %.",
    thickness_mm=(1.0, 75.0),
    target_c=(600.0, 1150.0),
)
def heating_through_min(
    thickness_mm: float,
    target_c: float,
    furnace_c: float | None = None,
    start_c: float = ROOM_C,
) -> float:
    """Minutes until the middle of a plate is at heat, both faces seeing the fire.

    Raises OutOfDomain as `heating_through` does.
    """
    return heating_through(thickness_mm, target_c, furnace_c, start_c).minutes


def minutes_above_900_c(
    thickness_mm: float,
    target_c: float,
    furnace_c: float | None = None,
    start_c: float = ROOM_C,
) -> float:
    """Minutes the faces are above 900 C before the middle is at heat.

    Raises OutOfDomain as `heating_through` does.
    """
    return heating_through(thickness_mm, target_c, furnace_c, start_c).minutes_above_900_c


def minutes_per_mm(thickness_mm: float, target_c: float, furnace_c: float | None = None) -> float:
    """The same as minutes for a millimetre: some 0.4 to weld heat, 0.9 to hardening heat.

    Raises OutOfDomain as `heating_through` does.
    """
    return heating_through_min(thickness_mm, target_c, furnace_c) / thickness_mm


def plate_of_bar_mm(height_mm: float, width_mm: float) -> float:
    """Thickness of the wide plate that has as much volume to a face as a bar heated all round.

    Raises OutOfDomain for a height or width not above 0.
    """
    refuse_not_positive("height_mm", height_mm)
    refuse_not_positive("width_mm", width_mm)
    return height_mm * width_mm / (height_mm + width_mm)


@published(
    "heat-transfer-handbook-2003",
    where="equation 3.283, lump heated by radiation alone",
    equation="t = rho c L / (4 e s Tf3) [f(T) - f(Ti)], f(T) = ln[(Tf+T)/(Tf-T)] + 2 atan(T/Tf)",
    unit="s",
)
def radiant_heating_s(
    half_thickness_m: float,
    specific_heat_j_kg_k: float,
    start_c: float,
    target_c: float,
    furnace_c: float,
    emissivity: float = SCALED_EMISSIVITY,
    density_kg_m3: float = STEEL_DENSITY_KG_M3,
) -> float:
    """Seconds a plate with constant specific heat and an even inside takes by radiation alone.

    Raises OutOfDomain for a size or property not above 0, or temperatures not in the order start,
    target, furnace.
    """
    for name, value in (
        ("half_thickness_m", half_thickness_m),
        ("specific_heat_j_kg_k", specific_heat_j_kg_k),
        ("emissivity", emissivity),
        ("density_kg_m3", density_kg_m3),
    ):
        refuse_not_positive(name, value)
    refuse_impossible_temperature("start_c", start_c)
    if not start_c <= target_c < furnace_c:
        raise OutOfDomain("target_c", target_c, f"from {start_c} C (start) to below {furnace_c} C")
    hot, first, last = c_to_k(furnace_c), c_to_k(start_c), c_to_k(target_c)
    scale_s = (
        density_kg_m3
        * specific_heat_j_kg_k
        * half_thickness_m
        / (4.0 * emissivity * STEFAN_BOLTZMANN_W_M2_K4 * hot**3)
    )
    logarithms = math.log((hot + last) / (hot - last)) - math.log((hot + first) / (hot - first))
    return scale_s * (logarithms + 2.0 * (math.atan(last / hot) - math.atan(first / hot)))


@published(
    "own-construction",
    where="a thin plate that radiates and warms the air",
    equation="t = rho L integral c dT / [h (T - To) + e s (T4 - To4)] + rho c L2 / 6k",
    unit="s",
    basis="memory",
    note="Austenite, emissivity 0.8, 10 W/m2K, all from memory. Bright steel cools slower.",
    thickness_mm=(1.0, 12.0),
)
def seconds_in_air(thickness_mm: float, from_c: float, to_c: float, air_c: float = ROOM_C) -> float:
    """Seconds the middle of an evenly hot blade takes in still air down to another temperature.

    The middle follows the mean by rho c L2 / 6k.
    Raises OutOfDomain for a thickness not above 0 or temperatures not in the order air, end, start.
    """
    refuse_not_positive("thickness_mm", thickness_mm)
    refuse_impossible_temperature("air_c", air_c)
    refuse_negative("from_c - to_c", from_c - to_c)
    if not to_c > air_c:
        raise OutOfDomain("to_c", to_c, f"above the air, {air_c} C")
    half_m = thickness_mm / 2000.0
    width_k = (from_c - to_c) / SLICES
    seconds = _austenite_heat_j_m3_k(from_c) * half_m**2 / (6.0 * austenite_conductivity_w_m_k(from_c))
    for i in range(SLICES):
        surface_c = to_c + (i + 0.5) * width_k
        film = 10.0 + radiation_coefficient_w_m2_k(surface_c, air_c, SCALED_EMISSIVITY)
        heat_j_m3_k = _austenite_heat_j_m3_k(surface_c)
        seconds += heat_j_m3_k * half_m * width_k / (film * (surface_c - air_c))
    return seconds


def _austenite_heat_j_m3_k(temperature_c: float) -> float:
    return austenite_density_kg_m3(temperature_c) * austenite_specific_heat_j_kg_k(temperature_c)
