"""The pictures of a page: where each is to be had, how large it is, and what it shows in words."""

from collections.abc import Mapping
from dataclasses import dataclass

from billet import BilletError, FaceFacts, quantities
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


@dataclass(frozen=True)
class Faces:
    """The pictures of a bar, or why there are none; `ground` as typed, `fault` what is wrong with it."""

    shown: tuple[FaceShown, ...] = ()
    why_not: str | None = None
    ground: str = ""
    fault: str | None = None


NO_FACES = Faces()
"""Before anyone asked for pictures."""


def faces_of(calculator: Calculator, mapping: RecipeMapping, links: Links, query: Mapping[str, str]) -> Faces:
    """The pictures that tell most of a bar that can be planned, its face at the `ground` of the address."""
    typed = query.get("ground", "")
    try:
        ground_mm = quantities.read_length_mm(typed, links.units) if typed.strip() else None
        return Faces(_shown(calculator, mapping, links, ground_mm), ground=typed)
    except BilletError as refused:
        fault = str(refused)
    try:
        return Faces(_shown(calculator, mapping, links, None), ground=typed, fault=fault)
    except BilletError as refused:
        return Faces(why_not=str(refused))


def _shown(
    calculator: Calculator, mapping: RecipeMapping, links: Links, ground_mm: float | None
) -> tuple[FaceShown, ...]:
    found = calculator.first_faces(mapping, ground_mm, links.units)
    return tuple(
        FaceShown(links.face(face_query(asked)), view.alt, *view.png_size, view.facts)
        for asked, view in found
    )


def face_on_paper(calculator: Calculator, mapping: RecipeMapping, links: Links) -> FaceShown | None:
    """The face for a sheet, else the view that tells most; None where none can be drawn or has no address."""
    if links.address is None:
        return None
    shown = faces_of(calculator, mapping, links, {}).shown
    return next((view for view in shown if view.facts.view == "face"), shown[0] if shown else None)
