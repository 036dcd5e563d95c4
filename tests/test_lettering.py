"""Temperatures stand out of whatever sentence they stand in, and nothing else is changed."""

import re

from billet import wording
from web.lettering import hot, sentence


def bare(markup: str) -> str:
    return re.sub(r"<[^>]+>", "", markup)


def test_a_temperature_is_marked_both_ways() -> None:
    marked = hot(f"Normalise at {wording.temperature(860.0)}, cool to black")
    assert marked.count("hot") == 1
    assert '<span class="way">860\u202f°C /</span>' in marked
    assert '<span class="way">1580\u202f°F</span>' in marked
    assert bare(marked) == f"Normalise at {wording.temperature(860.0)}, cool to black"


def test_a_range_is_one_mark() -> None:
    marked = hot(wording.temperature_range(50.0, 60.0))
    assert '<span class="way">50 to 60\u202f°C /</span>' in marked
    assert bare(marked) == wording.temperature_range(50.0, 60.0)


def test_words_that_are_a_temperature_alone_are_told_apart() -> None:
    assert 'class="hot alone"' in hot(wording.temperature(805.0))
    assert "alone" not in hot(f"{wording.temperature(805.0)}, then oil")


def test_a_difference_is_no_temperature_and_stays() -> None:
    words = f"off by {wording.difference(22.0)}, draw out to 12\u202fmm"
    assert hot(words) == words


def test_a_sentence_has_a_capital_and_an_end() -> None:
    assert sentence("the windows overlap") == "The windows overlap."
    assert sentence("Is it so?") == "Is it so?"
    assert sentence("dark asks for fast oil", ("bright", "dark")) == "dark asks for fast oil."
    assert sentence("darker layers", ("dark",)) == "Darker layers."
    assert sentence("") == ""


def test_other_words_are_escaped() -> None:
    assert hot("<b>5 & 6</b>") == "&lt;b&gt;5 &amp; 6&lt;/b&gt;"
