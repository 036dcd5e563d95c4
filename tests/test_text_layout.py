"""Cells laid out in letters of one width keep their words and stay inside the width."""

import pytest

from billet.sheets import layout
from billet.wording import temperature


def test_a_number_stays_with_its_unit_where_lines_break() -> None:
    lines = layout.wrapped(f"harden at {temperature(805.0)} and no hotter", 18)
    assert any("805 °C" in line for line in lines) and any("1481 °F" in line for line in lines)


def test_a_designation_is_not_cut_at_its_dash() -> None:
    assert any("75NiCrMo5-3-3" in line for line in layout.wrapped("a bar of 75NiCrMo5-3-3 steel", 15))


def test_a_table_is_narrowed_to_the_width_and_loses_no_word() -> None:
    rows = [("1", "one two three four five six seven eight", "x"), ("2", "nine ten", "y")]
    lines = layout.table(("Step", "Work", "Mark"), rows, 30)
    assert max(map(len, lines)) <= 30
    words = " ".join(lines).split()
    assert all(word in words for row in rows for cell in row for word in cell.split())


def test_a_short_row_runs_over_the_columns_that_are_missing() -> None:
    rows = [("1", "a", "b", "c"), ("", "words over two columns", "box")]
    assert layout.table(("No", "A", "B", "C"), rows)[-1].split("  ")[-1] == "box"
    assert "words over two columns" in layout.table(("No", "A", "B", "C"), rows)[-1]


@pytest.mark.parametrize(("words", "told"), [("stop", "Stop."), ("why: so!", "Why: so!"), ("", "")])
def test_a_sentence_begins_large_and_ends(words: str, told: str) -> None:
    assert layout.sentence(words) == told
