"""A register of the formulas, so that page, report and tests all read their source from one place."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypeVar

Basis = Literal["published", "practice", "memory"]
F = TypeVar("F", bound=Callable[..., Any])


@dataclass(frozen=True)
class Formula:
    """What the page of methods tells of a formula."""

    name: str
    module: str
    summary: str
    equation: str
    unit: str
    source: str
    where: str
    basis: Basis
    fitted: Mapping[str, tuple[float, float]]
    note: str


@dataclass(frozen=True)
class OutsideFit:
    """An input that lies outside the range a formula was fitted to."""

    name: str
    value: float
    low: float
    high: float


REGISTRY: dict[str, Formula] = {}


def published(
    source: str,
    *,
    where: str,
    equation: str,
    unit: str,
    basis: Basis = "published",
    note: str = "",
    **fitted: tuple[float, float],
) -> Callable[[F], F]:
    """Register a formula with its source key, place, equation in plain text and fitted ranges.

    `fitted` is keyed by argument name or, for an analysis, by element symbol.
    """

    def register(function: F) -> F:
        module = function.__module__.removeprefix("billet.formulas.")
        key = f"{module}.{function.__name__}"
        summary = (function.__doc__ or "").strip().split("\n")[0]
        entry = Formula(
            function.__name__, module, summary, equation, unit, source, where, basis, dict(fitted), note
        )
        REGISTRY[key] = entry
        function.formula = entry  # type: ignore[attr-defined]
        return function

    return register


def outside_fit(function: Callable[..., Any], values: Mapping[str, float]) -> list[OutsideFit]:
    """The given values that lie outside the fitted range of a registered formula."""
    entry: Formula = function.formula  # type: ignore[attr-defined]
    return [
        OutsideFit(name, values[name], low, high)
        for name, (low, high) in entry.fitted.items()
        if name in values and not low <= values[name] <= high
    ]
