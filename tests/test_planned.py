"""One plan is computed once, and page, study, sheets and count of bars all read it."""

import json
import pickle
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import wraps
from pathlib import Path
from typing import Any

import pytest

import billet
from billet import Planned, build_sheet, load, plan, sheet_text, study, uncertainty
from tests.recipe_samples import good

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))
WITHIN_S = 0.005


@pytest.fixture(scope="module", params=RECIPES, ids=lambda p: p.stem)
def planned(request: pytest.FixtureRequest) -> Planned:
    return plan(request.param)


class Calls:
    """How often a function of the library was called, under whichever name a module holds it."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, module: str, name: str) -> None:
        self.count = 0
        original: Callable[..., Any] = getattr(sys.modules[module], name)

        @wraps(original)
        def counted(*arguments: Any, **named: Any) -> Any:
            self.count += 1
            return original(*arguments, **named)

        for holder in [m for key, m in sys.modules.items() if key.startswith("billet.")]:
            for held in [key for key, value in vars(holder).items() if value is original]:
                monkeypatch.setattr(holder, held, counted)


def test_plan_study_and_bars_cost_one_forging_and_one_diffusion(monkeypatch: pytest.MonkeyPatch) -> None:
    _ = billet.study, billet.uncertainty, billet.plan
    forgings = Calls(monkeypatch, "billet.forging.forge", "forge")
    diffusions = Calls(monkeypatch, "billet.diffusion.simulation", "simulate_diffusion")
    decisions = Calls(monkeypatch, "billet.hardening.heat_treatment", "answer")
    wordings = Calls(monkeypatch, "billet.report.compile", "compile_report")
    found = plan(good())
    assert study(found).recipe_id == found.report.recipe_id
    assert uncertainty(found, bars=100).bars == 100
    for kind in ("forge", "harden", "buyer", "label"):
        assert sheet_text(build_sheet(found.report, kind))
    assert found.to_dict()["title"] == found.recipe.title
    assert (forgings.count, diffusions.count, decisions.count, wordings.count) == (1, 1, 1, 1)


def test_the_study_diffuses_nothing_again(monkeypatch: pytest.MonkeyPatch) -> None:
    _ = billet.study
    found = plan(good())
    replays = Calls(monkeypatch, "billet.diffusion.transport", "transport")
    study(found)
    assert replays.count == 0


def test_study_and_bars_of_a_plan_are_those_of_its_recipe() -> None:
    found = plan(good())
    assert study(found).to_dict() == study(good()).to_dict() == study(found.recipe).to_dict()
    assert uncertainty(found, 60, 7).to_dict() == uncertainty(good(), 60, 7).to_dict()


def test_a_plan_of_a_plan_is_that_plan() -> None:
    found = plan(good())
    assert plan(found) is found
    assert found.report is found.report


def test_a_plan_is_made_of_a_path_a_mapping_or_a_recipe(tmp_path: Path) -> None:
    path = tmp_path / "bar.json"
    path.write_text(json.dumps(good()), encoding="utf-8")
    expected = plan(good()).to_dict()
    for source in (path, str(path), load(path), load(good())):
        assert plan(source).to_dict() == expected


@pytest.mark.parametrize("wrong", [None, 3, ["steels"], b"format = 1", object()])
def test_what_is_no_recipe_is_told_in_words(wrong: Any) -> None:
    for asked in (plan, study, uncertainty, load):
        with pytest.raises(billet.BilletError, match="the path of a recipe file, a mapping"):
            asked(wrong)


def test_it_pickles_to_the_same_report(planned: Planned) -> None:
    again = pickle.loads(pickle.dumps(planned))
    assert again.to_dict() == planned.to_dict()
    assert study(again).to_dict() == study(planned).to_dict()


def test_no_report_goes_into_the_pickle(planned: Planned) -> None:
    """What analyses remember of themselves may go with it, a report of a hundred kilobytes may not."""
    fresh = len(pickle.dumps(Planned(planned.recipe, planned.forged, planned.metal, planned.treatment)))
    _ = planned.report
    packed = pickle.dumps(planned)
    assert len(packed) < 1.02 * fresh
    assert "report" not in vars(pickle.loads(packed))


def test_it_stays_small_enough_to_be_sent_about(planned: Planned) -> None:
    """How quickly it goes is measured by tests/benchmarks/bench_pickle.py: under 5 ms each way."""
    assert len(pickle.dumps(planned, pickle.HIGHEST_PROTOCOL)) < 450_000


def test_many_threads_may_ask_one_plan_at_once() -> None:
    found = plan(good())
    with ThreadPoolExecutor(8) as pool:
        told = list(pool.map(lambda _: found.to_dict(), range(16)))
    assert all(each == told[0] for each in told)


def test_a_finer_grid_is_another_plan() -> None:
    assert plan(good(), refine=2).report.recipe_id == plan(good()).report.recipe_id
