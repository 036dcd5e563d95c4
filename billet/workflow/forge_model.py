"""What forging gives: a row for each step, the events that carbon replays, and the bar at the end."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet.workflow.events import Atmosphere, Event, Layer
from billet.workflow.report import HeatSize, LayerSize, Lost, Notice, Range


@dataclass(frozen=True)
class Bar:
    """The bar after the last step, cold. `layers` lie from the bottom up, neighbours of one name joined.

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

    Fields mean what they mean in `billet.workflow.report.ScheduleRow`.
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
    yield_: float
    layers_laid: int
    layers_visible: int
    layer_um: LayerSize
    skin_um: Range
    mass_share: Mapping[str, float]
    reduction: float | None
    """Height after the step's forging over height before it, as a share taken off: 0.3 is 30 %."""
    arithmetic: str
    layers: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Forged:
    rows: tuple[ForgedRow, ...]
    events: tuple[Event, ...]
    final: Bar
    notices: tuple[Notice, ...]
