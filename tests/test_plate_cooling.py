"""The cooling of plates: against the exact series, an independent solver, and the kept table."""

import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from billet.errors import OutOfDomain
from billet.formulas.conduction import plate_after
from billet.formulas.plate_cooling import AUSTENITE, Film, Metal, Plate, cool_plates
from billet.formulas.plate_table import curve_rows, rate_rows
from billet.formulas.steel_heat import (
    austenite_conductivity_w_m_k,
    austenite_density_kg_m3,
    austenite_specific_heat_j_kg_k,
)
from billet.tables.media import measured_films, media, medium
from billet.tables.plate_cooling import (
    CURVES,
    TABLE,
    centre_rate_k_s,
    cooling_curve,
    hardens_to_mm,
    seconds_to_540_c,
)
from billet.tables.reading import read_csv

sys.path.insert(0, str(Path(__file__).parent))
from write_plate_cooling import films, shown

REGENERATE = "the table is stale: run  python tests/write_plate_cooling.py  and look at what changed"
CONSTANT = Metal((27.3, 0.0), (650.0, 0.0), (7700.0, 0.0))

# Centre mean rate from 700 to 550 C in K/s for 2, 3, 4, 6 mm, and seconds from 727 to 540 C: an
# independent solver with the same film, start and properties; nothing of this is from print.
INDEPENDENT = {
    "fast oil": ((339.2, 231.9, 177.7, 121.8), (0.60, 0.87, 1.13, 1.63)),
    "medium oil": ((213.9, 147.1, 113.6, 79.7), (0.99, 1.45, 1.88, 2.66)),
    "slow oil": ((121.6, 81.9, 62.2, 42.5), (1.55, 2.31, 3.05, 4.49)),
    "hot oil": ((149.6, 103.2, 80.2, 57.2), (1.43, 2.09, 2.73, 3.91)),
    "water": ((430.7, 300.2, 235.6, 170.9), (0.46, 0.66, 0.85, 1.17)),
    "brine": ((1230.2, 807.5, 583.8, 349.6), (0.15, 0.23, 0.32, 0.54)),
    "forced air": ((14.5, 9.6, 7.2, 4.8), (12.7, 19.04, 25.41, 38.18)),
    "air": ((7.7, 5.2, 3.9, 2.6), (23.64, 35.46, 47.3, 71.04)),
    "mineral oil A": ((436.3, 296.0, 224.0, 148.0), (0.45, 0.67, 0.88, 1.31)),
    "mineral oil B": ((558.1, 378.0, 283.8, 181.9), (0.36, 0.52, 0.69, 1.05)),
}


def film_of(name: str) -> Film:
    found = {m.name: Film(m.film, m.bath_c) for m in measured_films()}
    return {**films(), **found}[name]


@pytest.mark.parametrize("thickness_mm", [3.0, 6.0, 10.0])
@pytest.mark.parametrize("seconds", [1.0, 2.0, 4.0])
def test_agrees_with_the_exact_series(thickness_mm: float, seconds: float) -> None:
    plate = Plate(thickness_mm, Film(((0.0, 2000.0),), 50.0), 850.0, 100.0)
    cooling = cool_plates([plate], nodes=21, metal=CONSTANT)[0]
    exact = plate_after(thickness_mm / 2000.0, 27.3, 7700.0, 650.0, 2000.0, 850.0, 50.0, seconds)
    middle_c = float(np.interp(seconds, cooling.seconds, cooling.middle_c))
    face_c = float(np.interp(seconds, cooling.seconds, cooling.face_c))
    assert middle_c == pytest.approx(exact.middle_c, abs=0.15)
    assert face_c == pytest.approx(exact.face_c, abs=0.15)


@pytest.mark.parametrize("name", INDEPENDENT)
def test_agrees_with_an_independent_solver(name: str) -> None:
    rates, seconds = INDEPENDENT[name]
    plates = [Plate(t, film_of(name), 815.0, 530.0) for t in (2.0, 3.0, 4.0, 6.0)]
    for cooling, rate, time_s in zip(cool_plates(plates), rates, seconds, strict=True):
        assert cooling.mean_rate_k_s() == pytest.approx(rate, rel=0.02)
        took = cooling.seconds_to_c(540.0) - cooling.seconds_to_c(727.0)
        assert took == pytest.approx(time_s, rel=0.04)


def test_properties_are_those_of_the_formulas() -> None:
    for t in (300.0, 700.0, 1000.0):
        for line, formula in (
            (AUSTENITE.conductivity_w_m_k, austenite_conductivity_w_m_k),
            (AUSTENITE.specific_heat_j_kg_k, austenite_specific_heat_j_kg_k),
            (AUSTENITE.density_kg_m3, austenite_density_kg_m3),
        ):
            assert line[0] + line[1] * t == pytest.approx(formula(t), rel=1e-12)


def test_finer_grid_gives_the_same_rate() -> None:
    plates = [Plate(t, films()["brine"], 815.0, 530.0) for t in (2.0, 12.0)]
    coarse, fine = cool_plates(plates, nodes=11), cool_plates(plates, nodes=41)
    for a, b in zip(coarse, fine, strict=True):
        assert a.mean_rate_k_s() == pytest.approx(b.mean_rate_k_s(), rel=0.003)


def test_rate_barely_depends_on_the_hardening_temperature() -> None:
    at_815, at_1030 = (rate_rows(films(), (2.0, 4.0, 8.0), start_c=t) for t in (815.0, 1030.0))
    for low, high in zip(at_815, at_1030, strict=True):
        assert high.rate_k_s == pytest.approx(low.rate_k_s, rel=0.03)


def test_every_row_of_the_table_is_what_the_solver_gives() -> None:
    kept = read_csv(TABLE)
    fresh = rate_rows(films())
    assert len(kept) == len(fresh), REGENERATE
    for row, new in zip(kept, fresh, strict=True):
        for key, value in row.items():
            assert value == shown(getattr(new, key)) or float(value) == pytest.approx(
                getattr(new, key), rel=2e-4
            ), REGENERATE


def test_every_row_of_the_curves_is_what_the_solver_gives() -> None:
    kept = read_csv(CURVES)
    fresh = curve_rows(films())
    assert len(kept) == len(fresh), REGENERATE
    for row, new in zip(kept, fresh, strict=True):
        assert (row["medium"], float(row["thickness_mm"])) == (new.medium, new.thickness_mm), REGENERATE
        assert float(row["temperature_c"]) == new.temperature_c, REGENERATE
        assert float(row["seconds"]) == pytest.approx(new.seconds, rel=2e-4), REGENERATE


def test_slower_media_cool_slower_and_thicker_plates_too() -> None:
    # vegetable oil starts faster than medium oil and ends slower: the two cross in thick plates
    names = [m.name for m in media() if m.name != "vegetable oil"]
    for thickness_mm in (1.0, 2.0, 3.0, 5.0, 8.0, 12.0, 20.0, 30.0):
        rates = [centre_rate_k_s(n, thickness_mm).value for n in names]
        assert rates == sorted(rates, reverse=True)
    for name in names:
        thicknesses = (0.5, 1.0, 2.2, 3.0, 7.0, 12.0, 20.0, 50.0, 90.0)
        by_thickness = [centre_rate_k_s(name, t) for t in thicknesses]
        assert all(a.value > b.value for a, b in pairwise(by_thickness))
        assert all(rate.low <= rate.value <= rate.high for rate in by_thickness)


def test_hot_oil_counts_no_faster_than_slow_oil() -> None:
    assert film_rate("hot oil") > film_rate("slow oil")
    assert centre_rate_k_s("hot oil", 3.0) == centre_rate_k_s("slow oil", 3.0)


def film_rate(name: str) -> float:
    return cool_plates([Plate(3.0, films()[name], 815.0, 530.0)])[0].mean_rate_k_s()


def test_interpolated_rate_lies_on_the_solver() -> None:
    for name in ("fast oil", "water", "air"):
        for thickness_mm in (1.2, 2.5, 3.4, 7.0, 11.0, 14.0, 27.0):
            solved = cool_plates([Plate(thickness_mm, films()[name], 815.0, 530.0)])[0]
            rate = centre_rate_k_s(name, thickness_mm)
            between = 0.01 if thickness_mm < 12.0 else 0.02  # the thicknesses lie further apart there
            assert rate.value == pytest.approx(solved.mean_rate_k_s(), rel=between)
            assert rate.low < rate.value < rate.high
            assert seconds_to_540_c(name, thickness_mm) == pytest.approx(
                solved.seconds_to_c(540.0), rel=0.015
            )


def test_interpolated_curve_lies_on_the_solver() -> None:
    seconds, temperatures = cooling_curve("medium oil", 3.5)
    solved = cool_plates([Plate(3.5, films()["medium oil"], 815.0, 70.0)])[0]
    assert temperatures[0] == 815.0 and seconds[0] == 0.0
    for s, t in list(zip(seconds, temperatures, strict=True))[2:]:
        assert s == pytest.approx(solved.seconds_to_c(t), rel=0.02)


def test_thickness_that_hardens_turns_the_rate_round() -> None:
    for name, rate in (("fast oil", 30.0), ("fast oil", 140.0), ("hot oil", 30.0), ("hot oil", 140.0),
                       ("air", 3.0), ("air", 30.0), ("water", 900.0)):  # fmt: skip
        thickness = hardens_to_mm(name, rate)
        assert centre_rate_k_s(name, thickness).value == pytest.approx(rate, rel=1e-6)


def test_says_where_it_leaves_the_table() -> None:
    assert centre_rate_k_s("air", 31.0).extrapolated and centre_rate_k_s("air", 0.8).extrapolated
    assert not centre_rate_k_s("air", 30.0).extrapolated
    assert not centre_rate_k_s("air", 1.0).extrapolated


def test_refuses_what_cannot_be() -> None:
    with pytest.raises(OutOfDomain, match="medium"):
        medium("milk")
    for thickness_mm in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(OutOfDomain, match="thickness_mm"):
            centre_rate_k_s("air", thickness_mm)
        with pytest.raises(OutOfDomain, match="thickness_mm"):
            cool_plates([Plate(thickness_mm, films()["air"])])
    with pytest.raises(OutOfDomain, match="critical_rate_k_s"):
        hardens_to_mm("air", 0.0)
    with pytest.raises(OutOfDomain, match="end_c"):
        cool_plates([Plate(3.0, films()["hot oil"], 815.0, 100.0)])
    with pytest.raises(OutOfDomain, match="temperature_c"):
        cool_plates([Plate(3.0, films()["air"])])[0].seconds_to_c(900.0)
