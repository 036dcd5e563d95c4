"""The charts of tempered martensite are remembered; what was measured for them says how well."""

import tomllib
from pathlib import Path

import numpy as np

from billet.formulas.tempering import one_hour_temperature_c, tempered_martensite_hv
from billet.published import REGISTRY

FILE = Path(__file__).parent / "published" / "tempering.toml"
MEASURED = "grange-baughman-1956"


def off_hrc() -> list[float]:
    """The bare model less what Grange and Baughman measured, other times by Hollomon and Jaffe. [HRC]"""
    found: list[float] = []
    for row in tomllib.loads(FILE.read_text(encoding="utf-8"))["temper"]:
        if row["source"] != MEASURED:
            continue
        at_c, hrc = np.array(row["points"], dtype=float).T
        wt = {element: np.full(at_c.shape, value) for element, value in row["wt"].items()}
        hv = tempered_martensite_hv(wt, one_hour_temperature_c(at_c, row["minutes"]))
        found += list((100.0 * hv - 14500.0) / (hv + 223.0) - hrc)
    return found


def test_the_remembered_charts_lie_as_near_to_what_was_measured_as_their_note_says() -> None:
    off = np.array(off_hrc())
    assert len(off) == 66
    assert abs(float(off.mean()) - 0.32) < 0.01 and abs(float(off.std()) - 1.79) < 0.01
    note = REGISTRY["tempering.tempered_martensite_hv"].note
    assert "66" in note and "1.8 HRC" in note


def test_carbon_steels_alone_lie_nearer() -> None:
    assert float(np.std(off_hrc()[:37])) < 1.31
