"""What the temper decides: rows, which layer governs, the hardness a recipe asks for, the words."""

import itertools
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from billet import parse_recipe, plan
from billet.contract.values import Reason
from billet.hardening.furnace_programme import temper_temperature_c
from billet.hardening.temper import edge_hrc, temper_decision, temperature_for_hrc
from billet.hardening.temper_types import TemperDecision
from billet.report.temper import temper_row
from billet.report.words import said
from billet.report.words.temper import WORDS
from billet.tables.steels import find_steel
from billet.tables.tempering import temper_numbers

MINUTES = 240.0


@dataclass(frozen=True)
class Layer:
    name: str
    wt: dict[str, np.ndarray]
    weight: np.ndarray
    edge: np.ndarray | None = None

    @property
    def at_edge(self) -> np.ndarray:
        return self.weight if self.edge is None else self.edge


def layer(
    name: str, weight: float = 1.0, samples: int = 1, at_edge: float | None = None, **changed: float
) -> Layer:
    wt = {**find_steel(name).nominal.wt, **changed}
    edge = np.full(samples, weight if at_edge is None else at_edge)
    return Layer(name, {e: np.full(samples, v) for e, v in wt.items()}, np.full(samples, weight), edge)


def quenched(**hrc: float) -> dict[str, np.ndarray]:
    return {name.lstrip("_"): np.array([value]) for name, value in hrc.items()}


def at(decided: TemperDecision, temperature_c: float) -> dict[str, float]:
    step = next(s for s in decided.table if s.temperature_c == temperature_c)
    return {row.steel: row.value for row in step.per_steel}


def test_every_row_carries_its_time() -> None:
    decided = temper_decision((layer("1084"),), quenched(_1084=64.0))
    assert {step.minutes for step in decided.table} == {240.0}
    assert (decided.cycles, decided.minutes) == (2, 120.0)
    hour = temper_decision((layer("1084"),), quenched(_1084=64.0), cycles=1, minutes=60.0)
    assert {step.minutes for step in hour.table} == {60.0}
    assert at(hour, 200.0)["1084"] > at(decided, 200.0)["1084"] + 0.5


def test_the_softest_hardening_layer_of_the_edge_governs() -> None:
    pair = (layer("1095"), layer("1045"))
    hrc = quenched(_1095=64.0, _1045=59.0)
    assert temper_decision(pair, hrc).governs == "1045"
    clad = temper_decision((layer("1095"), layer("1045", weight=0.0)), hrc)
    assert clad.governs == "1095"
    assert set(at(clad, 200.0)) == {"1095"}
    sides = temper_decision((layer("1095"), layer("1045", at_edge=0.0)), hrc)
    assert sides.governs == "1095"
    assert set(at(sides, 200.0)) == {"1095", "1045"}


def test_a_layer_fades_out_of_the_edge_without_a_step() -> None:
    hrc = quenched(_1095=64.0, _1045=59.0)
    weights = np.linspace(0.001, 1.0, 200)
    edge = [
        float(edge_hrc((layer("1095"), layer("1045", weight=float(w))), hrc, 200.0, MINUTES)[0])
        for w in weights
    ]
    assert max(abs(b - a) for a, b in itertools.pairwise(edge)) < 0.11
    assert edge[0] == pytest.approx(at(temper_decision((layer("1095"),), hrc), 200.0)["1095"])


@pytest.mark.parametrize("temperature_c", [155.0, 180.0, 205.0, 228.0, 260.0])
def test_the_wanted_hardness_is_the_same_function_turned_round(temperature_c: float) -> None:
    pair, hrc = (layer("1084"), layer("75Ni8")), quenched(_1084=64.0, _75Ni8=64.0)
    edge = float(edge_hrc(pair, hrc, temperature_c, MINUTES)[0])
    assert float(temperature_for_hrc(pair, hrc, edge, MINUTES)[0]) == pytest.approx(temperature_c, abs=0.7)
    decided = temper_decision(pair, hrc, temper_to_hrc=edge).wanted
    assert decided is not None and decided.temperature_c == pytest.approx(temperature_c, abs=1.0)
    assert min(row.value for row in decided.per_steel) == pytest.approx(edge, abs=0.1)
    assert (decided.reason is None) == (temperature_c <= 230.0)


def test_many_bars_are_turned_round_at_once() -> None:
    many = Layer(
        "dark", {"C": np.linspace(0.7, 0.9, 50), "Mn": np.full(50, 0.7)}, np.ones(50)
    )  # fmt: skip
    found = temperature_for_hrc((many,), {"dark": np.full(50, 65.0)}, 59.0, MINUTES)
    assert np.all(np.diff(found) > 0.0)
    back = edge_hrc((many,), {"dark": np.full(50, 65.0)}, found, MINUTES)
    assert back == pytest.approx(np.full(50, 59.0), abs=0.03)


@pytest.mark.parametrize(
    ("hrc", "code", "words"),
    [
        (64.0, "temper-wanted-too-hard", "already down to"),
        (40.0, "temper-wanted-too-soft", "still at"),
    ],
)
def test_out_of_reach_is_said(hrc: float, code: str, words: str) -> None:
    wanted = temper_decision((layer("1084"),), quenched(_1084=64.0), temper_to_hrc=hrc).wanted
    assert wanted is not None and wanted.temperature_c is None and wanted.reason is not None
    assert wanted.reason.code == code
    assert words in said(wanted.reason)


def test_brittle_tempers_are_struck_with_the_reason() -> None:
    decided = temper_decision((layer("1084"),), quenched(_1084=64.0))
    struck = {s.temperature_c: s.why_not for s in decided.table if s.why_not is not None}
    assert min(struck) == 260.0 and 230.0 not in struck
    assert {reason.code for reason in struck.values()} == {"temper-brittle"}
    row = temper_row(decided)
    told = next(step.why_not for step in row.table if step.temperature_c == 260.0)
    assert told is not None and "turns brittle" in told and "from just above 230" in told
    stainless = temper_decision((layer("440C"),), {})
    assert all(step.why_not is None for step in stainless.table)


def test_the_marked_temper_moves_a_row_at_most() -> None:
    """Silicon moves the top of what is advised up, and the row nearest to the middle follows it."""
    rows = temper_numbers("advised")["shown_c"]
    marked = []
    for si in np.linspace(0.2, 2.6, 49):
        decided = temper_decision((layer("1084", C=0.7, Si=float(si)),), quenched(_1084=63.0))
        at_c = temper_temperature_c(decided)
        assert at_c is not None and decided.advised_c is not None
        middle_c = 0.5 * sum(decided.advised_c)
        assert abs(at_c - middle_c) == min(abs(c - middle_c) for c in rows)
        marked.append(rows.index(at_c))
    assert set(np.diff(marked)) == {0, 1}


def test_a_high_alloy_steel_that_nobody_printed_has_no_figure_and_says_why() -> None:
    speed = Layer(
        "fast",
        {e: np.array([v]) for e, v in {"C": 0.85, "Cr": 4.2, "W": 6.3, "Mo": 5.0, "V": 1.9}.items()},
        np.ones(1),
    )
    decided = temper_decision((layer("1095"), speed), quenched(_1095=64.0))
    assert decided.not_told == ("fast",)
    assert set(at(decided, 200.0)) == {"1095"}
    assert any("no figure for fast" in note for note in temper_row(decided).notes)
    alone = temper_decision((speed,), {}, temper_to_hrc=60.0)
    assert alone.table == () and alone.wanted is not None
    assert alone.wanted.reason == Reason("temper-wanted-unknown", {"hrc": 60.0})


def test_nothing_hardened_is_nothing_to_temper() -> None:
    decided = temper_decision((layer("1018", weight=0.0),), {})
    assert decided.table == () and decided.governs is None
    assert temper_row(decided).because == "nothing is hardened, so there is nothing to temper"


def test_every_code_has_words_and_every_figure_comes_from_its_values() -> None:
    values = {
        "below_c": 60.0, "within_min": 60.0, "cycles": 2, "minutes": 120.0, "steel": "dark",
        "curves": ("1075",), "remembered": False, "cr_wt": 4.0, "mo_w_v_wt": 3.0, "low_c": 230.0,
        "high_c": 370.0, "top_c": 230.0, "hrc": 60.0, "at_c": 150.0, "reached_hrc": 58.0,
    }  # fmt: skip
    for code in WORDS:
        assert said(Reason(code, values))


def bar(blade: dict[str, float] | None = None, **steels: Any) -> Any:
    names = list(steels)
    plates = [{"steel": names[i % len(names)], "thickness_mm": 2} for i in range(11)]
    return plan(
        parse_recipe(
            {
                "format": 1,
                "title": "Temper",
                "steels": steels,
                "stack": {"width_mm": 40, "length_mm": 150, "plates": plates},
                "steps": [{"do": "weld", "temperature_c": 1050, "minutes": 2, "height_mm": 12}],
                "blade": {"thickness_mm": 3.0, **(blade or {})},
            }
        )
    ).report


def test_a_steel_known_by_analysis_only_has_its_row() -> None:
    own = {"name": "own", "wt": {"C": 0.82, "Mn": 0.7, "Si": 0.22}}
    report = bar(dark=own, bright="75Ni8")
    assert all({row.steel for row in s.per_steel} == {"dark", "bright"} for s in report.temper.table)


def test_steels_of_one_analysis_get_one_answer() -> None:
    nominal = dict(find_steel("1084").nominal.wt)
    named, by_analysis = (
        temper_decision((Layer("a", {e: np.array([v]) for e, v in wt.items()}, np.ones(1)),), {})
        for wt in (nominal, dict(nominal))
    )
    assert named.table == by_analysis.table


def test_the_report_tells_value_band_and_source() -> None:
    report = bar(dark="1084", bright="75Ni8")
    for step in report.temper.table:
        for row in step.per_steel:
            assert row.low < row.value < row.high
            assert 3.0 <= row.high - row.low <= 6.0
    used = {source.key for source in report.sources}
    assert {"grange-hribal-porter-1977", "hollomon-jaffe-1945", "mead-metals"} <= used
    basis = {source.key: source.basis for source in report.sources}
    assert basis["grange-hribal-porter-1977"] == "memory"


def test_the_recipe_asks_for_a_hardness() -> None:
    report = bar({"temper_to_hrc": 59.0}, dark="1084", bright="75Ni8")
    wanted = report.temper.wanted
    assert wanted is not None and wanted.hrc == 59.0 and wanted.temperature_c is not None
    assert 150.0 < wanted.temperature_c < 260.0
    assert min(row.value for row in wanted.per_steel) == pytest.approx(59.0, abs=0.1)
    assert bar(dark="1084", bright="75Ni8").temper.wanted is None


def test_the_sides_of_a_core_do_not_govern_its_temper() -> None:
    """Mild sides that drank carbon harden in part, but not at the edge."""
    plates = [{"steel": name, "thickness_mm": 6.0} for name in ("side", "core", "side")]
    steps = [
        {"do": "weld", "temperature_c": 1150, "minutes": 12, "height_mm": 16},
        {"do": "draw", "temperature_c": 1080, "minutes": 16, "heats": 4, "height_mm": 6},
    ]
    recipe = {
        "format": 1, "title": "Core", "steels": {"core": "1095", "side": "1018"},
        "stack": {"width_mm": 40, "length_mm": 150, "plates": plates}, "steps": steps,
        "blade": {"thickness_mm": 3.0},
    }  # fmt: skip
    report = plan(recipe).report
    assert [row.role for row in report.hardening.per_steel] == ["hardens", "partly"]
    assert report.temper.governs == "core"
