"""Sheets without steps on several sides: what must stand on the first, what goes over, and in which order."""

from collections.abc import Callable

import pytest

from billet.sheets.model import Page, Section, pairs, text
from billet.sheets.sides import spread_sections

FIRE = pairs("The fire", [("Heat", "so much")]).beside("left")
BATH = pairs("", [("Quench", "oil")]).beside("right")
CAME = text("", ["came to"]).may_go_over("What came", "either")
EXPECT = text("", ["so hard"]).may_go_over("What to expect")
WHY = text("", ["because"]).may_go_over("Reasons")
SAFETY = text("", ["take care"])
WHOLE = Page("Harden", "Do it so", (FIRE, BATH, EXPECT, WHY, CAME, SAFETY))


def at_most(count: int) -> Callable[[Page], bool]:
    """A side of so many sections, the line that tells of the others not counted."""
    return lambda page: sum(not _pointer(section) for section in page.sections) <= count


def told(pages: tuple[Page, ...]) -> list[list[str]]:
    return [[section.rows[0][-1] for section in page.sections] for page in pages]


def test_what_one_side_holds_stays_as_it_is() -> None:
    assert spread_sections(WHOLE, at_most(6)) == (WHOLE,)


def test_what_is_not_needed_at_once_goes_over_and_the_first_side_tells_of_it() -> None:
    assert told(spread_sections(WHOLE, at_most(5))) == [
        ["so much", "oil", "came to", "take care", "On side 2: what to expect, reasons."],
        ["so hard", "because"],
    ]


def test_what_may_stand_on_either_side_goes_only_where_it_must_and_keeps_its_order() -> None:
    assert told(spread_sections(WHOLE, at_most(3))) == [
        ["so much", "oil", "take care", "On side 2: what to expect, reasons, what came."],
        ["so hard", "because", "came to"],
    ]


def test_what_went_over_for_nothing_comes_back() -> None:
    """A table that must go over leaves room for what would have gone before it."""
    long, short = pairs("Temper", [("At", "175")]).may_go_over("Temper", "either"), CAME
    whole = Page("Harden", "", (FIRE, long, short, SAFETY))
    high = {"so much": 2, "175": 4, "came to": 1, "take care": 1}
    pages = spread_sections(whole, lambda page: sum(high.get(s.rows[0][-1], 0) for s in page.sections) <= 4)
    assert told(pages) == [["so much", "came to", "take care", "On side 2: temper."], ["175"]]


def test_a_later_side_has_the_answer_again_and_headings_over_the_whole_width() -> None:
    _, second = spread_sections(WHOLE, at_most(5))
    assert (second.statement, second.order) == ("Harden", "")
    assert [section.heading for section in second.sections] == ["What to expect", "Reasons"]
    assert {section.column for section in second.sections} == {"wide"}


@pytest.mark.parametrize("count", [1, 2])
def test_nothing_is_lost_or_told_twice_on_however_many_sides(count: int) -> None:
    pages = spread_sections(WHOLE, at_most(count))
    rows = [words for side in told(pages) for words in side if not words.startswith("On side")]
    assert sorted(rows) == sorted(section.rows[0][-1] for section in WHOLE.sections)
    assert all(at_most(count)(page) for page in pages)


def test_a_section_that_no_side_holds_has_one_of_its_own() -> None:
    pages = spread_sections(WHOLE, lambda page: False)
    assert [sum(not _pointer(s) for s in page.sections) for page in pages] == [1] * len(WHOLE.sections)


def _pointer(section: Section) -> bool:
    return section.rows[0][0].startswith("On side")
