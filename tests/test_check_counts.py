"""How often each formula is checked, counted from tests/published and tests/equations.

The package cannot read the tests, so the counts are kept in billet/data/check_counts.toml. When rows
change, write them anew from the root of the repository with

    python tests/test_check_counts.py
"""

from collections import Counter
from pathlib import Path

from rows_of_figures import EQUATIONS, PUBLISHED, rows

COUNTS = Path(__file__).parent.parent / "billet" / "data" / "check_counts.toml"
HEADING = """\
# How many figures each formula is held to: `printed` by others, `missed` of them outside the tolerance,
# `again` equations worked out a second time.
# Written by `python tests/test_check_counts.py`; not for editing.
"""
FIELDS = ("printed", "missed", "again")


def count_checks() -> dict[str, dict[str, int]]:
    """Counts by formula, in alphabetical order."""
    counts: dict[str, Counter[str]] = {}
    for row in rows(PUBLISHED):
        counter = counts.setdefault(row["formula"], Counter())
        counter["printed"] += 1
        counter["missed"] += "ours" in row
    for row in rows(EQUATIONS):
        counts.setdefault(row["formula"], Counter())["again"] += 1
    return {key: {field: counts[key][field] for field in FIELDS} for key in sorted(counts)}


def as_toml(counts: dict[str, dict[str, int]]) -> str:
    """The text of the file."""
    blocks = [
        f'\n["{key}"]\n' + "".join(f"{field} = {number}\n" for field, number in fields.items() if number)
        for key, fields in counts.items()
    ]
    return HEADING + "".join(blocks)


def test_counts_in_the_data_are_up_to_date() -> None:
    stored = COUNTS.read_text(encoding="utf-8")
    assert stored == as_toml(count_checks()), "renew with: python tests/test_check_counts.py"


def test_every_row_is_counted_once() -> None:
    counts = count_checks().values()
    assert sum(fields["printed"] for fields in counts) == len(rows(PUBLISHED))
    assert sum(fields["again"] for fields in counts) == len(rows(EQUATIONS)) > 300


if __name__ == "__main__":
    COUNTS.write_text(as_toml(count_checks()), encoding="utf-8")
