"""What forging gives: a row for each step, the events that carbon replays, and the bar at the end."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from billet.contract.forging_rows import HeatSize, LayerSize, LayerSum, Lost, MarksRow
from billet.contract.values import Finding, Range
from billet.forging.events import Event
from billet.forging.solid import Change
from billet.recipe.model import Atmosphere, Layer

Axis = Literal["width", "height", "length"]
AXES: tuple[Axis, ...] = ("width", "height", "length")


@dataclass(frozen=True)
class Bar:
    """The bar after the last step, cold. `layers` lie from the bottom up, one name lies once.

    `alike` tells that the layers reach every face alike: twisted, cut and flattened, pressed, stood on end,
    or split; they are then means by volume. Where bars lie side by side they are those of the first column.
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
    through: Axis
    """The size of the bar through its layers."""
    alike: bool

    @property
    def on_edge(self) -> bool:
        """The layers lie across the width instead of the height."""
        return self.through == "width"


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
    solid_height_mm: float
    each_heat: tuple[HeatSize, ...]
    loose: bool
    pieces: int
    piece_mm: float | None
    cut_marks_mm: tuple[float, ...]
    marks: tuple[MarksRow, ...]
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
    alike: bool
    layers: tuple[tuple[str, float], ...]
    planned_mm: tuple[float, float, float] | None = None
    """Height, width and length that were planned, where others were measured."""


@dataclass(frozen=True)
class Column:
    """What lies one on another between two places across the width of a bar (0 left, 1 right).

    A bar without bars side by side is one column. Else each is followed as if the bar were of it all through,
    as wide as it is: rows, events and changes are those of such a bar, and the bar itself is what its columns
    come to by their share of the width.
    """

    left_share: float
    right_share: float
    rows: tuple[ForgedRow, ...]
    events: tuple[Event, ...]
    changes: tuple[Change, ...]
    final: Bar

    @property
    def share(self) -> float:
        """Its share of the width."""
        return self.right_share - self.left_share

    @property
    def layer_names(self) -> tuple[str, ...]:
        """Steels of the layers of its end, bottom up."""
        return tuple(layer.steel for layer in self.final.layers)

    @property
    def layer_mm(self) -> tuple[float, ...]:
        """Thickness of each of these layers."""
        return tuple(layer.thickness_mm for layer in self.final.layers)


@dataclass(frozen=True)
class Forged:
    """A bar from its stack to its last step; `bars` holds every bar made first, by its name in [bars].

    To follow a point of the finished bar back to its plate, go through `changes` from the last to the first:
    each has the outer size of the bar before and after it, and what happened between (`forging.solid`). At a
    `Laid` the point lies in one of the boxes of its `items`: in a piece of the bar as it was, and it goes on
    with the changes before; in a plate, and that is its steel; or in a bar made first, and it goes on with
    `bars[name].changes` from their last. `changes[0]` is the first stack. The rows tell the same sizes step
    by step, and `layers` of row 0 the plates of a stack in which no bar made first lies.
    """

    rows: tuple[ForgedRow, ...]
    columns: tuple[Column, ...]
    final: Bar
    findings: tuple[Finding, ...]
    bars: Mapping[str, "Forged"] = field(default_factory=dict)

    @property
    def events(self) -> tuple[Event, ...]:
        """Events of the first column; of all there is where no bars lie side by side."""
        return self.columns[0].events

    @property
    def changes(self) -> tuple[Change, ...]:
        """What happened to the bar as a solid, in order. With bars side by side it is told of the first
        column; sizes of the others differ by what their faces scale more or less."""
        return self.columns[0].changes

    @property
    def laid_by_step(self) -> dict[int, frozenset[str]]:
        """The steels that lie in the bar after each step."""
        return {
            row.step: frozenset(name for name, share in row.mass_share.items() if share > 0.0)
            for row in self.rows
        }
