"""The windows of the steels with this fire drawn in, as facts."""

from billet import wording
from billet.contract.report import Report
from billet.sheets.drawn import SteelRange, WindowFigure
from billet.sheets.model import Section, drawn


def window_section(report: Report) -> Section | None:
    """Where each steel hardens well, what they share, and how far this fire swings about the set point."""
    h = report.hardening
    rows = [row for row in h.per_steel if row.role != "soft" and row.possible_c is not None]
    if not rows:
        return None
    control = h.control if h.set_point_c is not None else None
    figure = WindowFigure(
        steels=tuple(SteelRange(row.steel, row.preferred_c, row.possible_c) for row in rows),
        window_c=h.window_c,
        set_point_c=h.set_point_c,
        half_width_k=None if control is None else control.half_width_k,
        least_bad_c=None if h.least_bad is None else h.least_bad.c,
    )
    return drawn("", figure, _told(figure))


def _told(figure: WindowFigure) -> list[str]:
    """The same in words, a line a range."""
    told = []
    for steel in figure.steels:
        good = "good nowhere" if steel.good_c is None else f"good {wording.temperature_range(*steel.good_c)}"
        possible = "" if steel.possible_c is None else f", possible {_aside(steel.possible_c)}"
        told.append(f"{steel.name}: {good}{possible}")
    if figure.window_c is not None:
        told.append(f"Window of the bar: {wording.temperature_range(*figure.window_c)}")
    if figure.set_point_c is not None and figure.half_width_k is not None:
        low, high = figure.set_point_c - figure.half_width_k, figure.set_point_c + figure.half_width_k
        told.append(f"Your fire: {wording.temperature_range(low, high)}")
    return told


def _aside(pair: tuple[float, float]) -> str:
    return wording.temperature_range_aside(*pair)
