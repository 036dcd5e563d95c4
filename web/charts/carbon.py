"""Carbon across the bar from bottom to top, before and after a step, seams marked."""

from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from markupsafe import Markup

from billet import wording
from web.charts.axes import Scale, bottom_axis, left_axis
from web.charts.hatch import definitions, fill_of
from web.charts.svg import Point, drawing, element, group, number, polyline, text, upright_lines

if TYPE_CHECKING:
    from billet import Report

Run = tuple[str, list[Point]]
"""One layer: its steel, and (position in mm, carbon in wt%) from bottom to top."""

WHOLE_BAR_LAYERS = 32
PART_LAYERS = 12
STRIP = 18.0


def carbon_profile(
    report: "Report",
    step: int,
    key: str = "carbon",
    width: float = 700.0,
    part: Literal["middle", "bottom"] = "middle",
) -> Markup:
    """Carbon after `step` as a full line, before it as a dashed one; empty without a profile.

    Up to thirty-two layers the whole bar is drawn; past that twelve layers in the middle, or with
    `part` "bottom" the twelve at the bottom face with its skin (empty where the whole bar is drawn
    anyway). The line before stands at the height the bar has now, and only where the layers are still
    the same ones.
    """
    after = _runs(report, step)
    whole = len(after) <= WHOLE_BAR_LAYERS
    if not after or (whole and part == "bottom"):
        return Markup("")
    before = _same_layers(_runs(report, step - 1), after)
    where = ""
    if not whole:
        first = (len(after) - PART_LAYERS) // 2 if part == "middle" else 0
        after, before = after[first : first + PART_LAYERS], before[first : first + PART_LAYERS]
        where = "middle of the bar, " if part == "middle" else "at the bottom face, "
    return _draw(report, step, (_moved(before, after), after), where, key, width)


def _same_layers(before: list[Run], after: list[Run]) -> list[Run]:
    """The earlier layers that are still there: the outermost may have gone, as evenly as can be."""
    wanted = [steel for steel, _ in after]
    gone = len(before) - len(after)
    for first in sorted(range(max(gone, -1) + 1), key=lambda first: abs(first - gone / 2)):
        kept = before[first : first + len(after)]
        if [steel for steel, _ in kept] == wanted:
            return kept
    return []


def _runs(report: "Report", step: int) -> list[Run]:
    """The profile of a step cut at its seams (two points at one position)."""
    profile = next((p for p in report.carbon.profiles if p.step == step), None)
    if profile is None:
        return []
    at, steel = profile.position_mm, profile.steel
    seams = [i for i in range(1, len(at)) if at[i] == at[i - 1] or steel[i] != steel[i - 1]]
    points = list(zip(at, profile.carbon_wt, strict=True))
    runs = [(steel[first], points[first:end]) for first, end in pairwise((0, *seams, len(at)))]
    return [run for run in runs if len(run[1]) > 1] or runs


def _moved(before: list[Run], after: list[Run]) -> list[Run]:
    """The earlier layers stretched to where the same layers lie now."""
    moved: list[Run] = []
    for (steel, old), (_, new) in zip(before, after, strict=False):
        span = (old[-1][0] - old[0][0]) or 1.0
        ratio = (new[-1][0] - new[0][0]) / span
        moved.append((steel, [(new[0][0] + (x - old[0][0]) * ratio, y) for x, y in old]))
    return moved


def _draw(
    report: "Report",
    step: int,
    runs: tuple[list[Run], list[Run]],
    where: str,
    key: str,
    width: float,
) -> Markup:
    before, after = runs
    carbons = [y for _, points in before + after for _, y in points]
    steels = [item.steel for item in report.steels]
    across = Scale(after[0][1][0][0], after[-1][1][-1][0], 56, width - 74)
    span = max(max(carbons) - min(carbons), 0.1)
    up = Scale(max(min(carbons) - span, 0.0), max(carbons) + 0.15 * span, 240, 40)
    parts: list[Markup] = [definitions(key, steels)]
    parts += left_axis(up, 50, "carbon, % by mass", rule_to=width - 74)
    for steel in steels:
        ends = [(across(p[0][0]), across(p[-1][0])) for name, p in after if name == steel]
        strips = "".join(f"M{number(x)} 244H{number(to)}v{number(STRIP)}H{number(x)}z" for x, to in ends)
        if strips:
            parts.append(element("path", d=strips, class_="layer", fill=fill_of(key, steels, steel)))
    marks = [across(points[0][0]) for _, points in after[1:]]
    parts += [upright_lines(marks, 40, 204 + STRIP, "seam-mark")] if marks else []
    for drawn, class_ in ((before, "curve curve-before"), (after, "curve curve-after")):
        lines = [polyline([(across(x), up(y)) for x, y in points]) for _, points in drawn]
        parts += [group(lines, class_)] if lines else []
    parts += _names(before, after, up, width)
    parts += bottom_axis(across, 244 + STRIP, f"{where}bottom to top, mm", 6 if width > 500 else 4)
    low = min(y for _, points in after for _, y in points)
    high = max(y for _, points in after for _, y in points)
    told = f"Carbon runs from {wording.wt(low)} to {wording.wt(high)} across the bar."
    title = "Carbon in the cold stack" if step == 0 else f"Carbon across the bar after step {step}"
    return drawing(key, width, 244 + STRIP + 48, title, told, parts)


def _names(before: list[Run], after: list[Run], up: Scale, width: float) -> list[Markup]:
    """The names of the two lines at their right ends, kept apart."""
    x = width - 70
    y_after = up(after[-1][1][-1][1]) + 5
    parts = [text(x, y_after, "after", "label")]
    if before:
        y_before = up(before[-1][1][-1][1]) + 5
        if abs(y_before - y_after) < 16:
            y_before = y_after + (16 if y_before >= y_after else -16)
        parts.append(text(x, y_before, "before", "label soft"))
    return parts
