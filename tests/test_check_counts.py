"""How often each formula is checked, counted from tests/published, as the page of methods shows it.

The package cannot read the tests, so the counts are kept in billet/data/check_counts.toml. When rows
change, write them anew from the root of the repository with

    python tests/test_check_counts.py
"""

import tomllib
from collections import Counter
from pathlib import Path

PUBLISHED = Path(__file__).parent / "published"
COUNTS = Path(__file__).parent.parent / "billet" / "data" / "check_counts.toml"
HEADING = """\
# How many rows of tests/published hold each formula, by how the expected figure was seen. `printed` of
# them were published as figures; the others are published equations worked out a second time.
# Written by `python tests/test_check_counts.py`; not for editing.
"""
FIELDS = ("printed", "print", "transcription", "memory", "computed")


def count_checks() -> dict[str, dict[str, int]]:
    """Counts by formula, in alphabetical order: one for each way of seeing, and `printed`."""
    counts: dict[str, Counter[str]] = {}
    for path in sorted(PUBLISHED.glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8")).get("row", []):
            counter = counts.setdefault(row["formula"], Counter())
            counter[row["seen"]] += 1
            counter["printed"] += bool(row.get("printed", False))
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
    rows = sum(p.read_text(encoding="utf-8").count("[[row]]") for p in PUBLISHED.glob("*.toml"))
    counts = count_checks()
    assert rows == sum(n for fields in counts.values() for f, n in fields.items() if f != "printed")
    assert rows > 300


if __name__ == "__main__":
    COUNTS.write_text(as_toml(count_checks()), encoding="utf-8")
