"""The tool that makes numbers and branches wrong: every change stands, is well formed, and is taken back."""

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from tests.mutants.copies import Copy, failed_test
from tests.mutants.places import ROOT, Mutant, all_mutants, moved
from tests.mutants.sample import SHARES, drawn


@pytest.fixture(scope="module")
def mutants() -> list[Mutant]:
    return all_mutants()


def test_every_area_has_changes_and_every_change_its_own_name(mutants: list[Mutant]) -> None:
    counted = Counter(m.area for m in mutants)
    assert set(counted) == set(SHARES)
    assert min(counted.values()) > 100
    assert len({m.name for m in mutants}) == len(mutants)


def test_a_change_leaves_a_file_that_can_be_read_and_says_something_else(mutants: list[Mutant]) -> None:
    for m in mutants[::23]:
        text = (ROOT / m.file).read_text(encoding="utf-8")
        assert text[m.start : m.end] == m.old != m.new, m.name
        changed = text[: m.start] + m.new + text[m.end :]
        if m.file.endswith(".toml"):
            assert tomllib.loads(changed) != tomllib.loads(text), m.name
        else:
            compile(changed, m.file, "exec")


def test_the_sample_is_drawn_alike_whatever_else_is_in_the_tree(mutants: list[Mutant]) -> None:
    first = drawn(mutants)
    assert Counter(m.area for m in first) == SHARES
    fewer = [m for m in mutants if m in first or m.number % 2]
    assert drawn(reversed(fewer)) == first


@pytest.mark.parametrize(
    ("old", "key", "new"),
    [
        ("830.0", "harden_c", "845.0"),
        ("830", "bath_c", "845"),
        ("0.45", "", "0.495"),
        ("4", "cycles", "5"),
        ("0.0", "sealed", "0.1"),
        ("-10", "", "-9"),
    ],
)
def test_a_number_becomes_another_of_its_kind(old: str, key: str, new: str) -> None:
    assert moved(old, key) == new


def test_a_change_is_taken_back(tmp_path: Path, mutants: list[Mutant]) -> None:
    one = mutants[0]
    text = (ROOT / one.file).read_text(encoding="utf-8")
    (tmp_path / one.file).parent.mkdir(parents=True)
    (tmp_path / one.file).write_text(text, encoding="utf-8")
    copy = Copy.__new__(Copy)
    copy.folder = tmp_path
    with copy.changed(one):
        assert (tmp_path / one.file).read_text(encoding="utf-8") != text
    assert (tmp_path / one.file).read_text(encoding="utf-8") == text


def test_the_first_failed_test_is_read_from_what_pytest_says() -> None:
    assert (
        failed_test("F\nFAILED tests/test_a.py::test_b[x-1] - assert 1 == 2\n")
        == "tests/test_a.py::test_b[x-1]"
    )
    assert failed_test("1 passed") == ""
