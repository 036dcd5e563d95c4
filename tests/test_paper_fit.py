"""The type of a side of paper: the more stands on it, the smaller, and never under twelve points."""

from itertools import pairwise

import pytest
from drawn_report import REPORT

from billet.sheets import Page, Section
from web.charts.paper import end_scale
from web.letter_widths import line_count, width_mm
from web.paper_drawings import Drawings
from web.paper_fit import HIGH_MM, LEAST, MOST, SETTINGS, Content, fitting_setting, side_mm

BLOCK = (("Title", "Bar"), ("Number", ""))


def drawings() -> Drawings:
    return Drawings(REPORT, end_scale([]), "mm", {}, 0, None)


def content_of(rows: int) -> Content:
    return Content("harden", page_of(rows), BLOCK, drawings())


def page_of(rows: int) -> Page:
    line = "so many words as one line of a hardening sheet has room for in twelve points, or about"
    return Page("Harden", "", (Section("", "text", (), ((line,),) * rows),))


def test_more_lines_are_set_smaller_from_the_most_to_the_least() -> None:
    chosen = [fitting_setting(content_of(rows)) for rows in range(4, 80, 4)]
    assert chosen[-1] is None
    found = [(setting or SETTINGS[-1]).words for setting in chosen]
    assert found[0] == MOST and found[-1] == LEAST == 24
    assert all(before >= after for before, after in pairwise(found))
    assert len(set(found)) > 3


@pytest.mark.parametrize("rows", [8, 20, 30])
def test_what_is_chosen_fits_the_shorter_paper_and_the_next_size_would_not(rows: int) -> None:
    content = content_of(rows)
    chosen = fitting_setting(content)
    assert chosen is not None
    assert side_mm(content, chosen) <= HIGH_MM
    if chosen.words < MOST:
        larger = SETTINGS[SETTINGS.index(chosen) - 1]
        assert side_mm(content, larger) > 0.8 * HIGH_MM


def test_the_heat_shrinks_by_half_points_once_the_words_are_least() -> None:
    words = [setting.words for setting in SETTINGS]
    assert words == sorted(words, reverse=True) and min(words) == LEAST
    heats = [setting.heat for setting in SETTINGS if setting.words == LEAST]
    assert heats == list(range(48, 35, -1))
    assert all(setting.heat >= 48 for setting in SETTINGS if setting.words > LEAST)


def test_widths_of_letters_grow_with_the_type() -> None:
    assert width_mm("1130", 24.0) == pytest.approx(4 * 0.556 * 24.0 * 25.4 / 72.0)
    assert width_mm("W", 12.0) > width_mm("i", 12.0)
    assert line_count("one two three", 1000.0, 12.0) == 1
    assert line_count("one two three", 1.0, 12.0) == 3
