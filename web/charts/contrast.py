"""Difference of each alloying element between the layers: at the start, and what is left of it."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import Scale, bottom_axis
from web.charts.svg import drawing, rectangle, text

if TYPE_CHECKING:
    from billet import Report

ROW = 44.0


def alloy_contrast(report: "Report", key: str = "contrast", width: float = 700.0) -> Markup:
    """One row an element: an outlined bar for the start, a full one for now; empty without any."""
    elements = {k: v for k, v in report.pattern.elements.items() if v.start_wt > 0}
    if not elements:
        return Markup("")
    most = max(max(item.start_wt, item.now_wt) for item in elements.values())
    across = Scale(0.0, most * 1.05, 56, width - (150 if width > 500 else 96))
    parts: list[Markup] = []
    for place, (name, item) in enumerate(elements.items()):
        y = 14 + ROW * place
        parts.append(text(44, y + 20, name, "label strong", "end"))
        parts.append(rectangle(across.start, y, across(item.start_wt) - across.start, 26, "bar-start"))
        parts.append(rectangle(across.start, y + 7, across(item.now_wt) - across.start, 12, "bar-now"))
        words = f"{wording.percent(item.left)} left"
        parts.append(text(across(max(item.start_wt, item.now_wt)) + 8, y + 18, words, "label"))
    bottom = 14 + ROW * len(elements)
    parts += bottom_axis(across, bottom, "difference between the layers, % by mass", 5)
    told = "; ".join(f"{n} {wording.percent(item.left)} left" for n, item in elements.items())
    return drawing(key, width, bottom + 48, "What is left of the alloy contrast", told, parts)
