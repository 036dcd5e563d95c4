"""What is asked of a picture in an address: one vocabulary for reading it and for writing links."""

from collections.abc import Mapping
from typing import Any

from billet import FaceAsked, Fault
from web.http.problems import Problem

USUAL = FaceAsked()
FIRST = "first"
"""In place of a view: the one that tells most of the bar."""
LONGEST_NUMBER = 20
NUMBERS = {
    "ground": ("ground_mm", "the mm ground off"),
    "from": ("from_mm", "the mm from the handle end to the left side"),
    "length": ("length_mm", "the mm of length that are shown"),
    "angle": ("half_angle_deg", "the degrees of half the bevel's angle"),
    "blade": ("blade_width_mm", "the mm of the blade's width"),
}
"""Names in an address, with the field that each becomes and the words for it."""


def face_asked(query: Mapping[str, str]) -> FaceAsked:
    """The view that an address asks for; what it does not name is as usual. Raises Problem 400."""
    values: dict[str, Any] = {field: number_in(query, name) for name, (field, _) in NUMBERS.items()}
    values["view"] = query.get("view") or USUAL.view
    values["hand"] = query.get("hand", "yes") != "no"
    values["width_px"] = _whole(query.get("width", ""))
    return FaceAsked(**values)


def number_in(query: Mapping[str, str], name: str) -> float | None:
    """A number of the address by its name there; None where it is empty. Raises Problem 400."""
    text = query.get(name, "").strip()
    if not text:
        return None
    try:
        return float(text.replace(",", ".")) if len(text) <= LONGEST_NUMBER else _refuse(name)
    except ValueError:
        return _refuse(name)


def _refuse(name: str) -> float:
    told = f"{NUMBERS[name][1]} must be a number, such as 0.3"
    raise Problem(400, told, [Fault(name, told)])


def _whole(text: str) -> int:
    if not text:
        return USUAL.width_px
    if not (text.isascii() and text.isdigit() and len(text) <= LONGEST_NUMBER):
        told = "the width of the picture must be a whole number of pixels"
        raise Problem(400, told, [Fault("width", told)])
    return int(text)


def face_query(asked: FaceAsked) -> list[tuple[str, str]]:
    """The same the other way: what an address must name to ask for this view."""
    pairs = [("view", str(asked.view)), ("width", str(asked.width_px))]
    for name, (field, _) in NUMBERS.items():
        value = getattr(asked, field)
        if value is not None:
            pairs.append((name, f"{value:.6g}"))
    return pairs if asked.hand else [*pairs, ("hand", "no")]
