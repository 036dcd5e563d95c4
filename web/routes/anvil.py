"""The plan at the anvil: one heat a screen, nothing to be changed."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import canonical_json
from web.anvil import forging_heats, treatment_heats
from web.anvil_pages import Anvil
from web.http.request_parsing import asked_recipe
from web.service import BodyDep, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/anvil", methods=["GET", "HEAD", "POST"])
def anvil(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The heats of a recipe, in the address or posted."""
    links, mapping = asked_recipe(request, body)
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
