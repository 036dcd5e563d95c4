"""Where to cut: the bar from above as a ruler from the handle end, the saw's strips hatched."""

from dataclasses import dataclass

from markupsafe import Markup

from billet import CutFigure, wording
from web.charts.hatch import band_definitions, band_fill
from web.charts.paper.sheet import PX, DrawingScale, paper_drawing, scale_for, text_mm
from web.charts.svg import line, rectangle, text

ROOM_MM = 178.0
TALL_MM = 6.8
LEFT, TOP_MM = 3.0 * PX, 1.0
LINE_MM, UNDER_MM, BELOW_MM = 5.2, 4.9, 1.2
BASE_MM = 3.5
"""From the upper edge to the foot of letters that stand in the ruler, above its ticks."""
BESIDE_MM, END_MM = 1.0, 7.5
TICKS_MM = (1, 2, 5, 10, 20, 50, 100)
LEAST_TICK_MM = 1.6


@dataclass(frozen=True)
class Marks:
    """The marks of a ruler at one scale: where each stands, what is written at it, where that begins inside
    the ruler (nothing where it has no room), and what it takes to the right. User units."""

    places: tuple[float, ...]
    told: tuple[str, ...]
    starts: tuple[float, ...]

    @property
    def end(self) -> float:
        """Where the last label ends."""
        wide = text_mm(self.told[-1]) * PX
        return self.starts[-1] + wide if self.starts else self.places[-1] + wide / 2


def cut_ruler(
    figure: CutFigure, key: str = "cut", units: wording.Units = "mm", room_mm: float = ROOM_MM
) -> Markup:
    """The length of the bar to scale with ticks, each mark numbered and measured from the handle end."""
    scale = ruler_scale(figure, units, room_mm)
    marks = _marks(figure, units, scale, room_mm)
    top, long = TOP_MM * PX, scale(figure.length_mm)
    bottom = top + TALL_MM * PX
    parts: list[Markup] = [band_definitions(key, 1)]
    parts.append(rectangle(LEFT, top, long, bottom - top, "outline paper"))
    parts += _ticks(figure.length_mm, LEFT, bottom, scale.ratio, units)
    for start, end in figure.kerfs_mm:
        strip = (LEFT + scale(start), top, scale(end - start), bottom - top)
        parts.append(rectangle(*strip, "kerf", band_fill(key, 0)))
    parts += [line((x, top - 3), (x, bottom + 4), "cut-line") for x in marks.places]
    labels, lines = _labels(marks, top, bottom, LEFT + room_mm * PX)
    height = bottom + (BELOW_MM + LINE_MM * lines) * PX
    title = f"Where to {'fold' if figure.folded else 'cut'} in step {figure.step}"
    told = "From the handle end: " + ", ".join(word.partition(": ")[2] for word in marks.told)
    width = max(LEFT + long, marks.end) + 4
    return paper_drawing(key, width, height, title, told, [*parts, *labels], "ruler")


def ruler_scale(figure: CutFigure, units: wording.Units = "mm", room_mm: float = ROOM_MM) -> DrawingScale:
    """The scale at which the whole length has room; the next one down where that takes the labels inside."""
    most = scale_for([(figure.length_mm, room_mm - 6.0)])
    less = scale_for([(1.0, 0.99 * most.ratio)])
    for scale in (most, less):
        if _marks(figure, units, scale, room_mm).starts:
            return scale
    return most


def _marks(figure: CutFigure, units: wording.Units, scale: DrawingScale, room_mm: float) -> Marks:
    """The marks with their labels, each beyond its mark and the saw's strip and before the next mark; the
    last may stand behind the ruler."""
    places = tuple(LEFT + scale(mm) for mm in figure.marks_mm)
    words = (wording.bench_mark(mm, units) if units == "inch" else _mm(mm) for mm in figure.marks_mm)
    told = tuple(f"{place}: {size}" for place, size in enumerate(words, start=1))
    strips = {start: end for start, end in figure.kerfs_mm}
    bar_end = LEFT + scale(figure.length_mm)
    starts: list[float] = []
    for mm, label, room in zip(figure.marks_mm, told, (*places[1:], bar_end), strict=True):
        begin, wide = LEFT + scale(strips.get(mm, mm)) + BESIDE_MM * PX, text_mm(label) * PX
        if room == bar_end and begin + wide > room:
            begin, room = bar_end + BESIDE_MM * PX, LEFT + (room_mm + END_MM) * PX
        if begin + wide > room - 2:
            return Marks(places, told, ())
        starts.append(begin)
    return Marks(places, told, tuple(starts))


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


def _labels(marks: Marks, top: float, bottom: float, right: float) -> tuple[list[Markup], int]:
    """The numbered sizes in the ruler, or under the marks on as many lines as keep them apart."""
    if marks.starts:
        y = top + BASE_MM * PX
        both = zip(marks.starts, marks.told, strict=True)
        return [text(x, y, label, "label strong") for x, label in both], 0
    ends: list[float] = []
    parts: list[Markup] = []
    for x, label in zip(marks.places, marks.told, strict=True):
        half = text_mm(label) * PX / 2
        middle = min(max(x, half + 2), right - half)
        row = next((i for i, end in enumerate(ends) if middle - half > end + 6), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = middle + half
        y = bottom + (UNDER_MM + row * LINE_MM) * PX
        parts.append(text(middle, y, label, "label strong", "middle"))
    return parts, max(len(ends), 1)
