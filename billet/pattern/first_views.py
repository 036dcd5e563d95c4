"""Which pictures tell most of a bar, by its figure: what is shown before anyone asks for more."""

from billet.pattern.bar import SolidBar
from billet.pattern.picture import Asked

END_WIDTH_PX = 480
QUARTER, HALF = 0.25, 0.5
ENDS_OF_TURN = (0.0, 0.125, 0.25)
"""Ends of a twist are shown at these shares of a turn: 0, 45, 90 degrees."""


def first_views(bar: SolidBar, ground_mm: float | None = None) -> tuple[Asked, ...]:
    """Flank, face, edge of a plain bar; twist and composite ground off further and further, with ends.

    `ground_mm` is asked of the face, else what is usual.
    """
    face, flank, edge = Asked("face", ground_mm=ground_mm), Asked("bevel"), Asked("edge")
    figure, height_mm = bar.figure, bar.size.height_mm
    deeper = (Asked("face", ground_mm=QUARTER * height_mm), Asked("face", ground_mm=HALF * height_mm))
    if figure.kind == "twist" and figure.repeat_mm is not None:
        ends = (
            share * figure.repeat_mm
            for share in ENDS_OF_TURN
            if share * figure.repeat_mm < bar.size.length_mm
        )
        return (face, *deeper, flank, *(Asked("end", END_WIDTH_PX, ground_mm=mm) for mm in ends))
    if figure.courses:
        return (face, *deeper, flank, edge, Asked("end", END_WIDTH_PX))
    if figure.kind in ("feather", "across"):
        return (face, flank, edge)
    return (flank, face, edge)
