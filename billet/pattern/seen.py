"""What is seen in a view, as facts: which figure, how far apart, how strongly the layers stand out."""

import math

from billet.contract.face import View
from billet.contract.values import Fact, Reason
from billet.pattern.bar import SolidBar
from billet.pattern.figure import Figure
from billet.tables.practice import decision_numbers


def seen_in(
    bar: SolidBar, view: View, ground_mm: float, hand: bool, half_angle_deg: float | None
) -> tuple[Reason, ...]:
    """The figure first, then how strongly it shows."""
    dark, bright = bar.greys
    values: dict[str, Fact] = {"layers": bar.layers, "dark": dark, "bright": bright}
    shows = decision_numbers("etch")["shows_from"]
    strength = "none" if bright - dark < shows[0] else "faint" if bright - dark < shows[1] else "clear"
    return (
        *_figures(bar, view, ground_mm, hand, half_angle_deg),
        Reason(f"face-contrast-{strength}", values),
    )


def _figures(
    bar: SolidBar, view: View, ground_mm: float, hand: bool, half_angle_deg: float | None
) -> list[Reason]:
    figure = bar.figure
    if figure.courses and figure.kind in ("flat", "on_edge"):
        found = [Reason("face-bars", {"bars": len(figure.courses), "beside": figure.beside})]
        for course in dict.fromkeys(figure.courses):
            if course.kind not in ("flat", "on_edge"):
                found.append(Reason(f"face-bar-{course.kind}", {"repeat_mm": course.repeat_mm}))
        return found
    if figure.kind in ("flat", "on_edge"):
        return [_flat(bar, view, hand, half_angle_deg)]
    return [_worked(figure, bar, view, ground_mm)]


def _flat(bar: SolidBar, view: View, hand: bool, half_angle_deg: float | None) -> Reason:
    on_edge = bar.figure.kind == "on_edge"
    along = {"face": on_edge, "edge": not on_edge, "end": True, "bevel": False}[view]
    values: dict[str, Fact] = {"layers": bar.layers, "apart_mm": bar.layer_mm}
    if view == "bevel" and not on_edge and half_angle_deg is not None:
        return Reason(
            "face-lines-bevel", {**values, "apart_mm": apart_on_bevel_mm(bar.layer_mm, half_angle_deg)}
        )
    if along or (view == "bevel" and on_edge):
        return Reason("face-lines", values)
    return Reason("face-map" if hand else "face-blank", values)


def apart_on_bevel_mm(layer_mm: float, half_angle_deg: float) -> float:
    """Distance of the lines of flat layers on a bevel: t / sin a."""
    return layer_mm / math.sin(math.radians(half_angle_deg))


def _worked(figure: Figure, bar: SolidBar, view: View, ground_mm: float) -> Reason:
    values: dict[str, Fact] = {"repeat_mm": figure.repeat_mm, "layers": bar.layers, "apart_mm": bar.layer_mm}
    if figure.kind == "twist":
        share = 2.0 * ground_mm / bar.size.height_mm if view == "face" else 0.0
        if view == "end":
            return Reason("face-twist-end", values)
        near, far = decision_numbers("etch")["twist_opens"]
        depth = "bands" if share < near else "curls" if share < far else "stars"
        return Reason(f"face-twist-{depth}", values)
    if view in ("edge", "end") and figure.kind in ("rungs", "rings"):
        return Reason("face-waves", values)
    return Reason(f"face-{figure.kind}", values)
