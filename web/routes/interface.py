"""The interface for programs: JSON in, JSON out, described in /openapi.json."""

from fastapi import APIRouter, Query, Request
from starlette.responses import JSONResponse, Response

from billet import Fault, state_dict, steel_dict
from web.http.problems import Problem
from web.http.request_parsing import json_recipe
from web.openapi import ELEMENT_PARAMETERS, RECIPE_BODY, refusals, returns
from web.routes.library import found_steels
from web.service import BodyDep, ServiceDep
from web.state_question import answer_state, state_question

router = APIRouter(prefix="/api", tags=["interface"])


@router.post(
    "/plan", openapi_extra=RECIPE_BODY, responses=returns("Report") | refusals(400, 413, 415, 422, 429)
)
def plan(service: ServiceDep, body: BodyDep) -> Response:
    """Plan a bar: a recipe in, the report out."""
    return JSONResponse(service.calculator.report_or_problem(json_recipe(body)).to_dict())


@router.get("/steels", responses=returns("Steels") | refusals(414, 422))
def steels(
    q: str = Query("", max_length=100, description="part of a designation, number or name"),
) -> Response:
    """The steels of the library, or those that bear what is asked."""
    return JSONResponse([steel_dict(steel) for steel in found_steels(q)])


@router.get("/state", openapi_extra=ELEMENT_PARAMETERS, responses=returns("State") | refusals(414, 422))
def state(request: Request) -> Response:
    """What a steel is at a temperature: a grade or an analysis in, phases and their carbon out."""
    empty = [Fault(name, f"{name} is empty") for name, text in request.query_params.items() if not text]
    answer, faults = (None, empty) if empty else answer_state(state_question(request))
    if faults or answer is None:
        nothing = Fault("temperature_c", "temperature_c is missing")
        raise Problem(422, "the question cannot be answered", faults or [nothing])
    return JSONResponse(state_dict(answer))
