"""The pictures of a page: where each is to be had, how large it is, and what it shows in words."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from billet import BilletError, FaceAsked, FaceFacts, FaceView, View, quantities
from web.calculation import Calculator
from web.face_question import face_query
from web.http.address import RecipeMapping
from web.http.links import Links


@dataclass(frozen=True)
class FaceShown:
    """One picture: its address, what it shows, and its size in pixels, scale bar included."""

    path: str
    alt: str
    width: int
    height: int
    facts: FaceFacts

    @property
    def ratio(self) -> float:
        """Its width over its height."""
        return self.width / self.height


@dataclass(frozen=True)
class Faces:
    """The pictures of a bar, or why there are none; `typed` fills the fields, `faults` stand beside them."""

    shown: tuple[FaceShown, ...] = ()
    why_not: str | None = None
    typed: Mapping[str, str] = field(default_factory=dict)
    faults: Mapping[str, str] = field(default_factory=dict)


NO_FACES = Faces()
"""Before anyone asked for pictures."""
FIELDS: dict[str, tuple[View, str]] = {
    "ground": ("face", "ground_mm"),
    "angle": ("bevel", "half_angle_deg"),
    "blade": ("bevel", "blade_width_mm"),
}
"""What can be typed beside the pictures: which view it changes, and which field of what is asked."""


def faces_of(calculator: Calculator, mapping: RecipeMapping, links: Links, query: Mapping[str, str]) -> Faces:
    """The pictures that tell most of a bar that can be planned, cut as the address asks."""
    try:
        views = calculator.first_faces(mapping, None, links.units)
    except BilletError as refused:
        return Faces(why_not=str(refused))
    typed = {name: query.get(name, "") for name in FIELDS}
    told: dict[str, float] = {}
    faults: dict[str, str] = {}
    for name, (view, key) in FIELDS.items():
        if not typed[name].strip():
            continue
        try:
            told[key] = _value(name, typed[name], links)
            calculator.face_view(mapping, _changed(FaceAsked(view), {key: told[key]}), links.units)
        except BilletError as refused:
            faults[name] = str(refused)
            told.pop(key, None)
    if "ground_mm" in told:
        views = calculator.first_faces(mapping, told["ground_mm"], links.units)
    shown = tuple(_shown(calculator, mapping, links, told, *one) for one in views)
    return Faces(shown, None, typed, faults)


def _value(name: str, text: str, links: Links) -> float:
    return quantities.read_number(text) if name == "angle" else quantities.read_length_mm(text, links.units)


def _changed(asked: FaceAsked, told: Mapping[str, Any]) -> FaceAsked:
    """The view with what was told of it; the face is told in `first_views` how much is ground off."""
    own = {key: told[key] for view, key in FIELDS.values() if view == asked.view and key in told}
    return replace(asked, **own)


def _shown(
    calculator: Calculator,
    mapping: RecipeMapping,
    links: Links,
    told: Mapping[str, float],
    asked: FaceAsked,
    view: FaceView,
) -> FaceShown:
    """A view as the page shows it, the bevel as it was told."""
    if asked.view == "bevel" and (changed := _changed(asked, told)) != asked:
        asked, view = changed, calculator.face_view(mapping, changed, links.units)
    return FaceShown(links.face(face_query(asked)), view.alt, *view.png_size, view.facts)


def face_on_paper(calculator: Calculator, mapping: RecipeMapping, links: Links) -> FaceShown | None:
    """The face for a sheet, else the view that tells most; None where none can be drawn or has no address."""
    if links.address is None:
        return None
    shown = faces_of(calculator, mapping, links, {}).shown
    return next((view for view in shown if view.facts.view == "face"), shown[0] if shown else None)
