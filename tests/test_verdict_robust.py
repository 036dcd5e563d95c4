"""Which verdicts of the usual pairs hang on the one published row that is worked with.

Every other published row of a grade (outliers left out) takes the place of the working one, for the same
carbon. No row may turn a usual pair into one without a window; where a row turns shared into narrow, the
pair is written down here, so that a change of the data is seen.
"""

import dataclasses
from functools import cache

import pytest

from billet import parse_recipe
from billet.diffusion.simulation import simulate_diffusion
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.hardening.austenitising_window import steel_window
from billet.hardening.decision import HardeningDecision
from billet.hardening.heat_treatment import answer
from billet.hardening.shared_window import shared_window
from billet.tables.steels import HardeningRow, Steel
from tests.recipe_samples import good

Changed = dict[tuple[str, str, tuple[float, float]], str]

# The pair, and each row that changes its verdict: grade, source, range in C, and the verdict it gives.
HANGS_ON_THE_ROW: dict[tuple[str, str], Changed] = {
    ("1084", "75Ni8"): {},
    ("1075", "75Ni8"): {},
    ("1095", "75Ni8"): {},
    ("C75S", "75Ni8"): {},
    ("O1", "75Ni8"): {},
    ("52100", "75Ni8"): {("52100", "lucefin-100cr6", (830.0, 870.0)): "narrow"},
    ("100Cr6", "75Ni8"): {
        ("100Cr6", "lucefin-100cr6", (830.0, 870.0)): "narrow",
        ("100Cr6", "en-iso-683-17", (830.0, 870.0)): "narrow",
    },
    ("80CrV2", "75Ni8"): {("80CrV2", "en-10132-4", (840.0, 870.0)): "narrow"},
    ("5160", "52100"): {
        ("5160", "craft-notes", (820.0, 845.0)): "narrow",
        ("5160", "distributor-sheets", (820.0, 845.0)): "narrow",
        ("5160", "mill-sheets", (830.0, 860.0)): "narrow",
        ("52100", "lucefin-100cr6", (830.0, 870.0)): "narrow",
    },
    ("51CrV4", "80CrV2"): {},
    ("90MnCrV8", "75Ni8"): {("90MnCrV8", "iso-4957", (780.0, 800.0)): "narrow"},
}


@cache
def judged(pair: tuple[str, str]) -> HardeningDecision:
    """What the plan of the sample bar decides for two steels."""
    recipe = parse_recipe(good() | {"steels": dict(zip(("dark", "bright"), pair, strict=True))})
    forged = forge(recipe, build_stack(recipe))
    return answer(recipe, forged, simulate_diffusion(recipe, forged, 1)).judged


def worked_with(grade: Steel, row: HardeningRow) -> Steel:
    """The grade with another of its rows as the working one."""
    rows = tuple(dataclasses.replace(other, working=other is row) for other in grade.hardening)
    return dataclasses.replace(grade, hardening=rows)


def verdicts(pair: tuple[str, str]) -> Changed:
    """The verdict with every good row of either grade in place of the working one."""
    found: Changed = {}
    layers = judged(pair).layers
    for place, layer in enumerate(layers):
        assert layer.grade is not None
        for row in layer.grade.hardening:
            if row.outlier or row.window_c is None:
                continue
            other = dataclasses.replace(layer, grade=worked_with(layer.grade, row))
            mixed = (*layers[:place], other, *layers[place + 1 :])
            agreement = shared_window(mixed, tuple(steel_window(one) for one in mixed))
            found[layer.grade.designation, row.source, row.window_c] = agreement.verdict
    return found


@pytest.mark.parametrize("pair", HANGS_ON_THE_ROW, ids="|".join)
def test_the_usual_pairs_are_shared_and_the_rows_that_say_otherwise_are_known(pair: tuple[str, str]) -> None:
    assert judged(pair).agreement.verdict == "shared"
    assert {row: v for row, v in verdicts(pair).items() if v != "shared"} == HANGS_ON_THE_ROW[pair]


@pytest.mark.parametrize("pair", HANGS_ON_THE_ROW, ids="|".join)
def test_no_published_row_leaves_a_usual_pair_without_a_window(pair: tuple[str, str]) -> None:
    rows = verdicts(pair)
    assert rows and "none" not in rows.values()
