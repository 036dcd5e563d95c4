"""How many bars of a hundred come out as planned: as JSON and as a page, from the same address."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import canonical_json
from web.http.address import RecipeMapping
from web.http.json_answer import JsonAnswer
from web.http.links import Links
from web.http.request_parsing import (
    form_pairs,
    links_of,
    recipe_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.pages import UncertaintyPage
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/uncertainty.json", methods=["GET", "HEAD"])
def uncertainty_json(request: Request, service: ServiceDep) -> Response:
    """The count alone; declared before the page."""
    _, mapping = recipe_in_address(request)
    return JsonAnswer(service.calculator.uncertainty(mapping).to_dict())


@router.api_route("/uncertainty", methods=["GET", "HEAD"])
def uncertainty_page(request: Request, service: ServiceDep) -> Response:
    """The page of the count; a recipe that is refused is told as a problem."""
    address, mapping = recipe_in_address(request)
    return _page(service, links_of(request, units_of(request), address), mapping)


@router.post("/uncertainty")
def uncertainty_of_form(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The count for a recipe too long for an address."""
    mapping = recipe_in_form(body)
    units = units_of_form(form_pairs(body), request)
    return _page(service, links_of(request, units, mapping), mapping)


def _page(service: Service, links: Links, mapping: RecipeMapping) -> Response:
    page = UncertaintyPage(
        links=links,
        version=service.version,
        uncertainty=service.calculator.uncertainty(mapping),
        recipe_text=canonical_json(mapping),
    )
    twin = {"Link": f'<{links.uncertainty_json}>; rel="alternate"'} if links.address else None
    return service.renderer.page(page, headers=twin)
