"""The bar after a step as a card of the design page bears it: pieces, core, layers, twist, one scale."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from markupsafe import Markup

from billet import wording
from web.charts.bar import BREAK_GAP
from web.charts.dimension import break_line
from web.charts.end_view import SEEN_PX, Box
from web.charts.hatch import fill_of, with_definitions
from web.charts.svg import drawing, element, level_lines, number, rectangle

if TYPE_CHECKING:
    from billet import Report

END_ROOM, LENGTH_ROOM, BETWEEN = 62.0, 122.0, 14.0
FINE_PX = 3.0
GAP_PX = 2.5
TURN_PX = 9.0


@dataclass(frozen=True)
class _Band:
    """A part of the height, from the bottom up: one layer that can be seen, or many that cannot."""

    steel: str
    thickness_mm: float


def bar_grown(report: "Report", step: int, key: str, length_units: wording.Units = "mm") -> Markup:
    """Front and end view after `step`, at the scale that fits the largest bar of all steps."""
    row = report.schedule[step]
    px_per_mm = END_ROOM / max(max(r.height_mm, r.width_mm) for r in report.schedule)
    high, wide = row.height_mm * px_per_mm, row.width_mm * px_per_mm
    top = 4 + (END_ROOM - high) / 2
    front = Box(2, top, min(row.length_mm * px_per_mm, LENGTH_ROOM), high)
    end = Box(LENGTH_ROOM + BETWEEN, top, wide, high)
    steels = [item.steel for item in report.steels]
    broken = row.length_mm * px_per_mm > LENGTH_ROOM + 0.01
    parts = [*side_parts(report, step, front, broken), *end_parts(report, step, end, key)]
    parts = with_definitions(key, steels, parts)
    title = "Cold stack" if step == 0 else f"Bar after step {row.step}"
    told = size_told(report, step, length_units)
    return drawing(key, LENGTH_ROOM + BETWEEN + END_ROOM + 2, END_ROOM + 8, title, told, parts, "card")


def size_told(report: "Report", step: int, length_units: wording.Units) -> str:
    """The size of the bar after a step in words, and in how many pieces it lies."""
    row = report.schedule[step]
    told = wording.size(row.height_mm, row.width_mm, row.length_mm, length_units)
    pieces = len(piece_heights_mm(report, step))
    return f"{told}; {pieces} pieces loose" if pieces > 1 else told


def side_parts(report: "Report", step: int, box: Box, broken: bool) -> list[Markup]:
    """The side of the bar in its box; broken where it is longer than that."""
    bands = _bands(report.schedule[step].layers, _px_per_mm(report, step, box))
    return _front(box, bands, piece_heights_mm(report, step), broken, _twisted(report, step))


def end_parts(report: "Report", step: int, box: Box, key: str) -> list[Markup]:
    """The end of the bar in its box, each steel with its hatch."""
    if _twisted(report, step):
        tone = rectangle(box.x, box.y, box.width, box.height, "tone")
        return [tone, *_slanted(box), rectangle(box.x, box.y, box.width, box.height, "outline")]
    bands = _bands(report.schedule[step].layers, _px_per_mm(report, step, box))
    steels = [item.steel for item in report.steels]
    return _end(box, bands, piece_heights_mm(report, step), key, steels)


def _px_per_mm(report: "Report", step: int, box: Box) -> float:
    return box.height / report.schedule[step].height_mm


def _twisted(report: "Report", step: int) -> bool:
    return any(row.do == "twist" for row in report.schedule[: step + 1])


def piece_heights_mm(report: "Report", step: int) -> tuple[float, ...]:
    """Heights of what lies loose after a step, from the bottom up; one where the bar is joined."""
    row = report.schedule[step]
    if not row.loose or step == 0:
        return (row.height_mm,)
    told: Mapping[str, Any] = report.recipe["steps"][step - 1]
    piece_mm = report.schedule[step - 1].height_mm
    if not told.get("lay"):
        return (row.height_mm / row.pieces,) * row.pieces if row.pieces > 0 else (row.height_mm,)
    laid = told["lay"]
    plates = {i: float(p["thickness_mm"]) for i, p in enumerate(laid) if "thickness_mm" in p}
    return tuple(plates.get(i, piece_mm) for i in range(len(laid)))


def _bands(layers: Sequence[tuple[str, float]], px_per_mm: float) -> list[_Band]:
    """Layers that can be seen each by itself, runs of thinner ones as one band without a steel."""
    bands: list[_Band] = []
    for steel, thickness in layers:
        if thickness * px_per_mm >= SEEN_PX:
            bands.append(_Band(steel, thickness))
        elif bands and not bands[-1].steel:
            bands[-1] = _Band("", bands[-1].thickness_mm + thickness)
        else:
            bands.append(_Band("", thickness))
    return bands or [_Band("", 1.0)]


def _places(box: Box, bands: Sequence[_Band]) -> list[tuple[_Band, float, float]]:
    """Each band with its top and its height in the box."""
    total, y, found = sum(b.thickness_mm for b in bands), box.y + box.height, []
    for band in bands:
        height = band.thickness_mm / total * box.height
        y -= height
        found.append((band, y, height))
    return found


def _front(
    box: Box, bands: Sequence[_Band], pieces: Sequence[float], broken: bool, twisted: bool
) -> list[Markup]:
    parts = [rectangle(box.x, box.y, box.width, box.height, "outline paper")]
    if twisted:
        parts += _slanted(box)
    else:
        seams = [y for _, y, _ in _places(box, bands)][:-1]
        thin = [line for band, y, h in _places(box, bands) if not band.steel for line in _fine(y, h)]
        drawn = ((seams, "seam"), (thin, "fine"))
        parts += [level_lines(box.x, box.width, heights, kind) for heights, kind in drawn if heights]
    parts += _gaps(box, pieces)
    if broken:
        x, far = box.x + box.width * 0.7, box.x + box.width * 0.7 + BREAK_GAP / 2
        parts.append(rectangle(x, box.y - 2, far - x, box.height + 4, "blank"))
        parts += [break_line(x, box.y, box.y + box.height), break_line(far, box.y, box.y + box.height)]
    return parts


def _end(
    box: Box, bands: Sequence[_Band], pieces: Sequence[float], key: str, steels: Sequence[str]
) -> list[Markup]:
    parts: list[Markup] = []
    for band, y, height in _places(box, bands):
        if band.steel:
            parts.append(rectangle(box.x, y, box.width, height, "layer", fill_of(key, steels, band.steel)))
            parts.append(level_lines(box.x, box.width, [y], "seam"))
        else:
            parts.append(rectangle(box.x, y, box.width, height, "tone"))
            if lines := _fine(y, height):
                parts.append(level_lines(box.x, box.width, lines, "fine"))
    return [*parts, rectangle(box.x, box.y, box.width, box.height, "outline"), *_gaps(box, pieces)]


def _fine(y: float, height: float) -> list[float]:
    count = int(height / FINE_PX)
    return [y + height * (i + 0.5) / count for i in range(count)]


def _gaps(box: Box, pieces: Sequence[float]) -> list[Markup]:
    """Daylight between pieces that lie loose, so that four are seen as four."""
    total, below, parts = sum(pieces), 0.0, []
    for height_mm in pieces[:-1]:
        below += height_mm
        y = box.y + box.height * (1.0 - below / total)
        parts.append(rectangle(box.x - 3, y - GAP_PX / 2, box.width + 6, GAP_PX, "blank"))
        parts.append(level_lines(box.x, box.width, [y - GAP_PX / 2, y + GAP_PX / 2], "piece-edge"))
    return parts


def _slanted(box: Box) -> list[Markup]:
    """Lines that climb about a twisted bar, in one element."""
    count = max(int(box.width / TURN_PX), 2)
    step = box.width / count
    starts = (number(box.x + i * step) for i in range(count))
    climb = f"{number(box.y + box.height)}l{number(step)} {number(-box.height)}"
    return [element("path", d="".join(f"M{x} {climb}" for x in starts), class_="fine")]
