"""Recipe mapping in, report out: with a small store of reports, and a bound on how many run at once."""

import threading
from collections import OrderedDict
from collections.abc import Mapping
from typing import Any

from billet import BilletError, RecipeError, Report, parse_recipe, plan
from web.address import canonical_json
from web.problems import Problem
from web.settings import Settings

REFUSED = "the recipe is refused; the errors tell where and why"


class Calculator:
    """Plans recipes. Reports are frozen, so one may be handed to many."""

    def __init__(self, settings: Settings) -> None:
        self._places = threading.BoundedSemaphore(settings.calculations_at_once)
        self._wait_s = settings.wait_for_a_place_s
        self._most = settings.kept_reports
        self._kept: OrderedDict[str, Report] = OrderedDict()
        self._lock = threading.Lock()

    def report(self, mapping: Mapping[str, Any]) -> Report:
        """The report of a recipe.

        Raises RecipeError for a bad recipe, Problem 429 when all places are taken for too long.
        """
        key = canonical_json(mapping)
        kept = self._look_up(key)
        if kept is not None:
            return kept
        if not self._places.acquire(timeout=self._wait_s):
            raise Problem(
                429, "too many bars are being computed; try again", headers={"Retry-After": "5"}
            )
        try:
            report = plan(parse_recipe(mapping))
        finally:
            self._places.release()
        with self._lock:
            self._kept[key] = report
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return report

    def report_or_problem(self, mapping: Mapping[str, Any]) -> Report:
        """As `report`; what the library refuses becomes Problem 422."""
        try:
            return self.report(mapping)
        except RecipeError as error:
            raise Problem(422, REFUSED, error.faults) from None
        except BilletError as error:
            raise Problem(422, str(error)) from None

    def _look_up(self, key: str) -> Report | None:
        with self._lock:
            kept = self._kept.get(key)
            if kept is not None:
                self._kept.move_to_end(key)
            return kept
