"""Lengths and temperatures as a shop writes them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from billet.quantities import (
    NotAQuantity,
    read_difference_k,
    read_length_mm,
    read_number,
    read_temperature_c,
    write_difference,
    write_length,
    write_number,
    write_temperature,
)
from billet.wording import Units


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("3.2", 3.2),
        ("3.2 mm", 3.2),
        ("3.2mm", 3.2),
        (".5 mm", 0.5),
        ("1/8", 3.175),
        ("0.125 in", 3.175),
        (".125in", 3.175),
        ('1 1/8"', 28.575),
        ("1-1/8 in", 28.575),
        ("1 1/8 inches", 28.575),
        ("½", 12.7),
        ("1½ in", 38.1),
        ("3 1/4″", 82.55),
        ("3/16 mm", 0.1875),
        ("-3", -3.0),
        ("3,2", 3.2),
        (",5 mm", 0.5),
        ("15 cm", 150.0),
        ("0,125", 0.125),
    ],
)
def test_reads_a_length(text: str, mm: float) -> None:
    assert read_length_mm(text) == pytest.approx(mm, rel=1e-15, abs=0)


def test_a_bare_number_is_in_the_units_of_the_page() -> None:
    assert read_length_mm("2", "mm") == 2.0
    assert read_length_mm("2", "inch") == 50.8
    assert read_length_mm("2 mm", "inch") == 2.0


@pytest.mark.parametrize(
    "text",
    [
        "",
        "abc",
        "3,2,1",
        "1,250",
        "1e3",
        "nan",
        "inf",
        "1/0",
        "1 2",
        "3 dm",
        "1/8/2",
        "--3",
        "1_000",
        "٣",
        "9" * 31,
        "3.2.1",
    ],
)
def test_refuses_with_a_sentence(text: str) -> None:
    with pytest.raises(NotAQuantity) as refused:
        read_length_mm(text)
    assert len(str(refused.value)) > 15


MILLIMETRES = st.floats(min_value=1e-3, max_value=2e4, allow_nan=False)


@given(MILLIMETRES, st.sampled_from(["mm", "inch"]))
def test_what_is_written_reads_back_as_the_very_same_length(mm: float, units: Units) -> None:
    assert read_length_mm(write_length(mm, units), units) == mm


@given(st.integers(1, 640))
def test_parts_of_an_inch_are_written_as_fractions(sixty_fourths: int) -> None:
    mm = read_length_mm(f"{sixty_fourths}/64 in")
    written = write_length(mm, "inch")
    assert "." not in written and "mm" not in written
    assert read_length_mm(written, "inch") == mm


def test_a_metric_size_keeps_its_unit_in_an_inch_shop() -> None:
    assert write_length(3.2, "inch") == "3.2 mm"
    assert write_length(3.175, "inch") == "1/8"
    assert write_length(28.575, "inch") == "1 1/8"
    assert write_length(50.8, "inch") == "2"


def test_temperatures_both_ways() -> None:
    assert read_temperature_c("805") == 805.0
    assert read_temperature_c("805 °C") == 805.0
    assert read_temperature_c("1500 F") == pytest.approx(815.5555555, rel=1e-9)
    assert read_temperature_c("1500°f") == read_temperature_c("1500 F")
    with pytest.raises(NotAQuantity):
        read_temperature_c("cherry red")


def test_a_bare_temperature_in_an_inch_shop_is_fahrenheit() -> None:
    assert read_temperature_c("2150", "inch") == pytest.approx(1176.6667, abs=1e-3)
    assert read_temperature_c("1150 C", "inch") == 1150.0
    assert write_temperature(1150.0, "inch") == "2102"
    assert write_temperature(1150.0) == "1150"


@pytest.mark.parametrize(
    ("text", "kelvins"),
    [("15", 15), ("+-15", 15), ("+/- 15 C", 15), ("±15", 15), ("15 K", 15), ("±27 °F", 15), ("7,5", 7.5)],
)
def test_reads_a_difference_of_temperature(text: str, kelvins: float) -> None:
    assert read_difference_k(text) == kelvins


def test_a_bare_difference_in_an_inch_shop_is_fahrenheit() -> None:
    assert read_difference_k("27", "inch") == 15.0
    assert write_difference(15.0, "inch") == "27"
    with pytest.raises(NotAQuantity):
        read_difference_k("-15")


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("12 min", "min", 12),
        ("0,5", "", 0.5),
        ("1/2", "min", 0.5),
        ("60 HRC", "HRC", 60),
        ("0,95 %", "%", 0.95),
    ],
)
def test_a_number_may_carry_its_own_unit(text: str, unit: str, value: float) -> None:
    assert read_number(text, unit) == value


def test_a_number_with_the_unit_of_something_else_is_refused() -> None:
    for text, unit in (("12 mm", "min"), ("60 HRC", ""), ("12 min", "HRC")):
        with pytest.raises(NotAQuantity, match="is no number"):
            read_number(text, unit)


@given(st.floats(min_value=20, max_value=3000, allow_nan=False), st.sampled_from(["mm", "inch"]))
def test_a_written_temperature_reads_back_as_the_very_same(celsius: float, units: Units) -> None:
    text = write_temperature(celsius, units)
    if len(text) <= 30:
        assert read_temperature_c(text, units) == celsius


@given(st.integers(1000, 2400))
def test_fahrenheit_comes_back_as_it_was_written(fahrenheit: int) -> None:
    celsius = read_temperature_c(f"{fahrenheit} F")
    assert read_temperature_c(write_temperature(celsius)) == celsius


@given(st.floats(min_value=-1e6, max_value=1e6, allow_nan=False))
def test_numbers_never_carry_an_exponent(value: float) -> None:
    written = write_number(value)
    assert "e" not in written
    assert float(written) == pytest.approx(value, rel=1e-12, abs=1e-20)
    if len(written) <= 30:
        assert read_number(written) == float(written)
