"""JSON from strangers never brings the reader down."""

import math

import pytest

from billet import JsonRefused, read_json
from billet.recipe.text_shape import DEEPEST


def test_a_mark_of_the_byte_order_is_passed_over_as_in_a_file() -> None:
    assert read_json(b"\xef\xbb\xbf{}") == {}


def test_reads_what_is_plain() -> None:
    assert read_json(b'{"a": [1, 2.5, "x", null, true]}') == {"a": [1, 2.5, "x", None, True]}


@pytest.mark.parametrize("text", [b"[" * 20_000, b"[" * 20_000 + b"]" * 20_000, b'{"a":' * 20_000])
def test_depth_is_counted_before_it_is_read(text: bytes) -> None:
    with pytest.raises(JsonRefused, match="nested"):
        read_json(text)


def test_brackets_inside_a_text_are_no_depth() -> None:
    text = "[" * 200 + '\\"' + "{" * 200
    assert read_json(f'{{"title": "{text}"}}'.encode())["title"].startswith("[[[")


def test_the_deepest_that_is_taken() -> None:
    assert read_json(b"[" * DEEPEST + b"]" * DEEPEST)
    with pytest.raises(JsonRefused):
        read_json(b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1))


def test_integers_of_thousands_of_digits_become_infinite() -> None:
    assert math.isinf(read_json(b"1" * 5000))
    assert read_json(b"-" + b"9" * 400) == -math.inf
    assert read_json(b"123456789012345678") == 123456789012345678


def test_nan_passes_so_that_its_place_can_be_told() -> None:
    assert math.isnan(read_json(b'{"a": NaN}')["a"])
    assert math.isinf(read_json(b'{"a": 1e999}')["a"])


@pytest.mark.parametrize(
    "text",
    [b"", b"{", b"{'a': 1}", b"\xff\xfe", b'{"a": "\\ud800"}', b"nul", b"{} {}"],
)
def test_refuses_what_is_no_json(text: bytes) -> None:
    with pytest.raises(JsonRefused):
        read_json(text)


def test_refuses_a_key_given_twice() -> None:
    with pytest.raises(JsonRefused, match='the key "count" stands twice'):
        read_json(b'{"stack": {"count": 3, "count": 4}}')
