"""What stands behind a plan: as JSON and as a page, from the same address."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import canonical_json
from web.http.json_answer import JsonAnswer
from web.http.request_parsing import asked_recipe, recipe_in_address
from web.pages import StudyPage
from web.service import BodyDep, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/study.json", methods=["GET", "HEAD"])
def study_json(request: Request, service: ServiceDep) -> Response:
    """The study alone; declared before the page."""
    _, mapping = recipe_in_address(request)
    return JsonAnswer(service.calculator.study(mapping).to_dict())


@router.api_route("/study", methods=["GET", "HEAD", "POST"])
def study_page(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The page of a study; a recipe that is refused is told as a problem."""
    links, mapping = asked_recipe(request, body)
    page = StudyPage(
        links=links,
        version=service.version,
        study=service.calculator.study(mapping),
        recipe_text=canonical_json(mapping),
    )
    twin = {"Link": f'<{links.study_json}>; rel="alternate"'} if links.address else None
    return service.renderer.page(page, headers=twin)
