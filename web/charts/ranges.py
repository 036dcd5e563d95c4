"""Every published hardening range of one grade on one axis."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import source, wording
from web.charts.axes import Scale, shorten
from web.charts.svg import drawing, line, rectangle, text
from web.charts.window import double_axis, range_bar

if TYPE_CHECKING:
    from billet import Steel

ROW = 40.0


def steel_ranges(
    steel: "Steel", key: str = "ranges", width: float = 700.0, shop: wording.Units = "mm"
) -> Markup:
    """One line a source: heavy the one worked with, dashed an outlier, shaded the hull of the others.

    Empty for a grade without a published hardening temperature.
    """
    rows = [row for row in steel.hardening if row.window_c is not None]
    windows = [row.window_c for row in rows if row.window_c is not None]
    if not windows:
        return Markup("")
    low, high = min(w[0] for w in windows), max(w[1] for w in windows)
    room = max((high - low) * 0.15, 15.0)
    scale = Scale(low - room, high + room, 26, width - 26)
    bottom = 14 + ROW * len(rows)
    parts: list[Markup] = []
    if steel.published_envelope_c is not None:
        left, right = scale(steel.published_envelope_c[0]), scale(steel.published_envelope_c[1])
        parts.append(rectangle(left, 8, right - left, bottom - 8, "band-heat"))
    for place, (row, window) in enumerate(zip(rows, windows, strict=True)):
        y = 14 + ROW * place
        name = source(row.source).citation + (", from memory" if row.seen == "memory" else "")
        kind = "preferred" if row.working else "possible" if row.outlier else "supplied"
        label = "worked with" if row.working else "outlier, not counted" if row.outlier else ""
        parts.append(text(4, y + 13, shorten(name, width - 8), "small-label halo"))
        parts += range_bar(scale, window, y + 26, kind, width, label)
        parts.append(line((4, y + ROW - 3), (width - 4, y + ROW - 3), "rule"))
    parts += double_axis(scale, bottom, width, shop)
    told = "; ".join(
        f"{source(row.source).citation} {wording.temperature_range(*window)}"
        for row, window in zip(rows, windows, strict=True)
    )
    title = f"Published hardening ranges of {steel.designation}"
    return drawing(key, width, bottom + 66, title, told, parts)
