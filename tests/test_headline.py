"""Nine headlines: fire by oil, each with what to do; and why there is none."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from recipe_samples import good

from billet import plan
from billet.contract.hardening_rows import HeadlineRow
from billet.contract.values import Estimate, Reason
from billet.hardening.quench_grades import GOOD, NO, WORKS
from billet.hardening.shop_oils import OilByBar, OwnOil, best_oil
from billet.report.words import said
from billet.text.report import report_text

RECIPES = Path(__file__).parent.parent / "recipes"
FIRES = {"good": 5.0, "works": 22.0, "no": 60.0}
GRADES = ("good", "works", "no")
VALUES: dict[str, Any] = {
    "set_c": 815.0, "fire_told": True, "half_width_k": 22.0, "good_k": 12.0, "works_k": 30.0,
    "better": "a survey", "better_k": 10.0, "medium": "medium oil", "own_oil": "tank 2", "own_oils": 2,
    "class_medium": "fast oil", "class_hardens_edge": True, "edge_mm": 4.0, "sure_mm": 1.6, "likely_mm": 2.2,
    "cracks": ("bright",),
}  # fmt: skip


def headline(**changed: Any) -> HeadlineRow:
    return plan({**good(), **changed}).report.headline


def oils(*names: str) -> dict[str, Any]:
    return {"oils": [{"name": f"tank {name}", "class": name} for name in names]}


@pytest.mark.parametrize("fire", FIRES)
def test_the_fire_decides_the_first_word(fire: str) -> None:
    found = headline(control={"half_width_k": FIRES[fire]})
    assert found.fire == fire and found.code == f"{fire}-{found.oil}"


@pytest.mark.parametrize(
    ("edge_mm", "thickness_mm", "oil"), [(1.0, 2.0, "good"), (1.0, 8.0, "works"), (7.5, 8.0, "no")]
)
def test_the_blade_decides_what_the_oil_is_worth(edge_mm: float, thickness_mm: float, oil: str) -> None:
    found = headline(
        stack={**good()["stack"], "thickness_mm": {"dark": 12.0, "bright": 12.0}, "count": 5},
        steps=good()["steps"][:1],
        blade={"thickness_mm": thickness_mm, "edge_mm": edge_mm},
        control={"half_width_k": 5.0},
    )
    assert (found.fire, found.oil, found.own_oil) == ("good", oil, None)


def test_each_of_the_nine_says_something_else_and_what_to_do() -> None:
    told = {
        (fire, oil): (
            said(Reason(f"headline-{fire}-{oil}", VALUES)),
            said(Reason(f"do-{fire}-{oil}", VALUES)),
        )
        for fire in GRADES
        for oil in GRADES
    }
    assert len({text for text, _ in told.values()}) == len({do for _, do in told.values()}) == 9
    for (fire, oil), (text, do) in told.items():
        assert ("Harden at 815" in text) == (fire != "no" and oil != "no")
        assert ("Do not harden" in do) == (fire == "no") and ("Do not quench" in do) == (oil == "no")
        assert ("Better: a survey" in do) == (fire != "good")
        assert len(text) <= 110


def test_no_fire_told_asks_for_it() -> None:
    recipe = good()
    recipe.pop("control", None)
    assert "tell how you hold the heat" in plan(recipe).report.headline.do


def test_an_own_oil_is_named_and_a_class_that_would_do_is_offered() -> None:
    found = headline(shop=oils("slow oil"), blade={"thickness_mm": 3.0, "edge_mm": 2.5})
    assert found.own_oil == "tank slow oil" and found.oil == "no"
    assert "tank slow oil" in found.text and "take fast oil" in found.do


def test_the_best_of_several_own_oils_is_taken() -> None:
    found = headline(shop=oils("slow oil", "fast oil", "medium oil"))
    assert found.own_oil == "tank fast oil"


def by_bar(name: str, grade: int, through_mm: float, too_fast: tuple[str, ...] = ()) -> OilByBar:
    oil = OwnOil(name, "fast oil", None)
    none: dict[str, Estimate | None] = {}
    return OilByBar(oil, "fast oil", grade, through_mm, through_mm, too_fast, none, none, ())


def test_a_sure_edge_comes_before_a_crack_and_a_crack_before_doubt() -> None:
    sure = by_bar("sure", WORKS, 1.6)
    cracks = by_bar("cracks", GOOD, 4.0, ("52100",))
    doubt = by_bar("doubt", WORKS, 0.6)
    short = by_bar("short", NO, 0.4)
    assert best_oil([short, doubt, cracks, sure], 1.0) is sure
    assert best_oil([short, doubt, cracks], 1.0) is cracks
    assert best_oil([short, doubt], 1.0) is doubt
    assert best_oil([], 1.0) is None
    assert best_oil([sure, by_bar("deeper", GOOD, 4.0)], 1.0) == by_bar("deeper", GOOD, 4.0)


def test_a_bath_that_may_crack_a_layer_is_never_good() -> None:
    found = headline(
        steels={"dark": "1084", "bright": "O1"}, control={"half_width_k": 3.0}, shop=oils("fast oil")
    )
    row = plan({**good(), "steels": {"dark": "1084", "bright": "O1"}, "shop": oils("fast oil")}).report.quench
    assert row.in_shop[0].grade == "good" and found.oil == "works" and "bright may crack" in found.text


@pytest.mark.parametrize(
    ("dark", "bright", "code"),
    [
        ("1018", "304", "none-soft"),
        ("1084", "1.4034", "none-unknown"),
    ],
)
def test_without_a_set_point_it_says_why(dark: Any, bright: str, code: str) -> None:
    found = headline(steels={"dark": dark, "bright": bright})
    assert (found.fire, found.oil, found.code) == ("no", "no", code) and found.do
    assert "Harden at" not in found.text


def test_ranges_that_miss_each_other_have_a_least_bad_heat() -> None:
    report = plan(RECIPES / "no_shared_window.toml").report
    assert report.headline.code == "none-gap" and report.hardening.least_bad is not None
    assert f"{report.hardening.least_bad.c:.0f}\u202f°C" in report.headline.do


def test_the_text_report_prints_headline_oils_edge_and_swing() -> None:
    recipe = {**good(), "shop": oils("fast oil", "slow oil"), "control": {"half_width_k": 25.0}}
    report = plan(recipe).report
    text = " ".join(report_text(report).split())
    assert f">>> {report.headline.text[:20]}".replace("\u202f", " ") in text
    for told in ("tank slow oil", "Own oil", "The edge is", "What the ends of the swing cost", "Works"):
        assert told in text, told
    replaced = replace(report, headline=replace(report.headline, text="SOMETHING ELSE"))
    assert ">>> SOMETHING ELSE" in report_text(replaced)


@pytest.mark.parametrize(("edge_mm", "told"), [(2.8, "at its limit"), (3.2, "leaves this edge soft")])
def test_an_edge_that_nearly_hardens_is_at_the_limit(edge_mm: float, told: str) -> None:
    values = {**VALUES, "own_oils": 1, "edge_mm": edge_mm}
    assert told in said(Reason("headline-good-no", values))
