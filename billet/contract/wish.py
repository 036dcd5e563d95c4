"""From the bar wanted back to the stack: proposals, each a recipe with its plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from billet.contract.hardening_rows import HardeningRow, QuenchRow
from billet.contract.report import to_plain
from billet.contract.values import Range

Obstacle = Literal["stack", "bar", "heats", "layers", "share", "width", "length", "thickness"]
"""Which wish or limit stands in the way: the pile, the bar in the fire, the heats, the layers, the shares of
the steels, the width of the stock, too short a stack to hold, the stock against the thickness."""


@dataclass(frozen=True)
class CutRow:
    """Plates of one kind to cut: `strip_mm` with a kerf for each, which `mass_kg` and `cost` count."""

    steel: str
    thickness_mm: float
    width_mm: float
    length_mm: float
    pieces: int
    strip_mm: float
    mass_kg: float
    cost: float | None


@dataclass(frozen=True)
class OffBy:
    """What came less what was wished for; `share` of each steel of the wish, by mass."""

    layers: float
    layer_um: float
    share: Mapping[str, float]


@dataclass(frozen=True)
class Proposal:
    """One schedule. The ordinary plan of `recipe` gives exactly this bar. `size_mm` is thickness, width,
    length; `stack_mm` the tallest pile, `bar_mm` the longest bar on the way; `steel_kg` all that is cut from
    stock, the saw's part counted, as `cut_list` has it, and `yield_` how much of that the bar is; `fire` says
    in words which fire it needs, once it is worded."""

    recipe: Mapping[str, Any]
    recipe_id: str
    bar_id: str
    start_count: int
    pieces: tuple[int, ...]
    layers_visible: int
    layer_um: float
    size_mm: tuple[float, float, float]
    stack_mm: float
    bar_mm: float
    heats: int
    steel_kg: float
    yield_: float
    off_by: OffBy
    cut_list: tuple[CutRow, ...]
    cost: float | None
    carbon_wt: Mapping[str, float]
    hardening: HardeningRow
    quench: QuenchRow
    fire: str = ""


@dataclass(frozen=True)
class InTheWay:
    """A wish that no schedule fulfils together with the others: what was asked, and what would do."""

    what: Obstacle
    asked: float | Range
    needed: float
    text: str = ""


@dataclass(frozen=True)
class WishProgress:
    """How far a search is: ways `sized`, stacks `forged`, proposals `planned` of `chosen` (0 until they are
    chosen), and the `share` of the whole work that is done, 0 to 1."""

    sized: int = 0
    forged: int = 0
    planned: int = 0
    chosen: int = 0
    share: float = 0.0


@dataclass(frozen=True)
class WishAnswer:
    """Proposals in order of heats, steel and closeness; or which wishes stand in the way, and the bar that
    comes nearest."""

    tried: int
    proposals: tuple[Proposal, ...]
    none_because: tuple[InTheWay, ...]
    nearest: Proposal | None

    def to_dict(self) -> dict[str, Any]:
        """As plain dicts and lists, ready for JSON."""
        found: dict[str, Any] = to_plain(self)
        return found
