"""The pictures of a bar as PNG files."""

import hashlib
from dataclasses import replace

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import FaceAsked
from web.face_question import FIRST, face_asked
from web.http.address import RecipeMapping
from web.http.request_parsing import FORM_TYPES, json_recipe, recipe_in_address, recipe_in_form
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)
KEPT = "private, max-age=3600"
"""The same address gives the same picture until the program changes; browsers ask again after an hour."""


@router.api_route("/face.png", methods=["GET", "HEAD"])
def face(request: Request, service: ServiceDep) -> Response:
    """One view of the bar in the address; a browser that has it already is told so."""
    asked = face_asked(request.query_params)
    _, mapping = recipe_in_address(request)
    tag = _tag(service, str(request.url.query))
    headers = {"Cache-Control": KEPT, "ETag": tag}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    return _picture(service, mapping, asked, headers)


@router.post("/face.png")
def posted_face(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The same for a recipe too long for an address, as JSON or as the field of a form."""
    asked = face_asked(request.query_params)
    mapping = recipe_in_form(body) if body.media_type in FORM_TYPES else json_recipe(body)
    return _picture(service, mapping, asked, {"Cache-Control": "no-store"})


def _picture(service: Service, mapping: RecipeMapping, asked: FaceAsked, headers: dict[str, str]) -> Response:
    if asked.view == FIRST:
        first = service.calculator.first_asked(mapping)
        asked = replace(first, width_px=min(asked.width_px, first.width_px))
    return Response(service.calculator.face_png(mapping, asked), media_type="image/png", headers=headers)


def _tag(service: Service, query: str) -> str:
    told = hashlib.sha256(f"{service.version} {query}".encode()).hexdigest()[:20]
    return f'"{told}"'
