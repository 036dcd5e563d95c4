"""The model of tempering against hardness that others printed, and the band it tells."""

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from temper_residuals import ADVISED_TO_C, Residual, Spread, analysis, inside, residuals, spread

from billet.hardening.tempered_hardness import tempered_hrc, usual_quenched_hrc
from billet.tables.steels import find_steel
from billet.tables.tempering import temper_curves

FILE = Path(__file__).parent / "published" / "tempering.toml"
TABLE = tomllib.loads(FILE.read_text(encoding="utf-8"))
NINE_IN_TEN = 0.9


def found(far: bool, advised: bool) -> list[Residual]:
    return [r for r in residuals(far) if not advised or r.temper_c <= ADVISED_TO_C]


@pytest.mark.parametrize("far", [False, True], ids=["near", "far"])
@pytest.mark.parametrize("advised", [False, True], ids=["all", "to 230 C"])
def test_nine_of_ten_printed_points_lie_inside_the_band(far: bool, advised: bool) -> None:
    assert inside(found(far, advised)) >= NINE_IN_TEN


# Computed by tests/temper_residuals.py: count, mean, standard deviation, nine in ten, worst.
PINNED = {
    ("near", "all"): Spread(185, 0.13, 0.94, 1.46, 4.40),
    ("near", "to 230 C"): Spread(69, 0.17, 0.76, 1.23, 2.60),
    ("far", "all"): Spread(173, 0.14, 1.65, 2.84, 6.19),
    ("far", "to 230 C"): Spread(62, 0.14, 1.22, 1.87, 3.25),
}


@pytest.mark.parametrize("key", PINNED, ids=lambda key: "-".join(key))
def test_errors_are_those_we_report(key: tuple[str, str]) -> None:
    now, pinned = spread(found(key[0] == "far", key[1] != "all")), PINNED[key]
    assert now.count == pinned.count
    for name in ("mean", "sd", "nine_in_ten", "worst"):
        assert getattr(now, name) == pytest.approx(getattr(pinned, name), abs=0.006), name


@pytest.mark.parametrize("row", TABLE["least"], ids=lambda row: row["steel"])
def test_reaches_what_the_standard_asks_after_180_c(row: dict[str, Any]) -> None:
    """ISO 4957: least hardness after one hour at 180 C, of a piece quenched as usual."""
    wt = analysis(row["wt"])
    assert float(tempered_hrc(wt, usual_quenched_hrc(wt), row["temper_c"], 60.0)[0]) >= row["hrc"]


@pytest.mark.parametrize("row", TABLE["band"], ids=lambda row: row["steel"])
def test_lies_in_printed_ranges(row: dict[str, Any]) -> None:
    quenched = np.array([float(row["quenched_hrc"])])
    for temper_c, low, high in row["points"]:
        hrc = float(tempered_hrc(analysis(row["wt"]), quenched, temper_c, row["minutes"])[0])
        assert low <= hrc <= high


def test_every_printed_row_names_its_origin() -> None:
    rows = [*TABLE["temper"], *TABLE["least"], *TABLE["band"]]
    assert all(row["source"] and row["seen"] in {"print", "memory"} for row in rows)
    assert len(TABLE["least"]) >= 10


def test_the_curves_of_the_model_are_the_printed_ones() -> None:
    """A slip of a column in the data would not be seen by a model that is moved to it."""
    printed = [(row["steel"], row["minutes"], [tuple(p) for p in row["points"]]) for row in TABLE["temper"]]
    held = [(c.name, c.minutes, list(c.points)) for c in temper_curves()]
    assert held == printed


def test_the_bearing_card_is_aligned_from_its_end() -> None:
    card = next(row for row in find_steel("100Cr6").hardening if row.source == "lucefin-100cr6")
    hardness = {temper_c: hrc for hrc, temper_c in card.hardness}
    assert [hardness[t] for t in (150.0, 200.0, 250.0, 300.0, 350.0, 400.0)] == [63, 62, 59, 57, 54, 51]


# Twice two hours at 200 C, from what the smith gets out of the quench: the range a smith would expect, with
# half a point on either side (common practice, no source). 75Ni8 stands a point higher than practice has it:
# Grange and Baughman measured 59.2 at 0.65 and 61.3 at 0.82 % C after an hour at 204 C; nickel takes nothing.
EXPECTED = {
    "1084": (64.0, 58.0, 60.0), "1095": (64.0, 59.0, 61.0), "5160": (63.0, 57.0, 59.0),
    "52100": (64.5, 60.0, 62.0), "O1": (64.0, 60.0, 62.0), "80CrV2": (64.5, 58.0, 60.0),
    "75Ni8": (64.0, 58.0, 60.0), "1045": (59.5, 53.0, 55.0),
}  # fmt: skip


@pytest.mark.parametrize("name", EXPECTED)
def test_is_what_a_smith_would_expect(name: str) -> None:
    quenched, low, high = EXPECTED[name]
    wt = analysis(find_steel(name).nominal.wt)
    hrc = float(tempered_hrc(wt, np.array([quenched]), 200.0, 240.0)[0])
    assert low - 0.5 <= hrc <= high + 0.5
