"""Which figure the work on a bar makes, and after how much of its length it comes again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from billet.forging.solid import Carved, Change, Dragged, Laid, Pressed, Stood, Stretched, Turned, Twisted

FigureKind = Literal["flat", "on_edge", "twist", "rungs", "rings", "feather", "across"]


@dataclass(frozen=True)
class Figure:
    """The figure of a bar; `repeat_mm` of length from one turn, groove or dimple to the next, None without.

    `courses` are the bars made first that lie in it, `beside` how many of them lie in one course at most.
    """

    kind: FigureKind
    repeat_mm: float | None = None
    courses: tuple["Figure", ...] = ()
    beside: int = 0


def figure_of(changes: Sequence[Change], made: Mapping[str, Figure]) -> Figure:
    """The figure that these changes leave; `made` holds those of the bars made first, by name."""
    kind: FigureKind = "flat"
    repeat_mm: float | None = None
    laid: dict[str, Figure] = {}
    beside = 0
    for change in changes:
        match change:
            case Laid():
                bars = [item for item in change.items if item.kind == "bar"]
                laid |= {str(item.name): made[str(item.name)] for item in bars}
                rows = [item.bottom_mm for item in bars if item.right_share - item.left_share < 1.0]
                beside = max([beside, *(rows.count(row) for row in rows)])
            case Twisted(after=after, turns=turns):
                kind, repeat_mm = "twist", after.length_mm / abs(turns)
            case Carved() | Pressed():
                kind, repeat_mm = _marked(change)
            case Stood():
                kind, repeat_mm = "across", None
            case Dragged():
                kind, repeat_mm = "feather", None
            case Turned() if kind in ("flat", "on_edge"):
                kind = "on_edge" if kind == "flat" else "flat"
            case Stretched(before=before, after=after) if repeat_mm is not None:
                repeat_mm *= after.length_mm / before.length_mm
    return Figure(kind, repeat_mm, tuple(laid.values()), beside)


def _marked(change: Carved | Pressed) -> tuple[FigureKind, float]:
    row = max(change.marks, key=lambda each: len(each.along_mm))
    along = row.along_mm
    pitch_mm = along[1] - along[0] if len(along) > 1 else change.after.length_mm
    cut = change.top or change.bottom
    return ("rings" if cut is not None and cut.round else "rungs"), pitch_mm
