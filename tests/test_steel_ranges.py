"""Ranges printed elsewhere must stand in the library, and pairs must meet as those ranges do."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from billet.tables.sources import sources
from billet.tables.steels import HardeningRow, Steel, find_steel, steels

FILE = Path(__file__).parent / "published" / "ranges" / "hardening_ranges.toml"
REMEMBERED = Path(__file__).parent / "remembered" / "hardening_ranges.toml"
PRINTED: list[dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["range"]
TABLE = tomllib.loads(REMEMBERED.read_text(encoding="utf-8"))
RANGES: list[dict[str, Any]] = [*PRINTED, *TABLE["range"]]
PAIRS: list[dict[str, Any]] = TABLE["pair"]
LIMITS: list[dict[str, Any]] = tomllib.loads(
    FILE.with_name("analysis_limits.toml").read_text(encoding="utf-8")
)["limits"]
HARDNESS_TOLERANCE_HRC = 1.5


def printed_c(row: dict[str, Any]) -> tuple[float, float]:
    value = row["harden_c"]
    return (value, value) if isinstance(value, int) else (value[0], value[1])


def same_range(found: HardeningRow, row: dict[str, Any]) -> bool:
    if found.harden_c is None or (found.source, found.seen) != (row["source"], row["seen"]):
        return False
    return (found.harden_c[0], found.harden_c[2]) == printed_c(row)


def label(row: dict[str, Any]) -> str:
    return f"{row['steel']}-{row['source']}"


@pytest.mark.parametrize("row", RANGES, ids=label)
def test_printed_range_stands_in_the_library(row: dict[str, Any]) -> None:
    rows = [r for r in find_steel(row["steel"]).hardening if same_range(r, row)]
    assert len(rows) == 1
    assert row["medium"] in rows[0].medium
    hardness = {temper_c: hrc for hrc, temper_c in rows[0].hardness}
    printed = [(None, row["as_quenched_hrc"])] if "as_quenched_hrc" in row else []
    for temper_c, hrc in [*printed, *row.get("tempered", [])]:
        assert hardness[temper_c] == pytest.approx(hrc, abs=HARDNESS_TOLERANCE_HRC, rel=0.0)


@pytest.mark.parametrize("row", RANGES, ids=label)
def test_printed_range_names_its_origin(row: dict[str, Any]) -> None:
    assert row["source"] in sources()
    assert row["seen"] == ("print" if row in PRINTED else "memory")


@pytest.mark.parametrize("pair", PAIRS, ids=lambda p: "-".join(p["steels"]))
def test_pairs_meet_as_their_ranges_do(pair: dict[str, Any]) -> None:
    start = pair.get("start", "normalised")
    rows = [find_steel(name).working_from(start) for name in pair["steels"]]
    windows = [row.window_c for row in rows if row is not None]
    assert len(windows) == 2
    low = max(w[0] for w in windows if w)
    high = min(w[1] for w in windows if w)
    if pair["overlap_c"]:
        assert [low, high] == pair["overlap_c"]
    else:
        assert low - high == pair["gap_k"]


def test_the_deep_gap_of_the_key_pairs_is_not_hidden_by_the_hull() -> None:
    plain, stainless = find_steel("1095").published_envelope_c, find_steel("440C").published_envelope_c
    assert plain is not None and stainless is not None
    assert plain[1] < stainless[0] - 100.0


@pytest.mark.parametrize("row", LIMITS, ids=label)
def test_printed_limits_of_analysis_stand_in_the_library(row: dict[str, Any]) -> None:
    steel = find_steel(row["steel"])
    assert steel.source == row["source"] and steel.seen in {"print", "mixed"}
    for element, (low, high) in row["wt"].items():
        assert (steel.low.get(element, 0), steel.high[element]) == (low, high), element


@pytest.mark.parametrize("steel", steels(), ids=lambda s: s.id)
def test_no_carbon_band_is_wider_than_a_grade_can_be(steel: Steel) -> None:
    """Only W1, W2 (ordered by a suffix) and 420 (no upper limit) span more than 0.25 %."""
    if steel.designation not in {"W1", "W2", "420"}:
        assert steel.high["C"] - steel.low.get("C", 0.0) <= 0.25 + 1e-9
