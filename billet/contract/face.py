"""What a picture of a bar tells beside its greys."""

from dataclasses import dataclass
from typing import Literal

from billet.contract.values import Reason

View = Literal["face", "edge", "end", "bevel"]


@dataclass(frozen=True)
class FaceFacts:
    """One view of a bar: how large it is drawn, what was ground off, and what is seen.

    `from_mm` is the distance of its left side from the handle end (for the end: 0, its left is the left of
    the bar). wide_mm, high_mm: what is shown; columns, rows: pixels, of `mm_per_px` each way. `ground_mm`
    is taken off that face, edge or end; on the flank of a blade it is what each flat lost.
    """

    view: View
    wide_mm: float
    high_mm: float
    from_mm: float
    ground_mm: float
    columns: int
    rows: int
    hand: bool
    half_angle_deg: float | None
    seen: tuple[Reason, ...]

    @property
    def mm_per_px(self) -> float:
        """Size of a pixel."""
        return self.wide_mm / self.columns
