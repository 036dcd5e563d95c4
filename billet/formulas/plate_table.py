"""The tables of plate cooling: what the data files hold is what these functions give.

Computed once and kept in a file, because a plan must not wait for a solver.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from billet.formulas.plate_cooling import Cooling, Film, Plate, cool_plates

THICKNESSES_MM = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0)
START_C = 815.0
FILM_BAND = 0.30
NODES = 21
ABOVE_BATH_K = 15.0


@dataclass(frozen=True)
class RateRow:
    """Mean rates of the middle from 700 to 550 C at the nominal, lower and higher film, K/s."""

    medium: str
    thickness_mm: float
    rate_k_s: float
    rate_low_k_s: float
    rate_high_k_s: float
    seconds_to_540_c: float


@dataclass(frozen=True)
class CurveRow:
    """When the middle passes a temperature, nominal film."""

    medium: str
    thickness_mm: float
    temperature_c: float
    seconds: float


def rate_rows(
    films: Mapping[str, Film],
    thicknesses_mm: tuple[float, ...] = THICKNESSES_MM,
    start_c: float = START_C,
) -> list[RateRow]:
    """Rates of every medium and thickness. Raises OutOfDomain as `cool_plates` does."""
    factors = (1.0, 1.0 - FILM_BAND, 1.0 + FILM_BAND)
    plates = [
        Plate(thickness, film.times(factor), start_c, 530.0)
        for film in films.values()
        for thickness in thicknesses_mm
        for factor in factors
    ]
    cooled = iter(cool_plates(plates, nodes=NODES))
    rows = []
    for name in films:
        for thickness in thicknesses_mm:
            nominal, low, high = next(cooled), next(cooled), next(cooled)
            rows.append(
                RateRow(
                    medium=name,
                    thickness_mm=thickness,
                    rate_k_s=nominal.mean_rate_k_s(),
                    rate_low_k_s=low.mean_rate_k_s(),
                    rate_high_k_s=high.mean_rate_k_s(),
                    seconds_to_540_c=nominal.seconds_to_c(540.0),
                )
            )
    return rows


def curve_temperatures_c(bath_c: float, start_c: float = START_C) -> list[float]:
    """Temperatures at which a curve is kept: the start, then every 20 K to just above the bath."""
    steps = [float(t) for t in range(800, 0, -20)]
    return [start_c, *(t for t in steps if t >= bath_c + ABOVE_BATH_K)]


def curve_rows(
    films: Mapping[str, Film], thicknesses_mm: tuple[float, ...] = THICKNESSES_MM
) -> list[CurveRow]:
    """Cooling curves of every medium and thickness. Raises OutOfDomain as `cool_plates` does."""
    places = [(name, thickness) for name in films for thickness in thicknesses_mm]
    temperatures = {name: curve_temperatures_c(film.bath_c) for name, film in films.items()}
    plates = [Plate(t, films[name], START_C, temperatures[name][-1] - 5.0) for name, t in places]
    cooled: list[Cooling] = cool_plates(plates, nodes=NODES)
    return [
        CurveRow(name, thickness, temperature, cooling.seconds_to_c(temperature))
        for (name, thickness), cooling in zip(places, cooled, strict=True)
        for temperature in temperatures[name]
    ]
