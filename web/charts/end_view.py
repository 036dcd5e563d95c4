"""The end of the bar: every layer with its steel's hatch, and an enlarged detail where too thin."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from web.charts.hatch import fill_of
from web.charts.svg import element, level_lines, polyline, rectangle, text

SEEN_PX = 3.0
DETAIL_LAYER_PX = 14.0
RATIOS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
PX_PER_MM = 96.0 / 25.4

Layers = Sequence[tuple[str, float]]


@dataclass(frozen=True)
class Box:
    """A place on the paper in user units."""

    x: float
    y: float
    width: float
    height: float


def layers_seen(layers: Layers, px_per_mm: float) -> bool:
    """Whether the mean layer is thick enough on the paper to be told apart."""
    if not layers:
        return False
    return sum(t for _, t in layers) / len(layers) * px_per_mm >= SEEN_PX


def end_view(box: Box, layers: Layers, key: str, steels: Sequence[str], px_per_mm: float) -> list[Markup]:
    """Layers from the bottom up in the box, or an even tone where they are too thin to draw."""
    outline = rectangle(box.x, box.y, box.width, box.height, "outline")
    if not layers_seen(layers, px_per_mm):
        tone = rectangle(box.x, box.y, box.width, box.height, "tone")
        return [tone, *_fine_lines(box), outline]
    return [*_stacked(box, layers, key, steels), outline]


def _stacked(box: Box, layers: Layers, key: str, steels: Sequence[str]) -> list[Markup]:
    """The layers in the box at the box's own scale, bottom up, a line at each seam."""
    total = sum(thickness for _, thickness in layers)
    parts: list[Markup] = []
    seams: list[float] = []
    y = box.y + box.height
    for place, (steel, thickness) in enumerate(layers):
        height = thickness / total * box.height
        y -= height
        parts.append(rectangle(box.x, y, box.width, height, "layer", fill_of(key, steels, steel)))
        if place:
            seams.append(y + height)
    return [*parts, level_lines(box.x, box.width, seams, "seam")] if seams else parts


def _fine_lines(box: Box) -> list[Markup]:
    count = max(int(box.height / 4), 1)
    heights = [box.y + box.height * (i + 0.5) / count for i in range(count)]
    return [level_lines(box.x, box.width, heights, "fine")]


def detail_ratio(mean_layer_mm: float) -> int:
    """The enlargement n of a detail n:1 at which a mean layer can be seen."""
    wanted = DETAIL_LAYER_PX / (mean_layer_mm * PX_PER_MM)
    return next((ratio for ratio in RATIOS if ratio >= wanted), RATIOS[-1])


def detail(
    centre: tuple[float, float], radius: float, layers: Layers, key: str, steels: Sequence[str]
) -> list[Markup]:
    """A circle with the layers about the middle of the bar, enlarged, and its scale in words."""
    mean = sum(thickness for _, thickness in layers) / len(layers)
    ratio = detail_ratio(mean)
    px_per_mm = ratio * PX_PER_MM
    cut = _middle(layers, 2 * radius / px_per_mm)
    cx, cy = centre
    height = sum(thickness for _, thickness in cut) * px_per_mm
    box = Box(cx - radius, cy - height / 2, 2 * radius, height)
    clip = element("clipPath", element("circle", cx=cx, cy=cy, r=radius), id=f"{key}-circle")
    inside = element("g", *_stacked(box, cut, key, steels), clip_path=f"url(#{key}-circle)")
    return [
        element("defs", clip),
        inside,
        element("circle", cx=cx, cy=cy, r=radius, class_="outline"),
        text(cx, cy + radius + 18, f"A ({ratio}:1)", "label", "middle"),
    ]


def _middle(layers: Layers, room_mm: float) -> list[tuple[str, float]]:
    """Whole layers from the middle outwards until they fill the room (or there are no more)."""
    low = high = len(layers) // 2
    taken = 0.0
    while taken < room_mm and (low > 0 or high < len(layers)):
        if high < len(layers):
            taken += layers[high][1]
            high += 1
        if low > 0 and taken < room_mm:
            low -= 1
            taken += layers[low][1]
    return list(layers[low:high])


def detail_mark(box: Box) -> list[Markup]:
    """The small circle on the end view that names the place of the detail."""
    cx, cy = box.x + box.width / 2, box.y + box.height / 2
    return [
        element("circle", cx=cx, cy=cy, r=6, class_="detail-mark"),
        polyline([(cx + 4, cy - 4), (cx + 13, cy - 16)], "leader"),
        text(cx + 14, cy - 18, "A", "label halo"),
    ]


def legend(
    x: float, y: float, steels: Sequence[str], names: Sequence[str], key: str, room: float
) -> tuple[list[Markup], float]:
    """Each steel's swatch with its name beside it, wrapped to the room; and the height it took."""
    parts: list[Markup] = []
    left, top = x, y
    for steel, name in zip(steels, names, strict=True):
        wide = 38 + len(name) * 7.8
        if left > x and left + wide > x + room:
            left, top = x, top + 26
        parts.append(rectangle(left, top, 24, 16, "swatch", fill_of(key, steels, steel)))
        parts.append(text(left + 30, top + 13, name, "label"))
        left += wide + 12
    return parts, top + 26 - y
