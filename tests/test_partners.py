"""Which steel beside which: level carbon, verdicts apart, and what the pairs of the craft come to."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from billet import (
    BilletError,
    OutOfDomain,
    UnknownSteel,
    find_steel,
    partner_question,
    partner_table,
    partners,
    plan,
    steels,
)
from billet.composition import Composition
from billet.contract.partners import VERDICTS, PartnerRow
from billet.diffusion.activity_law import austenite_law
from billet.diffusion.profile import gather_metals
from billet.tables.wish import wish_numbers
from billet.wish.levelling import activity_curves, levelled_wt

LEVEL_C = 1100.0


def beside(first: str, second: str, **asked: Any) -> PartnerRow:
    return next(row for row in partners(first, partner_question(**asked)).rows if row.steel == second)


plain = st.builds(
    lambda c, mn, si, ni, cr: Composition({"C": c, "Mn": mn, "Si": si, "Ni": ni, "Cr": cr}),
    st.floats(0.05, 1.4), st.floats(0.1, 2.0), st.floats(0.1, 1.8), st.floats(0.0, 4.0), st.floats(0.0, 1.8),
)  # fmt: skip


@given(plain, plain, st.floats(0.1, 0.9))
@settings(max_examples=40, deadline=None)
def test_level_carbon_has_one_activity_and_none_is_lost(a: Composition, b: Composition, share: float) -> None:
    here, there = np.array([0]), np.array([1])
    first, second = (float(v[0]) for v in levelled_wt(activity_curves([a, b], LEVEL_C), here, there, share))
    metals = gather_metals({"a": a, "b": b}, {"a": 7.85, "b": 7.85})
    law = austenite_law(metals, LEVEL_C, {})
    held = [steel.with_carbon(c).carbon_ratio for steel, c in ((a, first), (b, second))]
    activity = law.activity(np.array(held), np.array([0, 1]))
    assert activity[0] == pytest.approx(activity[1], rel=2e-3)
    metal = (share * (100.0 - a["C"]), (1.0 - share) * (100.0 - b["C"]))
    before = metal[0] * a["C"] / (100.0 - a["C"]) + metal[1] * b["C"] / (100.0 - b["C"])
    after = metal[0] * first / (100.0 - first) + metal[1] * second / (100.0 - second)
    assert after == pytest.approx(before, rel=2e-3)


def test_steels_of_one_metal_meet_in_the_middle() -> None:
    low, high = Composition({"C": 0.4, "Mn": 0.5}), Composition({"C": 1.0, "Mn": 0.5})
    first, second = levelled_wt(activity_curves([low, high], LEVEL_C), np.array([0]), np.array([1]), 0.5)
    assert first[0] == pytest.approx(0.7, abs=0.003) and second[0] == pytest.approx(0.7, abs=0.003)


@pytest.mark.parametrize(("first", "second"), [("1084", "75Ni8"), ("52100", "75Ni8"), ("1095", "X46Cr13")])
def test_a_long_sealed_fire_levels_the_same(first: str, second: str) -> None:
    """The replay of the forging, which knows nothing of pairs, ends where the pair is levelled to."""
    density = [find_steel(name).density_g_cm3 for name in (first, second)]
    fire = {"do": "weld", "temperature_c": LEVEL_C, "minutes": 600, "atmosphere": "sealed", "flux": False}
    report = plan(
        {
            "format": 1,
            "title": "thin",
            "steels": {"a": first, "b": second},
            "stack": {
                "width_mm": 40,
                "length_mm": 100,
                "pattern": ["a", "b"],
                "count": 40,
                "thickness_mm": {"a": 0.2, "b": 0.2 * density[0] / density[1]},
            },
            "steps": [fire],
        }
    ).report
    held = {row.steel: row.carbon_wt.mean for row in report.steels if row.carbon_wt is not None}
    row = beside(first, second)
    # Seams do not stop quite level in ten hours where chromium holds the carbon.
    near = 0.06 if second == "X46Cr13" else 0.01
    assert held["a"] == pytest.approx(row.carbon_wt[first], abs=near)
    assert held["b"] == pytest.approx(row.carbon_wt[second], abs=near)


# Pairs that share a window by the ranges of their grades; most of those ranges are remembered.
@pytest.mark.parametrize(
    ("first", "second", "low_c", "high_c"),
    [
        ("1075", "75Ni8", 802, 830), ("1084", "75Ni8", 800, 830), ("C75S", "75Ni8", 800, 820),
        ("90MnCrV8", "75Ni8", 800, 820), ("O1", "75Ni8", 800, 816), ("5160", "75Ni8", 815, 830),
        ("80CrV2", "75Ni8", 815, 830), ("52100", "5160", 815, 845), ("51CrV4", "80CrV2", 820, 845),
        ("X46Cr13", "440C", 1010, 1050), ("X50CrMoV15", "440B", 1000, 1050),
    ],
)  # fmt: skip
def test_pairs_of_the_craft_harden_in_their_window(
    first: str, second: str, low_c: float, high_c: float
) -> None:
    hardens = beside(first, second).hardens
    assert hardens.verdict in ("good", "works") and hardens.set_point_c is not None
    assert low_c - 10.0 <= hardens.set_point_c <= high_c + 10.0


@pytest.mark.parametrize(
    ("first", "second"),
    [("1084", "X46Cr13"), ("1095", "A2"), ("1095", "440C"), ("1084", "X5CrNi18-10"), ("100Cr6", "X46Cr13")],
)
def test_pairs_without_a_shared_heat_get_none(first: str, second: str) -> None:
    row = beside(first, second)
    assert row.hardens.verdict in ("no", "unknown") and row.hardens.window_c is None
    assert row.oil.medium is None


def test_chromium_drains_its_neighbour_and_says_so() -> None:
    row = beside("1084", "X46Cr13")
    assert row.carbon_wt["1084"] < 0.4 < 0.9 < row.carbon_wt["X46Cr13"]
    assert "pair-drained" in {reason.code for reason in row.hardens.reasons}
    assert {"pair-weld-chromium"} <= {reason.code for reason in row.weld.reasons}


def test_what_stays_makes_the_contrast() -> None:
    strong, faint = beside("1084", "75Ni8").contrast, beside("1084", "1095").contrast
    assert (strong.verdict, strong.element) == ("good", "Ni")
    assert strong.difference_wt == pytest.approx(
        abs(find_steel("75Ni8").nominal["Ni"] - find_steel("1084").nominal["Ni"])
    )
    assert faint.verdict == "no"


def test_a_rougher_fire_makes_no_pair_better() -> None:
    order = ("good", "works", "no", "unknown")
    fine, rough = (partners("1084", partner_question(half_width_k=k)).rows for k in (2.0, 40.0))
    for a, b in zip(fine, rough, strict=True):
        assert order.index(b.hardens.verdict) >= order.index(a.hardens.verdict)


def test_own_oils_come_first_and_too_fast_a_one_is_no_good() -> None:
    row = beside("1084", "O1", oils=("fast oil",))
    assert row.oil.own == "fast oil" and row.oil.reasons[0].code.startswith("pair-own-oil")
    assert row.oil.verdict == "works" and "O1" in str(row.oil.because)
    assert beside("1084", "75Ni8", oils=("medium oil", "fast oil")).oil.own == "fast oil"


def test_nickel_stays_soft_and_never_turns() -> None:
    row = beside("1084", "Ni99.2")
    assert row.hardens.verdict == "works" and row.ms.verdict == "works"
    assert {"pair-one-soft"} <= {reason.code for reason in row.hardens.reasons}
    assert {"pair-ms-never"} <= {reason.code for reason in row.ms.reasons}


def test_an_analysis_has_every_grade_as_partner() -> None:
    found = partners({"C": 1.25, "Mn": 0.3, "Si": 0.2})
    assert {row.steel for row in found.rows} == {steel.designation for steel in steels()}
    nickel = next(row for row in found.rows if row.steel == "75Ni8")
    assert 0.9 < nickel.carbon_wt["75Ni8"] < nickel.carbon_wt["own analysis"] < 1.1


def test_every_verdict_has_a_reason_in_words_and_there_is_no_score() -> None:
    found = partners("52100")
    for row in found.rows:
        for name in VERDICTS:
            judged = getattr(row, name)
            assert judged.reasons and len(judged.because) == len(judged.reasons), (row.steel, name)
            assert all(text and "{" not in text for text in judged.because)
        assert row.weld.forge_c is None or row.weld.forge_c[1] <= (row.weld.burns_c or 0.0), row.steel
        assert row.ms.apart_k is None or row.ms.apart_band_k == pytest.approx(
            (max(row.ms.apart_k - 52.33, 0.0), row.ms.apart_k + 52.33), abs=0.01
        )
    keys = set(found.to_dict()["rows"][0])
    assert keys == {"steel", "number", "carbon_wt", *VERDICTS, "ms_apart_k"}


def test_the_table_of_all_pairs_is_the_same_as_that_of_one() -> None:
    table = partner_table(partner_question())
    count = len(table.steels)
    place = table.steels.index("1084")
    own = {row.steel: row for row in partners("1084").rows}
    for name in VERDICTS:
        told = table.verdicts[name]
        assert all(told[i][j] == told[j][i] for i in range(count) for j in range(count))
        assert all(told[i][i] is None for i in range(count))
        for j, other in enumerate(table.steels):
            if j != place:
                assert told[place][j] == getattr(own[other], name).verdict, (name, other)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"share": 0.0}, "share"), ({"share": 0.99}, "share"), ({"half_width_k": -1.0}, "half_width_k"),
        ({"half_width_k": float("nan")}, "half_width_k"), ({"section_mm": 0.1}, "section_mm"),
        ({"fire": "sun"}, "method"), ({"oils": ("lard",)}, "oil"), ({"oils": ("1",)}, "oil"),
        ({"oils": ("fast oil",) * 7}, "oils"), ({"fire": "kiln_ordinary", "half_width_k": 5.0}, "not both"),
    ],
)  # fmt: skip
def test_what_cannot_be_asked_is_refused(asked: dict[str, Any], told: str) -> None:
    with pytest.raises(BilletError, match=told):
        partner_question(**asked)


def test_no_steel_no_partners() -> None:
    with pytest.raises(UnknownSteel):
        partners("unobtainium")
    with pytest.raises(OutOfDomain):
        partners({"C": -1.0})
    with pytest.raises(BilletError, match="without carbon"):
        partners({"Ni": 99.0})


def test_numbers_of_partners() -> None:
    told = wish_numbers("partners")
    assert told == {
        "level_c": 1100.0, "usual_share": 0.5, "share_limits": [0.05, 0.95], "section_mm": 3.0,
        "section_limits_mm": [1.0, 30.0], "edge_mm": 1.0, "forging_good_k": 150.0, "forging_works_k": 50.0,
        "most_oils": 6, "drained_share": 0.6, "basis": "own", "note": told["note"],
    }  # fmt: skip
