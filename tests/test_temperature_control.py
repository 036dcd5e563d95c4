"""Judging and holding a temperature: pyrometers, thermocouples, magnet, colours, methods."""

from itertools import pairwise

import pytest

from billet.composition import Composition
from billet.contract.report import Medium as MediumName
from billet.errors import OutOfDomain
from billet.formulas.radiation import (
    pyrometer_reading_c,
    radiation_coefficient_w_m2_k,
    true_temperature_c,
    wien_reading_c,
)
from billet.formulas.thermometry import (
    furnace_uniformity_k,
    half_width_at_k,
    half_width_root_k,
    half_width_sum_k,
    magnet_point_c,
    thermocouple_range_c,
    thermocouple_tolerance,
    thermocouple_tolerance_k,
    why_no_magnet,
)
from billet.tables.colours import (
    colour_words,
    heat_colours,
    other_lists,
    other_temper_list,
    temper_colour_words,
    temper_colours,
)
from billet.tables.control import control_method, control_methods, reference_c, unfit_instrument
from billet.tables.media import forced_air, measured_films, media, severity


@pytest.mark.parametrize("band", ["0.9 um", "1.6 um", "8-14 um"])
def test_right_emissivity_reads_right(band: str) -> None:
    assert pyrometer_reading_c(815.0, 0.85, 0.85, band) == pytest.approx(815.0, abs=1e-6)
    assert pyrometer_reading_c(815.0, 0.85, 0.85, band, wall_c=815.0) > 815.0
    assert pyrometer_reading_c(815.0, 0.85, 1.0, band, wall_c=815.0) == pytest.approx(815.0, abs=1e-6)


@pytest.mark.parametrize("band", ["0.9 um", "1.6 um", "8-14 um"])
@pytest.mark.parametrize("wall_c", [None, 900.0])
def test_reading_turns_round(band: str, wall_c: float | None) -> None:
    reading_c = pyrometer_reading_c(800.0, 0.7, 0.9, band, wall_c)
    assert true_temperature_c(reading_c, 0.7, 0.9, band, wall_c) == pytest.approx(800.0, abs=1e-6)


def test_long_waves_suffer_most() -> None:
    readings = [pyrometer_reading_c(800.0, 0.7, 0.85, b) for b in ("0.9 um", "1.6 um", "8-14 um")]
    assert readings == sorted(readings, reverse=True)


def test_wien_is_planck_at_short_waves() -> None:
    by_planck = pyrometer_reading_c(1150.0, 0.5, 0.9, "0.9 um")
    assert wien_reading_c(1150.0, 0.5, 0.9, 0.9) == pytest.approx(by_planck, abs=0.05)


def test_band_is_summed_finely_enough() -> None:
    """Total of Planck's law from 8 to 14 um by 2000 slices gives the same reading."""
    import math

    def summed(kelvin: float) -> float:
        slices = [8.0 + (i + 0.5) * 6.0 / 2000 for i in range(2000)]
        return sum(1.0 / (w**5 * math.expm1(14388.0 / (w * kelvin))) for w in slices)

    reading_k = pyrometer_reading_c(800.0, 0.35, 0.85, "8-14 um") + 273.15
    assert 0.85 * summed(reading_k) == pytest.approx(0.35 * summed(1073.15), rel=1e-6)


def test_radiation_coefficient_is_that_of_the_fourth_power() -> None:
    flow = radiation_coefficient_w_m2_k(800.0, 20.0, 0.8) * 780.0
    assert flow == pytest.approx(0.8 * 5.670374419e-8 * (1073.15**4 - 293.15**4), rel=1e-12)


def test_thermocouple_tells_where_its_class_ends() -> None:
    assert thermocouple_range_c("K", 1) == (-40.0, 1000.0)
    assert thermocouple_tolerance(1000.0, "K", 1).covered
    assert not thermocouple_tolerance(1001.0, "K", 1).covered
    assert thermocouple_tolerance(1150.0, "K", 2).covered


def test_half_widths_add() -> None:
    assert half_width_sum_k(14.0, 6.1, 2.0) == pytest.approx(22.1)
    assert half_width_root_k(8.0, 3.26) == pytest.approx(8.64, abs=0.01)
    assert half_width_root_k(3.0, 4.0) == 5.0


def test_half_width_grows_with_the_wire() -> None:
    assert half_width_at_k(815.0, 22.0, 815.0, "K", 2) == 22.0
    assert half_width_at_k(1030.0, 22.0, 815.0, "K", 2) == pytest.approx(22.0 + 0.0075 * 215.0)
    with pytest.raises(OutOfDomain, match="half_width_k"):
        half_width_at_k(815.0, -1.0, 815.0, "K", 2)


# Claimed at 815 C: computed sums rounded to whole kelvins; the last four from memory.
CLAIMED_K = {
    "kiln_surveyed": 5, "kiln_fine": 10, "kiln_good": 13, "kiln_ordinary": 22, "kiln_poor": 37,
    "forge_muffle_thermocouple": 20, "forge_pyrometer_short_wave": 25, "eye_practised": 25,
    "magnet_plus_shade": 30, "eye": 50,
}  # fmt: skip


def test_methods_claim_what_they_may() -> None:
    assert {m.key: m.half_width_k for m in control_methods()} == CLAIMED_K


def test_kilns_claim_the_sum_of_their_parts() -> None:
    kilns = [m for m in control_methods() if m.uniformity_k is not None]
    assert len(kilns) == 5
    classes = {furnace_uniformity_k(c) for c in range(1, 7)}
    for kiln in kilns:
        assert kiln.uniformity_k in classes
        assert kiln.thermocouple is not None and kiln.tolerance_class is not None
        assert kiln.instrument_k is not None and kiln.uniformity_k is not None
        wire = thermocouple_tolerance_k(reference_c(), kiln.thermocouple, kiln.tolerance_class)
        total = half_width_sum_k(kiln.uniformity_k, wire, kiln.instrument_k)
        assert kiln.half_width_k == pytest.approx(total, abs=0.5)


def test_methods_say_how_and_why() -> None:
    for method in control_methods():
        assert method.how and method.label and method.basis in ("published", "practice", "memory")
        if method.half_width_range_k is not None:
            low, high = method.half_width_range_k
            assert low <= method.half_width_k <= high
    assert control_method("eye").half_width_k > control_method("eye_practised").half_width_k
    assert "8 to 14 um" in unfit_instrument().why
    with pytest.raises(OutOfDomain, match="kiln_ordinary"):
        control_method("crystal ball")


def test_the_long_wave_gun_is_as_bad_as_we_say() -> None:
    """The words say 60 K to 370 K low at 800 C, by the scale on the blade."""
    scaled = pyrometer_reading_c(800.0, 0.85, 0.95, "8-14 um")
    bare = pyrometer_reading_c(800.0, 0.35, 0.85, "8-14 um")
    assert 800.0 - scaled == pytest.approx(60.0, abs=5.0)
    assert 800.0 - bare == pytest.approx(370.0, abs=5.0)


@pytest.mark.parametrize(
    ("wt", "low_c", "high_c"),
    [
        ({"C": 0.05, "Mn": 0.3}, 769.0, 769.0),
        ({"C": 0.84, "Mn": 0.75, "Si": 0.2}, 740.0, 770.0),
        ({"C": 0.95, "Mn": 0.4, "Si": 0.2}, 740.0, 770.0),
        ({"C": 1.0, "Cr": 1.5, "Mn": 0.35, "Si": 0.25}, 740.0, 770.0),
        ({"C": 0.75, "Ni": 2.0, "Mn": 0.4, "Si": 0.3}, 700.0, 740.0),
    ],
)
def test_magnet_lets_go_near_the_change(wt: dict[str, float], low_c: float, high_c: float) -> None:
    """740 to 770 C on heating, from memory; nickel lowers the change of pearlite."""
    point = magnet_point_c(Composition(wt))
    assert point is not None
    assert low_c <= point.value <= high_c
    assert point.high - point.value == point.value - point.low == 15.0


@pytest.mark.parametrize(
    "wt",
    [
        {"C": 0.05, "Cr": 18.0, "Ni": 9.0},
        {"C": 0.35, "Cr": 13.0},
        {"Ni": 99.0},
        {"C": 0.9, "W": 6.0, "Cr": 4.0},
    ],
)
def test_magnet_says_nothing_of_high_alloy(wt: dict[str, float]) -> None:
    assert magnet_point_c(Composition(wt)) is None
    assert why_no_magnet(Composition(wt))


def test_colours_have_no_gap() -> None:
    colours = heat_colours()
    for a, b in pairwise(colours):
        assert a.to_c == b.from_c
        assert b.to_c > b.from_c
    assert colour_words(815.0).words == "cherry red"
    assert colour_words(814.9).words == "dark red"
    assert colour_words(3000.0).words == "white"


def test_lists_of_colours_differ_by_more_than_a_kiln_is_off() -> None:
    """Cherry is 815 to 870 C in one list, 900 and 902 C in the others (all transcribed)."""
    points = [dict(entries) for _, entries in other_lists()]
    cherry = colour_words(820.0)
    assert min(points[0]["full cherry"], points[1]["cherry red"]) > cherry.to_c
    assert all(list(p.values()) == sorted(p.values()) for p in points)


def test_temper_colours_rise() -> None:
    temperatures = [c.temperature_c for c in temper_colours()]
    assert temperatures == sorted(temperatures)
    assert temper_colour_words(150.0) == "none yet"
    assert temper_colour_words(195.0) == "none yet"
    assert temper_colour_words(205.0) == "very pale yellow"
    assert temper_colour_words(238.0) == "straw"
    assert temper_colour_words(400.0) == "past blue, grey"


def test_spread_of_temper_colours_covers_the_other_list() -> None:
    """Both lists transcribed; the same word may differ by what we print beside it."""
    ours = {c.words: c for c in temper_colours()}
    other = dict(other_temper_list())
    pairs = (("dark straw", "dark straw"), ("dark blue", "dark blue"), ("pale blue", "light blue"))
    for mine, theirs in pairs:
        assert abs(ours[mine].temperature_c - other[theirs]) <= ours[mine].spread_k


def test_media_are_those_of_the_report() -> None:
    assert tuple(m.name for m in media()) == MediumName.__args__  # type: ignore[attr-defined]
    assert [severity(m.name) for m in media()] == list(range(len(media())))
    with pytest.raises(OutOfDomain, match="medium"):
        severity("forced air")


def test_media_hold_together() -> None:
    for m in (*media(), forced_air()):
        assert m.bath_limits_c[0] <= m.bath_c[0] < m.bath_c[1] <= m.bath_limits_c[1]
        assert m.bath_limits_c[0] <= m.film_bath_c <= m.bath_limits_c[1]
        assert [n[0] for n in m.film] == sorted(n[0] for n in m.film)
        assert all(n[1] > 0.0 for n in m.film)
        assert m.basis in ("published", "practice", "memory") and m.speed
    assert len(measured_films()) == 2


def test_refuses_what_cannot_be() -> None:
    with pytest.raises(OutOfDomain, match="band"):
        pyrometer_reading_c(800.0, 0.8, 0.9, "2 um")
    with pytest.raises(OutOfDomain, match="emissivity_true"):
        pyrometer_reading_c(800.0, 0.0, 0.9)
    with pytest.raises(OutOfDomain, match="emissivity_set"):
        pyrometer_reading_c(800.0, 0.8, 1.1)
    with pytest.raises(OutOfDomain, match="reading_c"):
        true_temperature_c(700.0, 0.3, 0.9, "8-14 um", wall_c=1200.0)
    with pytest.raises(OutOfDomain, match="thermocouple"):
        thermocouple_tolerance_k(800.0, "J", 1)
    with pytest.raises(OutOfDomain, match="furnace_class"):
        furnace_uniformity_k(7)
    with pytest.raises(OutOfDomain, match="uniformity_k"):
        half_width_sum_k(-1.0, 2.0)
    with pytest.raises(OutOfDomain, match="temperature_c"):
        colour_words(float("nan"))
    with pytest.raises(OutOfDomain, match="temperature_c"):
        temper_colour_words(-400.0)
