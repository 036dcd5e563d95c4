"""Words for numbers: rounded once, units both ways, a difference never a temperature."""

from dataclasses import dataclass

import pytest

from billet import wording, written
from billet.sheets.layout import plain
from billet.shop_units import fahrenheit_first


@dataclass(frozen=True)
class Band:
    value: float
    low: float
    high: float


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        (wording.temperature(805.0), "805 °C / 1481 °F"),
        (wording.temperature(-40.0), "-40 °C / -40 °F"),
        (wording.temperature(230.4), "230 °C / 446 °F"),
        (wording.temperature((1500.0 - 32.0) / 1.8), "816 °C / 1500 °F"),
        (wording.temperature_range(790.0, 820.0), "790 to 820 °C / 1454 to 1508 °F"),
        (wording.temperature_range(885.0, 885.0), "885 °C / 1625 °F"),
        (wording.temperature_aside(769.0), "769 °C (1416 °F)"),
        (wording.temperature_range_aside(1010.0, 1065.0), "1010 to 1065 °C (1850 to 1949 °F)"),
        (wording.difference(20.0), "20 K (36 °F)"),
        (wording.difference(1.5), "1.5 K (2.7 °F)"),
        (wording.difference(0.0), "0 K (0 °F)"),
        (wording.difference(-7.0), "-7 K (-13 °F)"),
        (wording.plus_minus(13.0), "±13 K (±23 °F)"),
        (wording.plus_minus(9.72), "±10 K (±18 °F)"),
        (wording.difference(9.72), "10 K (18 °F)"),
        (wording.difference(2.97), "3 K (5 °F)"),
        (wording.difference(3.04), "3 K (5 °F)"),
        (wording.difference(9.72, "inch"), "18 °F (10 °C)"),
        (wording.plus_minus(1.44), "±1.4 K (±2.5 °F)"),
        (wording.plus_minus(15.0 / 1.8), "±8 K (±15 °F)"),
        (fahrenheit_first("±1.4\u202fK (±2.5\u202f°F), 2\u202fK"), "±2.5 °F, 3.6 °F"),
        (wording.rate(143.0), "140 K/s"),
        (wording.rate(37.4), "37 K/s"),
        (wording.rate(4.26), "4.3 K/s"),
        (wording.length(12.0), "12 mm"),
        (wording.length(12.34), "12.3 mm"),
        (wording.length(0.352), "0.35 mm"),
        (wording.length(173.4), "173 mm"),
        (wording.length(12.7, "inch"), "0.500 in"),
        (wording.length(173.4, "inch"), "6.83 in"),
        (wording.at_least(0.21), "0.3 mm"),
        (wording.at_least(0.3), "0.3 mm"),
        (wording.at_least(0.0001, "inch"), "0.004 in"),
        (wording.length_both(2.54), "2.5 mm / 0.10 in"),
        (wording.length_both(1.25), "1.2 mm / 0.047 in"),
        (wording.length_both(1.548), "1.5 mm / 0.059 in"),
        (wording.length_both(152.4), "152 mm / 6.00 in"),
        (wording.length_both(0.4), "0.4 mm / 0.016 in"),
        (wording.lengths((22.34, 17.0)), "22.3, 17 mm"),
        (wording.size(26.0, 40.0, 173.4), "26 × 40 × 173 mm"),
        (wording.size(25.4, 50.8, 254.0, "inch"), "1.00 × 2.00 × 10.00 in"),
        (wording.stock(3.0), "3 mm"),
        (wording.stock(3.175, "inch"), "1/8 in"),
        (wording.stock(3.0, "inch"), "0.118 in (about 1/8)"),
        (wording.stock(31.75, "inch"), "1 1/4 in"),
        (wording.stock(0.1, "inch"), "0.004 in"),
        (wording.micrometres(4.26), "4.3 µm"),
        (wording.micrometres(111.4), "111 µm"),
        (wording.micrometres(2000.0), "2 mm"),
        (wording.micrometres(25.4, "inch"), "1.0 thou"),
        (wording.mass(1.616), "1.62 kg"),
        (wording.mass(0.0703), "70.3 g"),
        (wording.mass(0.45359237, "inch"), "1.00 lb"),
        (wording.percent(0.67), "67 %"),
        (wording.percent(0.045), "4.5 %"),
        (wording.percent(0.0), "0 %"),
        (wording.wt(0.836), "0.84 %"),
        (wording.hardness(59.4), "59 HRC"),
        (wording.hardness_range(57.6, 61.5), "58 to 62 HRC"),
        (wording.minutes(12.4), "12 min"),
        (wording.minutes(3.3), "3.5 min"),
        (wording.minutes(0.33), "20 s"),
        (wording.minutes(0.0), "0 min"),
        (wording.hours(120.0), "2 h"),
        (wording.seconds(2.0), "2 s"),
        (wording.count(1, "heat"), "1 heat"),
        (wording.count(4, "heat"), "4 heats"),
        (wording.listed(["a", "b", "c"]), "a, b and c"),
    ],
)  # fmt: skip
def test_reads_as_a_smith_would_say_it(written: str, expected: str) -> None:
    assert plain(written) == expected


@pytest.mark.parametrize(("limit_k", "told_k"), [(4.96, 4.0), (5.0, 5.0), (2.96, 2.9), (0.0, 0.0)])
def test_no_fire_beyond_a_limit_reads_as_inside_it(limit_k: float, told_k: float) -> None:
    assert written.k_below(limit_k) == told_k


def test_twenty_kelvins_are_thirty_six_fahrenheit_and_never_sixty_eight() -> None:
    for words in (wording.difference(20.0), wording.plus_minus(20.0)):
        assert "36" in words and "68" not in words


def test_an_estimate_carries_its_band() -> None:
    assert plain(wording.estimate(Band(59.2, 56.1, 62.3), wording.hardness)) == "59 HRC (56 to 62)"
    assert plain(wording.estimate(Band(0.09, 0.05, 0.2), wording.percent)) == "9 % (5 to 20)"


def test_an_end_that_reads_like_the_value_is_not_told_twice() -> None:
    assert plain(wording.estimate(Band(45.9, 34.2, 46.1), wording.hardness)) == "46 HRC (down to 34)"
    assert plain(wording.estimate(Band(0.0, 0.0, 0.08), wording.percent)) == "0 % (up to 8)"
    assert plain(wording.estimate(Band(60.0, 59.9, 60.1), wording.hardness)) == "60 HRC (60)"


def test_the_band_of_a_temperature_is_told_both_ways() -> None:
    words = plain(wording.estimate(Band(212.0, 190.0, 240.0), wording.temperature))
    assert words == "212 °C / 414 °F (190 to 240 °C / 374 to 464 °F)"


def test_no_number_is_parted_from_its_unit_by_an_ordinary_space() -> None:
    for words in (wording.length(12.0), wording.mass(1.0), wording.hardness(60.0), wording.wt(0.8)):
        assert " " not in words


@pytest.mark.parametrize("mm", [0.5, 1.5, 3.0, 3.175, 6.0, 25.4, 40.0, 99.0])
def test_the_fraction_to_ask_for_is_the_nearest_sixty_fourth(mm: float) -> None:
    whole, _, part = wording.inch_fraction(mm).rpartition(" ")
    top, _, bottom = part.partition("/")
    inches = float(whole or 0) + float(top) / float(bottom or 1)
    assert abs(inches - mm / 25.4) <= 0.5 / 64 + 1e-12


def test_an_inch_shop_reads_fahrenheit_first_and_no_kelvin() -> None:
    assert wording.temperature(805.0, "inch") == "1481\u202f°F / 805\u202f°C"
    assert wording.temperature_range(790.0, 820.0, "inch") == "1454 to 1508\u202f°F / 790 to 820\u202f°C"
    assert wording.difference(15.0, "inch") == "27\u202f°F (15\u202f°C)"
    assert wording.difference(15.0) == "15\u202fK (27\u202f°F)"


def test_a_length_as_the_shop_rule_shows_it() -> None:
    told = {6.35: "1/4", 27.8: "1\u00a03/32", 28.0: "1\u00a03/32", 0.3: "0", 50.8: "2", 12.0: "15/32"}
    assert {mm: wording.thirty_seconds(mm) for mm in told} == told
