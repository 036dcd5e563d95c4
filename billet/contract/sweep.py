"""The answer drawn against one number of the recipe."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from billet.contract.report import to_plain
from billet.contract.values import Grade, Medium, NoneBecause, Verdict


@dataclass(frozen=True)
class SweepRow:
    """The answer at one value; keys mean what they mean in the report.

    `refused` is the sentence that refuses this value, and then nothing else is told. `planned` tells
    whether carbon was followed through every fire for this value or read between two that were.
    `loss` is the worst loss over the half-width of the fire that is told, `carbon_wt` the mean carbon of
    each steel inside the blade.
    """

    value: float
    refused: str | None = None
    planned: bool = False
    verdict: Verdict | None = None
    none_because: NoneBecause | None = None
    window_low_c: float | None = None
    window_high_c: float | None = None
    works_low_c: float | None = None
    works_high_c: float | None = None
    set_point_c: float | None = None
    least_bad_c: float | None = None
    gap_k: float | None = None
    loss: float | None = None
    grade: Grade | None = None
    medium: Medium | None = None
    layers_visible: int | None = None
    layer_um: float | None = None
    height_mm: float | None = None
    length_mm: float | None = None
    yield_: float | None = None
    carbon_wt: Mapping[str, float] | None = None


@dataclass(frozen=True)
class Sweep:
    """One number of a recipe varied. `planned` counts the values whose carbon was followed in full;
    `miss_wt` is the greatest miss in carbon found where a value between two was followed as a check."""

    vary: str
    title: str
    recipe_id: str
    half_width_k: float
    steels: tuple[str, ...]
    rows: tuple[SweepRow, ...]
    planned: int
    miss_wt: float

    @property
    def between(self) -> int:
        """How many answers were read between two whose carbon was followed in full."""
        return sum(row.refused is None and not row.planned for row in self.rows)

    def to_dict(self) -> dict[str, Any]:
        """As plain dicts and lists, ready for JSON."""
        found: dict[str, Any] = to_plain(self)
        return found
