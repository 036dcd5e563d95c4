"""What forging gives: a row for each step, the events that carbon replays, and the bar at the end."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet.contract.forging_rows import HeatSize, LayerSize, LayerSum, Lost
from billet.contract.values import Finding, Range
from billet.forging.events import Event
from billet.recipe.model import Atmosphere, Layer


@dataclass(frozen=True)
class Bar:
    """The bar after the last step, cold. `layers` lie from the bottom up, one name lies once.

    When it stands `on_edge` the layers lie across its width instead of its height.
    """

    layers: tuple[Layer, ...]
    height_mm: float
    width_mm: float
    length_mm: float
    mass_kg: float
    steel_kg: Mapping[str, float]
    layers_laid: int
    layers_visible: int
    disturbed: bool
    on_edge: bool


@dataclass(frozen=True)
class ForgedRow:
    """All that geometry can say of a row of the schedule; carbon and stop temperature come later.

    Fields mean what they mean in `billet.contract.report.ScheduleRow`.
    """

    step: int
    do: str
    note: str | None
    temperature_c: float | None
    minutes: float | None
    heats: int | None
    fire_min: float | None
    atmosphere: Atmosphere | None
    height_mm: float
    width_mm: float
    length_mm: float
    each_heat: tuple[HeatSize, ...]
    loose: bool
    pieces: int
    piece_mm: float | None
    cut_marks_mm: tuple[float, ...]
    mass_kg: float
    lost_kg: Lost
    added_kg: float
    """Mass of fresh plates laid in this step; with it the books close."""
    yield_: float
    """Mass over that of the cold stack and of every plate laid since."""
    layers_laid: int
    layers_visible: int
    layer_um: LayerSize
    skin_um: Range
    mass_share: Mapping[str, float]
    reduction: float | None
    """Share of the height that a fire's forging took, scale with it (0.3 is 30 %); negative where it
    grew; 0 where nothing was forged, None without a fire."""
    layer_sum: LayerSum
    layers: tuple[tuple[str, float], ...]
    planned_mm: tuple[float, float, float] | None = None
    """Height, width and length that were planned, where others were measured."""


@dataclass(frozen=True)
class Forged:
    rows: tuple[ForgedRow, ...]
    events: tuple[Event, ...]
    final: Bar
    findings: tuple[Finding, ...]

    @property
    def laid_by_step(self) -> dict[int, frozenset[str]]:
        """The steels that lie in the bar after each step."""
        return {
            row.step: frozenset(name for name, share in row.mass_share.items() if share > 0.0)
            for row in self.rows
        }
