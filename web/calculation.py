"""Recipe mapping in, plan out: one store of plans and what hangs on them, and a bound on how many run."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any, Generic, TypeVar

from billet import (
    BilletError,
    FaceAsked,
    FaceBar,
    FaceView,
    Planned,
    RecipeError,
    Report,
    Study,
    Uncertainty,
    canonical_json,
    face,
    face_bar,
    face_view,
    first_views,
    plan,
    study,
    uncertainty,
)
from web.http.links import Units
from web.http.problems import Problem
from web.settings import Settings

REFUSED = "the recipe is refused; the errors tell where and why"
TOO_MANY = "too many bars are being computed; try again"
KEPT_PICTURES = 8
TURNS = 64
"""Locks that recipes share: two of one lock wait for each other, which costs time and nothing else."""

Found = TypeVar("Found")


class Calculator:
    """Plans and studies recipes. What it finds is frozen, so one may be handed to many."""

    def __init__(self, settings: Settings) -> None:
        self._places = threading.BoundedSemaphore(settings.calculations_at_once)
        self._wait_s = settings.wait_for_a_place_s
        self._turns = tuple(threading.Lock() for _ in range(TURNS))
        self._plans = _Store[_Kept](settings.kept_reports)
        self._drawables = _Store[_Drawable](settings.kept_reports)

    def planned(self, mapping: Mapping[str, Any]) -> Planned:
        """The plan of a recipe, with its report worded.

        Raises RecipeError for a bad recipe, Problem 429 when all places are taken for too long.
        """
        return self._kept(mapping).planned

    def report(self, mapping: Mapping[str, Any]) -> Report:
        """The report of a recipe. Raises what `planned` raises."""
        return self.planned(mapping).report

    def study(self, mapping: Mapping[str, Any]) -> Study:
        """The study of a recipe; what the library refuses becomes Problem 422, as for a report."""
        return _or_problem(lambda: self._study(mapping))

    def uncertainty(self, mapping: Mapping[str, Any]) -> Uncertainty:
        """How many bars of this recipe come out; what the library refuses becomes Problem 422."""
        return _or_problem(lambda: self._count(mapping))

    def face_png(self, mapping: Mapping[str, Any], asked: FaceAsked) -> bytes:
        """A picture of the bar as a file; what the library refuses becomes Problem 422."""
        return _or_problem(lambda: self._face_png(mapping, asked))

    def first_asked(self, mapping: Mapping[str, Any]) -> FaceAsked:
        """The view that tells most of the bar; what the library refuses becomes Problem 422."""
        return _or_problem(lambda: first_views(self._drawable(mapping).bar)[0])

    def first_faces(
        self, mapping: Mapping[str, Any], ground_mm: float | None, units: Units
    ) -> tuple[tuple[FaceAsked, FaceView], ...]:
        """The views that tell most of the bar, with their words, none drawn yet. Raises BilletError."""
        bar = self._drawable(mapping).bar
        return tuple((asked, face_view(bar, asked, units)) for asked in first_views(bar, ground_mm))

    def face_view(self, mapping: Mapping[str, Any], asked: FaceAsked, units: Units) -> FaceView:
        """One view with its words, not drawn yet. Raises BilletError."""
        return face_view(self._drawable(mapping).bar, asked, units)

    def report_or_problem(self, mapping: Mapping[str, Any]) -> Report:
        """As `report`; what the library refuses becomes Problem 422."""
        return _or_problem(lambda: self.report(mapping))

    def run(self, key: str, compute: Callable[[], Found]) -> Found:
        """Anything else that is computed, in its place; what the library refuses becomes Problem 422.

        `key` tells one question from another. Raises Problem 429 when all places are taken for too long.
        """
        with self._place(key):
            return _or_problem(compute)

    def _study(self, mapping: Mapping[str, Any]) -> Study:
        kept = self._kept(mapping)
        if kept.study is None:
            with self._place(kept.key):
                kept.study = kept.study or study(kept.planned)
        return kept.study

    def _face_png(self, mapping: Mapping[str, Any], asked: FaceAsked) -> bytes:
        drawable = self._drawable(mapping)
        found = drawable.pictures.get(asked)
        if found is None:
            with self._place(drawable.key):
                found = drawable.pictures.get(asked) or face(drawable.bar, asked).png()
                while len(drawable.pictures) >= KEPT_PICTURES:
                    del drawable.pictures[next(iter(drawable.pictures))]
                drawable.pictures[asked] = found
        return found

    def _drawable(self, mapping: Mapping[str, Any]) -> "_Drawable":
        """The bar as a solid: read from its plan where that is kept, else forged and diffused alone."""
        key = canonical_json(mapping)
        found = self._drawables.look_up(key)
        if found is None:
            with self._place(key):
                found = self._drawables.look_up(key)
                if found is None:
                    kept = self._plans.look_up(key)
                    bar = face_bar(mapping if kept is None else kept.planned)
                    found = self._drawables.keep(_Drawable(key, bar))
        return found

    def _count(self, mapping: Mapping[str, Any]) -> Uncertainty:
        kept = self._kept(mapping)
        if kept.count is None:
            with self._place(kept.key):
                kept.count = kept.count or uncertainty(kept.planned)
        return kept.count

    def _kept(self, mapping: Mapping[str, Any]) -> "_Kept":
        key = canonical_json(mapping)
        kept = self._plans.look_up(key)
        if kept is None:
            with self._place(key):
                kept = self._plans.look_up(key) or self._plans.keep(_Kept(key, _worded(plan(mapping))))
        return kept

    @contextmanager
    def _place(self, key: str) -> Iterator[None]:
        """One computation of one recipe at a time, and so many of all. Raises Problem 429."""
        turn = self._turns[hash(key) % len(self._turns)]
        with _held(turn, self._wait_s), _held(self._places, self._wait_s):
            yield


def _worded(planned: Planned) -> Planned:
    """The plan once its report is compiled, so that this too is done in its place."""
    _ = planned.report
    return planned


@contextmanager
def _held(lock: "threading.Lock | threading.Semaphore", wait_s: float) -> Iterator[None]:
    if not lock.acquire(timeout=wait_s):
        raise Problem(429, TOO_MANY, headers={"Retry-After": "5"})
    try:
        yield
    finally:
        lock.release()


def _or_problem(compute: Callable[[], Found]) -> Found:
    try:
        return compute()
    except RecipeError as error:
        raise Problem(422, REFUSED, error.faults) from None
    except BilletError as error:
        raise Problem(422, str(error)) from None


class _Kept:
    """A plan, and what was read from it: each set once, in the recipe's turn, and only read after."""

    def __init__(self, key: str, planned: Planned) -> None:
        self.key = key
        self.planned = planned
        self.study: Study | None = None
        self.count: Uncertainty | None = None


class _Drawable:
    """A bar as a solid, and its last pictures, set in the recipe's turn."""

    def __init__(self, key: str, bar: FaceBar) -> None:
        self.key = key
        self.bar = bar
        self.pictures: dict[FaceAsked, bytes] = {}


Held = TypeVar("Held", _Kept, _Drawable)


class _Store(Generic[Held]):
    """The last few by recipe, the longest unused falling out first. What is refused is not kept."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, Held] = OrderedDict()
        self._lock = threading.Lock()

    def look_up(self, key: str) -> Held | None:
        """What is kept of this recipe, if anything."""
        with self._lock:
            kept = self._kept.get(key)
            if kept is not None:
                self._kept.move_to_end(key)
            return kept

    def keep(self, kept: Held) -> Held:
        """Put one in, and the oldest out."""
        with self._lock:
            self._kept[kept.key] = kept
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return kept
