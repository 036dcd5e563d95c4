"""Recipe mapping in, report out: with a small store of reports, and a bound on how many run at once."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from typing import Any, Generic, TypeVar

from billet import (
    BilletError,
    Recipe,
    RecipeError,
    Report,
    Study,
    Uncertainty,
    canonical_json,
    parse_recipe,
    plan,
    study,
    uncertainty,
)
from web.http.problems import Problem
from web.settings import Settings

REFUSED = "the recipe is refused; the errors tell where and why"


Found = TypeVar("Found", Report, Study, Uncertainty)


class Calculator:
    """Plans and studies recipes. What it finds is frozen, so one may be handed to many."""

    def __init__(self, settings: Settings) -> None:
        self._places = threading.BoundedSemaphore(settings.calculations_at_once)
        self._wait_s = settings.wait_for_a_place_s
        self._reports: _Store[Report] = _Store(settings.kept_reports)
        self._studies: _Store[Study] = _Store(settings.kept_reports)
        self._counts: _Store[Uncertainty] = _Store(settings.kept_reports)

    def report(self, mapping: Mapping[str, Any]) -> Report:
        """The report of a recipe.

        Raises RecipeError for a bad recipe, Problem 429 when all places are taken for too long.
        """
        return self._found(mapping, plan, self._reports)

    def study(self, mapping: Mapping[str, Any]) -> Study:
        """The study of a recipe; what the library refuses becomes Problem 422, as for a report."""
        return _or_problem(lambda: self._found(mapping, study, self._studies))

    def uncertainty(self, mapping: Mapping[str, Any]) -> Uncertainty:
        """How many bars of this recipe come out; what the library refuses becomes Problem 422."""
        return _or_problem(lambda: self._found(mapping, uncertainty, self._counts))

    def report_or_problem(self, mapping: Mapping[str, Any]) -> Report:
        """As `report`; what the library refuses becomes Problem 422."""
        return _or_problem(lambda: self.report(mapping))

    def _found(
        self, mapping: Mapping[str, Any], compute: Callable[[Recipe], Found], store: "_Store[Found]"
    ) -> Found:
        key = canonical_json(mapping)
        kept = store.look_up(key)
        if kept is not None:
            return kept
        if not self._places.acquire(timeout=self._wait_s):
            raise Problem(429, "too many bars are being computed; try again", headers={"Retry-After": "5"})
        try:
            found = compute(parse_recipe(mapping))
        finally:
            self._places.release()
        store.keep(key, found)
        return found


def _or_problem(compute: Callable[[], Found]) -> Found:
    try:
        return compute()
    except RecipeError as error:
        raise Problem(422, REFUSED, error.faults) from None
    except BilletError as error:
        raise Problem(422, str(error)) from None


class _Store(Generic[Found]):
    """The last few results by recipe, the longest unused falling out first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, Found] = OrderedDict()
        self._lock = threading.Lock()

    def look_up(self, key: str) -> Found | None:
        with self._lock:
            kept = self._kept.get(key)
            if kept is not None:
                self._kept.move_to_end(key)
            return kept

    def keep(self, key: str, found: Found) -> None:
        with self._lock:
            self._kept[key] = found
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
