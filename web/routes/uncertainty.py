"""How many bars of a hundred come out as planned: as JSON and as a page, from the same address."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import canonical_json
from web.http.json_answer import JsonAnswer
from web.http.request_parsing import asked_recipe, recipe_in_address
from web.pages import UncertaintyPage
from web.service import BodyDep, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/uncertainty.json", methods=["GET", "HEAD"])
def uncertainty_json(request: Request, service: ServiceDep) -> Response:
    """The count alone; declared before the page."""
    _, mapping = recipe_in_address(request)
    return JsonAnswer(service.calculator.uncertainty(mapping).to_dict())


@router.api_route("/uncertainty", methods=["GET", "HEAD", "POST"])
def uncertainty_page(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The page of the count; a recipe that is refused is told as a problem."""
    links, mapping = asked_recipe(request, body)
    page = UncertaintyPage(
        links=links,
        version=service.version,
        uncertainty=service.calculator.uncertainty(mapping),
        recipe_text=canonical_json(mapping),
    )
    twin = {"Link": f'<{links.uncertainty_json}>; rel="alternate"'} if links.address else None
    return service.renderer.page(page, headers=twin)
