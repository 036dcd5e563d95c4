"""Lengths and temperatures as a shop writes them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from web.form.lengths import (
    NotAQuantity,
    Units,
    parse_length,
    parse_number,
    parse_temperature,
    write_length,
    write_number,
    write_temperature,
)


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
    ],
)
def test_reads_a_length(text: str, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, rel=1e-15, abs=0)


def test_a_bare_number_is_in_the_units_of_the_page() -> None:
    assert parse_length("2", "mm") == 2.0
    assert parse_length("2", "inch") == 50.8
    assert parse_length("2 mm", "inch") == 2.0


@pytest.mark.parametrize(
    "text",
    [
        "",
        "abc",
        "3,2",
        "1e3",
        "nan",
        "inf",
        "1/0",
        "1 2",
        "3 cm",
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
        parse_length(text)
    assert len(str(refused.value)) > 15


MILLIMETRES = st.floats(min_value=1e-3, max_value=2e4, allow_nan=False)


@given(MILLIMETRES, st.sampled_from(["mm", "inch"]))
def test_what_is_written_reads_back_as_the_very_same_length(mm: float, units: Units) -> None:
    assert parse_length(write_length(mm, units), units) == mm


@given(st.integers(1, 640))
def test_parts_of_an_inch_are_written_as_fractions(sixty_fourths: int) -> None:
    mm = parse_length(f"{sixty_fourths}/64 in")
    written = write_length(mm, "inch")
    assert "." not in written and "mm" not in written
    assert parse_length(written, "inch") == mm


def test_a_metric_size_keeps_its_unit_in_an_inch_shop() -> None:
    assert write_length(3.2, "inch") == "3.2 mm"
    assert write_length(3.175, "inch") == "1/8"
    assert write_length(28.575, "inch") == "1 1/8"
    assert write_length(50.8, "inch") == "2"


def test_temperatures_both_ways() -> None:
    assert parse_temperature("805") == 805.0
    assert parse_temperature("805 °C") == 805.0
    assert parse_temperature("1500 F") == pytest.approx(815.5555555, rel=1e-9)
    assert parse_temperature("1500°f") == parse_temperature("1500 F")
    with pytest.raises(NotAQuantity):
        parse_temperature("cherry red")


@given(st.integers(1000, 2400))
def test_fahrenheit_comes_back_as_it_was_written(fahrenheit: int) -> None:
    celsius = parse_temperature(f"{fahrenheit} F")
    assert parse_temperature(write_temperature(celsius)) == celsius


@given(st.floats(min_value=-1e6, max_value=1e6, allow_nan=False))
def test_numbers_never_carry_an_exponent(value: float) -> None:
    written = write_number(value)
    assert "e" not in written
    assert float(written) == pytest.approx(value, rel=1e-12, abs=1e-20)
    if len(written) <= 30:
        assert parse_number(written) == float(written)
