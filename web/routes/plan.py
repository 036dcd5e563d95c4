"""The report: as JSON and as a page, from the same address."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import RecipeError, canonical_json
from web.faces import faces_of
from web.http.json_answer import JsonAnswer
from web.http.request_parsing import (
    form_pairs,
    links_of,
    recipe_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.pages import Plan
from web.routes.design import judged_page, page_without_address
from web.service import BodyDep, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/plan.json", methods=["GET", "HEAD"])
def plan_json(request: Request, service: ServiceDep) -> Response:
    """The report alone; declared before the page."""
    _, mapping = recipe_in_address(request)
    return JsonAnswer(service.calculator.report_or_problem(mapping).to_dict())


@router.api_route("/plan", methods=["GET", "HEAD"])
def plan_page(request: Request, service: ServiceDep) -> Response:
    """The page of a recipe; where it is refused, its form with the faults."""
    units = units_of(request)
    address, mapping = recipe_in_address(request)
    links = links_of(request, units, address)
    try:
        report = service.calculator.report(mapping)
    except RecipeError:
        return judged_page(service, request, units, mapping, bad_status=422)
    page = Plan(
        links=links,
        version=service.version,
        report=report,
        recipe_text=canonical_json(mapping),
        public_link=service.public_link(links.below_root("/plan")),
        faces=faces_of(service.calculator, mapping, links, request.query_params),
    )
    return service.renderer.page(page, headers={"Link": f'<{links.plan_json}>; rel="alternate"'})


@router.post("/plan")
def plan_of_form(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The page of a recipe too long for an address."""
    mapping = recipe_in_form(body)
    links = links_of(request, units_of_form(form_pairs(body), request), mapping)
    report = service.calculator.report_or_problem(mapping)
    return page_without_address(service, links, mapping, report)
