"""Where to cut: the bar from above as a ruler from the handle end, the saw's strips hatched."""

from markupsafe import Markup

from billet import CutFigure, wording
from web.charts.hatch import band_definitions, band_fill
from web.charts.paper.sheet import PX, DrawingScale, paper_drawing, scale_for, text_mm
from web.charts.svg import line, rectangle, text

ROOM_MM = 178.0
TALL_MM = 6.0
LINE_MM = 5.2
TICKS_MM = (1, 2, 5, 10, 20, 50, 100)
LEAST_TICK_MM = 1.6


def cut_ruler(
    figure: CutFigure, key: str = "cut", units: wording.Units = "mm", room_mm: float = ROOM_MM
) -> Markup:
    """The length of the bar to scale with ticks, each mark numbered and measured from the handle end."""
    scale = ruler_scale(figure, room_mm)
    left, top = 3.0 * PX, 1.0 * PX
    long, tall = scale(figure.length_mm), TALL_MM * PX
    bottom = top + tall
    parts: list[Markup] = [band_definitions(key, 1)]
    parts.append(rectangle(left, top, long, tall, "outline paper"))
    parts += _ticks(figure.length_mm, left, bottom, scale.ratio, units)
    for start, end in figure.kerfs_mm:
        parts.append(rectangle(left + scale(start), top, scale(end - start), tall, "kerf", band_fill(key, 0)))
    places = [left + scale(mm) for mm in figure.marks_mm]
    parts += [line((x, top - 4), (x, bottom + 8), "cut-line") for x in places]
    words = [wording.bench_mark(mm, units) if units == "inch" else _mm(mm) for mm in figure.marks_mm]
    labels, lines = _labels(places, words, bottom + 4.9 * PX, left + room_mm * PX)
    parts += labels
    kind = "fold" if figure.folded else "cut"
    height = bottom + (1.2 + LINE_MM * lines) * PX
    width = max(left + long, *(x + text_mm(w) * PX / 2 for x, w in zip(places, words, strict=True))) + 8
    title = f"Where to {kind} in step {figure.step}"
    told = "From the handle end: " + ", ".join(words)
    return paper_drawing(key, width, height, title, told, parts, "ruler")


def ruler_scale(figure: CutFigure, room_mm: float = ROOM_MM) -> DrawingScale:
    """The scale at which the whole length has room."""
    return scale_for([(figure.length_mm, room_mm - 6.0)])


def _mm(mm: float) -> str:
    return wording.bench_parts(mm, "mm")[0]


def _ticks(length_mm: float, left: float, bottom: float, ratio: float, units: wording.Units) -> list[Markup]:
    """Ticks inside the lower edge at round steps, every fifth or tenth longer."""
    unit = 25.4 if units == "inch" else 1.0
    steps = [n / 8 for n in (1, 2, 4, 8, 16)] if units == "inch" else list(TICKS_MM)
    step = next((s for s in steps if s * unit * ratio >= LEAST_TICK_MM), steps[-1]) * unit
    parts = []
    for index in range(1, int(length_mm / step) + 1):
        high = 3.0 if index % 5 == 0 else 1.6
        x = left + index * step * ratio * PX
        parts.append(line((x, bottom), (x, bottom - high * PX), "fine"))
    return parts


def _labels(places: list[float], words: list[str], y: float, right: float) -> tuple[list[Markup], int]:
    """The numbered sizes under the marks, on as many lines as keep them apart."""
    ends: list[float] = []
    parts: list[Markup] = []
    for place, told in enumerate(zip(places, words, strict=True), start=1):
        x, size = told
        label = f"{place}: {size}"
        half = text_mm(label) * PX / 2
        middle = min(max(x, half + 2), right - half)
        row = next((i for i, end in enumerate(ends) if middle - half > end + 6), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = middle + half
        parts.append(text(middle, y + row * LINE_MM * PX, label, "label strong", "middle"))
    return parts, max(len(ends), 1)
