"""A recipe goes into an address and comes back; nothing else comes in by that way."""

import base64
import datetime
import json
import zlib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from billet import canonical_json, parse_recipe
from web.http.address import CODED_BYTES, AddressRefused, TooLong, decode, encode

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
VALUES = st.recursive(
    st.booleans() | st.integers(-(10**17), 10**17) | st.floats(allow_nan=False, allow_infinity=False) | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4),
    max_leaves=20,
)


OF_VERSION_1 = (
    "eNrVU8tu2zAQ_JViz0RA2Vbi6Npzcip6CQKBEVcUYT6EJVU3CPzvXVJG6iBF00MuPZKcnZndHb7Ak1MaoXuBJ_yBrp-UG3sV"
    "jMNeo4FuJwC1wd576BoBvoLBUFyCBgEpK8p8ESJ55WzCcpknOxwCplSrtlftScAQQ6boipDHPEXNRQfrQj_agMCAMZKpPtKg"
    "WHxUQ47EmuuTV7nqs95wKCiHweRptdVKAbNTGRN0D0yQEVmodMbYd3ZO4gJC1kz5HaYpln-jDOHzZ_D8N4YeBRytPo93J09i"
    "rUg1JrWmg1t5F77S9z2XVzsdtJtGSj6etTu4ae_tHtbqed2Nyj6meUIqKSLUy2CD4Rod-XxEV-IzuuUndJkWFDChyqlufsLC"
    "unZxzUG0YakLbzbsH_2MpPJC2A98JW9lafOvYprUEV4Ftm8F5EcCuypQiQzZ-hUYUFK7fhV5xYzJ6vPpFUy4JljAAWmsj0wf"
    "SSNnHZg_1B80WxxwtZXJ-op7aFqxf_ywr38d4mZ72aP8jCG2bwRuLvg38s8z5KBlm12h_jYR4pcjzzLB6RfZuIKW"
)


def packed(text: str) -> str:
    return base64.urlsafe_b64encode(zlib.compress(text.encode())).rstrip(b"=").decode()


@given(st.dictionaries(TEXTS, VALUES, max_size=6))
@settings(max_examples=150, deadline=None)
def test_what_goes_in_comes_out(mapping: dict[str, Any]) -> None:
    try:
        address = encode(mapping)
    except TooLong:
        return
    assert len(address) <= CODED_BYTES
    assert decode(address) == mapping


def test_a_whole_recipe_is_far_shorter_than_the_limit(recipe: dict[str, Any]) -> None:
    assert len(encode(recipe)) < CODED_BYTES / 2


def test_the_order_of_keys_makes_no_other_address(recipe: dict[str, Any]) -> None:
    turned = dict(reversed(recipe.items()))
    turned["stack"] = dict(reversed(recipe["stack"].items()))
    assert encode(turned) == encode(recipe)


def test_steels_keep_the_order_in_which_they_were_named(recipe: dict[str, Any]) -> None:
    assert list(decode(encode(recipe))["steels"]) == ["dark", "bright"]


def test_a_link_made_by_the_first_version_still_opens() -> None:
    """As version 1.0.0 wrote it for the recipe of three materials."""
    recipe = parse_recipe(decode(OF_VERSION_1))
    assert recipe.title == "Three winds"
    assert list(recipe.steels) == ["black", "grey", "bright"]
    assert len(recipe.steps) == 6


def test_a_date_of_a_file_becomes_text() -> None:
    assert decode(encode({"sheet": {"forged_on": datetime.date(2026, 3, 1)}})) == {
        "sheet": {"forged_on": "2026-03-01"}
    }


@given(st.text("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_=+/ %é", max_size=80))
@settings(max_examples=300, deadline=None)
def test_any_other_text_is_refused_in_words(text: str) -> None:
    with pytest.raises(AddressRefused):
        decode(text)


def test_one_changed_character_is_noticed(recipe: dict[str, Any]) -> None:
    address = encode(recipe)
    for at in range(4, len(address) - 1, 7):
        other = "A" if address[at] != "A" else "B"
        with pytest.raises(AddressRefused):
            decode(address[:at] + other + address[at + 1 :])


def test_a_shortened_link_and_one_with_a_tail_are_refused(recipe: dict[str, Any]) -> None:
    address = encode(recipe)
    with pytest.raises(AddressRefused):
        decode(address[:-6])
    tail = base64.urlsafe_b64encode(zlib.compress(b"{}") + b"more").decode()
    with pytest.raises(AddressRefused, match="hangs"):
        decode(tail)


def test_a_bomb_is_counted_while_it_inflates() -> None:
    bomb = base64.urlsafe_b64encode(zlib.compress(b"[" + b"0," * 600_000 + b"0]", 9)).rstrip(b"=").decode()
    assert len(bomb) <= CODED_BYTES
    with pytest.raises(TooLong):
        decode(bomb)


def test_64_kib_may_come_out_and_not_one_byte_more() -> None:
    empty = len(canonical_json({"title": ""}))
    assert decode(packed(json.dumps({"title": "a" * (65536 - empty)}, separators=(",", ":"))))
    with pytest.raises(TooLong):
        decode(packed(json.dumps({"title": "a" * (65537 - empty)}, separators=(",", ":"))))


def test_too_long_a_recipe_is_not_coded() -> None:
    import random

    noise = random.Random(7)
    with pytest.raises(TooLong, match="file"):
        encode({"title": "".join(chr(noise.randrange(33, 126)) for _ in range(4000))})


def test_what_is_no_table_is_no_recipe() -> None:
    with pytest.raises(AddressRefused, match="no recipe"):
        decode(packed("[1, 2]"))


def test_an_integer_of_thousands_of_digits_can_be_carried() -> None:
    assert decode(encode({"count": 16**6000, "low": -(16**6000)})) == {
        "count": float("inf"),
        "low": float("-inf"),
    }
