"""The one store of plans: a recipe is planned once, whatever is asked of it and by how many at once."""

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any

import pytest

import web.calculation
from billet import BilletError, RecipeError, plan, study, uncertainty
from web.calculation import Calculator
from web.settings import Settings


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> dict[str, int]:
    """How often the library was asked for a plan, a study and a count of bars."""
    counts = {"plan": 0, "study": 0, "uncertainty": 0}
    lock = threading.Lock()

    def counting(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def call(source: Any) -> Any:
            with lock:
                counts[name] += 1
            return function(source)

        return call

    for name, function in (("plan", plan), ("study", study), ("uncertainty", uncertainty)):
        monkeypatch.setattr(web.calculation, name, counting(name, function))
    return counts


def test_page_study_and_count_plan_once(
    settings: Settings, recipe: dict[str, Any], counted: dict[str, int]
) -> None:
    calculator = Calculator(settings)
    for _ in range(2):
        calculator.report(recipe)
        calculator.study(recipe)
        calculator.uncertainty(recipe)
    assert counted == {"plan": 1, "study": 1, "uncertainty": 1}
    assert calculator.planned(recipe).report is calculator.report(recipe)


def test_many_who_ask_at_once_get_one_plan(
    settings: Settings, recipe: dict[str, Any], counted: dict[str, int]
) -> None:
    calculator = Calculator(settings)
    asked = (calculator.report, calculator.study, calculator.report_or_problem, calculator.study)
    with ThreadPoolExecutor(12) as pool:
        found = list(pool.map(lambda n: asked[n % 4](recipe), range(24)))
    assert counted == {"plan": 1, "study": 1, "uncertainty": 0}
    assert len({id(each) for each in found}) == 2


def test_different_melts_at_once_get_the_same_answers_as_one_after_another(
    settings: Settings, recipe: dict[str, Any]
) -> None:
    def melt(n: int) -> dict[str, Any]:
        bright = {**recipe["steels"]["bright"], "wt": {"C": 0.70 + 0.005 * n, "Mn": 0.4, "Ni": 2.0}}
        return {**recipe, "steels": {**recipe["steels"], "bright": bright}}

    calculator = Calculator(settings)
    with ThreadPoolExecutor(4) as pool:
        found = list(pool.map(lambda n: calculator.report(melt(n)).to_dict(), range(8)))
    assert found == [plan(melt(n)).to_dict() for n in range(8)]


def test_what_is_refused_is_not_kept_and_puts_nothing_out(
    settings: Settings, recipe: dict[str, Any], counted: dict[str, int]
) -> None:
    calculator = Calculator(replace(settings, kept_reports=1))
    kept = calculator.report(recipe)
    for number in range(5):
        with pytest.raises(RecipeError):
            calculator.report({"title": str(number)})
    assert calculator.report(recipe) is kept
    assert counted["plan"] == 6


def test_a_fault_gives_its_turn_back(
    settings: Settings, recipe: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    calculator = Calculator(replace(settings, calculations_at_once=1, wait_for_a_place_s=0.05))

    def broken(source: Any) -> Any:
        raise BilletError("it cannot be had")

    with monkeypatch.context() as patched:
        patched.setattr(web.calculation, "plan", broken)
        for _ in range(2):
            with pytest.raises(BilletError, match="it cannot be had"):
                calculator.report(recipe)
    assert calculator.report(recipe).title == recipe["title"]
