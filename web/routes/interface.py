"""The interface for programs: JSON in, JSON out, described in /openapi.json."""

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from billet import Fault, partners, propose, state_dict, steel_dict, sweep
from web.http.json_answer import JsonAnswer
from web.http.problems import Problem
from web.http.request_parsing import json_recipe
from web.many_bars_description import PARTNER_PARAMETERS, SWEEP_BODY, WISH_BODY
from web.openapi import ELEMENT_PARAMETERS, RECIPE_BODY, refusals, returns
from web.partner_question import FIELDS, asked_texts, asked_wt, read_question, unknown_fields
from web.routes.library import found_steels
from web.service import BodyDep, ServiceDep
from web.state_question import answer_state, state_question

router = APIRouter(prefix="/api", tags=["interface"])


@router.post(
    "/plan", openapi_extra=RECIPE_BODY, responses=returns("Report") | refusals(400, 413, 415, 422, 429)
)
def plan(service: ServiceDep, body: BodyDep) -> Response:
    """Plan a bar: a recipe in, the report out."""
    return JsonAnswer(service.calculator.report_or_problem(json_recipe(body)).to_dict())


@router.get("/steels", responses=returns("Steels") | refusals(414, 422))
def steels(
    q: str = Query("", max_length=100, description="part of a designation, number or name"),
) -> Response:
    """The steels of the library, or those that bear what is asked."""
    return JsonAnswer([steel_dict(steel) for steel in found_steels(q)])


@router.get("/state", openapi_extra=ELEMENT_PARAMETERS, responses=returns("State") | refusals(414, 422))
def state(request: Request) -> Response:
    """What a steel is at a temperature: a grade or an analysis in, phases and their carbon out."""
    empty = [Fault(name, f"{name} is empty") for name, text in request.query_params.items() if not text]
    answer, faults = (None, empty) if empty else answer_state(state_question(request))
    if faults or answer is None:
        nothing = Fault("temperature_c", "temperature_c is missing")
        raise Problem(422, "the question cannot be answered", faults or [nothing])
    return JsonAnswer(state_dict(answer))


@router.post(
    "/sweep", openapi_extra=SWEEP_BODY, responses=returns("Sweep") | refusals(400, 413, 415, 422, 429)
)
def swept(service: ServiceDep, body: BodyDep) -> Response:
    """The answer against one number of a recipe: `recipe` and `vary`, PLACE=LOW:HIGH:STEP."""
    asked = json_recipe(body)
    recipe, vary = asked.get("recipe"), asked.get("vary")
    faults = [Fault(name, f"unknown key {name!r}"[:100]) for name in asked if name not in ("recipe", "vary")]
    if not isinstance(recipe, dict):
        faults.append(Fault("recipe", "recipe is a recipe, as for /api/plan"))
    if not isinstance(vary, str):
        faults.append(Fault("vary", "vary is text: PLACE=LOW:HIGH:STEP"))
    if faults or not isinstance(recipe, dict) or not isinstance(vary, str):
        raise Problem(422, "the question cannot be answered", faults)
    return JsonAnswer(service.calculator.run(f"sweep {asked}", lambda: sweep(recipe, vary)).to_dict())


@router.get(
    "/partners",
    openapi_extra=PARTNER_PARAMETERS,
    responses=returns("Partners") | refusals(414, 422, 429),
)
def partners_of(service: ServiceDep, request: Request) -> Response:
    """Partners of a steel, each verdict by itself."""
    steel, question, faults = read_question(asked_texts(request), asked_wt(request))
    faults = (*unknown_fields(request, FIELDS), *faults)
    if faults or question is None:
        raise Problem(422, "the question cannot be answered", faults)
    if steel is None:
        raise Problem(422, "the question cannot be answered", [Fault("steel", "steel is missing")])
    key = f"partners {request.query_params}"
    return JsonAnswer(service.calculator.run(key, lambda: partners(steel, question)).to_dict())


@router.post(
    "/wish", openapi_extra=WISH_BODY, responses=returns("WishAnswer") | refusals(400, 413, 415, 422, 429)
)
def wished(service: ServiceDep, body: BodyDep) -> Response:
    """From the bar wanted back to the stack: proposals, or what stands in the way and the nearest bar."""
    asked = json_recipe(body)
    return JsonAnswer(service.calculator.run(f"wish {asked}", lambda: propose(asked)).to_dict())
