"""The plan at the anvil: one heat a screen, nothing to be changed."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import canonical_json
from web.anvil import forging_heats, treatment_heats
from web.anvil_pages import Anvil
from web.http.address import RecipeMapping
from web.http.links import Links
from web.http.request_parsing import (
    form_pairs,
    links_of,
    recipe_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/anvil", methods=["GET", "HEAD"])
def anvil(request: Request, service: ServiceDep) -> Response:
    """The heats of a recipe in the address."""
    address, mapping = recipe_in_address(request)
    return _page(service, links_of(request, units_of(request), address), mapping)


@router.post("/anvil")
def anvil_of_form(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The same for a recipe too long for an address."""
    mapping = recipe_in_form(body)
    links = links_of(request, units_of_form(form_pairs(body), request), mapping)
    return _page(service, links, mapping)


def _page(service: Service, links: Links, mapping: RecipeMapping) -> Response:
    report = service.calculator.report_or_problem(mapping)
    page = Anvil(
        links=links,
        version=service.version,
        report=report,
        forging=forging_heats(report),
        treatment=treatment_heats(report),
        recipe_text=canonical_json(mapping),
    )
    return service.renderer.page(page)
