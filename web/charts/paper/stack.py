"""The pile at the head of a forge sheet: its end to scale, with sizes and the hatch of every steel."""

from collections.abc import Sequence

from markupsafe import Markup

from billet import BarFigure, StackFigure, wording
from web.charts.dimension import ARROW, across, extension, upward
from web.charts.end_view import Box, end_view
from web.charts.hatch import definitions
from web.charts.paper.pile import pile_end
from web.charts.paper.sheet import LETTER_MM, PX, paper_drawing, scale_for, text_mm
from web.charts.svg import text

BELOW_MM = 9.0
ABOVE_MM = 1.0


def stack_drawing(
    figure: StackFigure | BarFigure,
    steels: Sequence[str],
    key: str = "stack",
    units: wording.Units = "mm",
    room_mm: tuple[float, float] = (72.0, 34.0),
) -> Markup:
    """The end of the pile (or of a bar) with height and width as dimension lines; the scale is named."""
    high_words, wide_words = (wording.bench_mark(mm, units) for mm in (figure.height_mm, figure.width_mm))
    beside = text_mm(high_words) + 9.0
    scale = scale_for([(figure.width_mm, room_mm[0] - beside), (figure.height_mm, room_mm[1] - BELOW_MM)])
    wide, high = scale(figure.width_mm), scale(figure.height_mm)
    x = 2.0 if wide >= 3.2 * ARROW else 2.0 + 2.0 * ARROW
    y = ABOVE_MM * PX
    box = Box(x, y, wide, high)
    bottom, right = y + high, x + wide
    parts: list[Markup] = [definitions(key, steels)]
    if isinstance(figure, StackFigure):
        parts += pile_end(figure, x, y, key, steels, scale)
    else:
        parts += end_view(box, figure.layers, key, steels, scale.ratio * PX)
    below = bottom + 6.4 * PX
    within = text_mm(wide_words) * PX + 6.0 < wide
    parts += [
        extension((x, bottom + 3), (x, below + 5)),
        extension((right, bottom + 3), (right, below + 5)),
        *across(x, right, below, wide_words if within else "", above=4.0),
        extension((right + 3, y), (right + 22, y)),
        extension((right + 3, bottom), (right + 22, bottom)),
        *upward(y, bottom, right + 17, high_words),
    ]
    after = right + 26
    if not within:
        parts.append(text(right + 8, below + 4, wide_words, "label"))
        after = right + 20 + text_mm(wide_words) * PX
    parts.append(text(after, below + 4, scale.name, "label"))
    width = max(right + 28 + text_mm(high_words) * PX, after + text_mm(scale.name) * PX + 2)
    title = "The pile as it is laid, seen at its end"
    told = f"{high_words} high, {wide_words} wide, at {scale.name}"
    return paper_drawing(key, width, below + 2 + LETTER_MM, title, told, parts, "stack")


def swatch(steels: Sequence[str], steel: str, key: str) -> Markup:
    """The hatch of one steel beside its name."""
    box = Box(1, 1, 9 * PX, 4 * PX)
    parts = [definitions(key, steels), *end_view(box, [(steel, 1.0)], key, steels, 100.0)]
    return paper_drawing(key, box.width + 2, box.height + 2, steel, f"hatch of {steel}", parts, "swatch")
