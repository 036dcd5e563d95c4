"""What came after a step, entered on the plan page: the rest is planned anew from there."""

from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from billet import Fault, with_own_shop
from web.form.proposing import recipe_of
from web.form.reading import read_measured
from web.http.address import RecipeMapping
from web.http.problems import Problem
from web.http.request_parsing import (
    Body,
    draft_in_address,
    form_pairs,
    links_of,
    own_shop_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.routes.design import page_without_address
from web.service import BodyDep, ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/midway", methods=["GET", "HEAD"])
def midway_again(request: Request) -> Response:
    """The address of the form, opened by itself: back to the plan it belongs to."""
    links = links_of(request, units_of(request), draft_in_address(request)[0])
    return RedirectResponse(f"{replace(links, query=()).plan}#midway", 303)


@router.post("/midway")
def midway(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """303 to the plan that goes on from what came; the plan itself where it is too long for an address."""
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    told = dict(pairs)
    recipe = _with_measured(_recipe(request, body), told.get("step", ""), read_measured(pairs, units))
    links = replace(links_of(request, units, recipe), query=())
    if links.address is None:
        mine = with_own_shop(recipe, own_shop_in_address(request))
        report = service.calculator.report_or_problem(mine)
        return page_without_address(service, links, mine, report)
    return RedirectResponse(f"{links.plan}#midway", 303)


def _recipe(request: Request, body: Body) -> dict[str, Any]:
    if "r" in request.query_params:
        return dict(recipe_of(draft_in_address(request)[1]))
    return dict(recipe_in_form(body))


def _with_measured(recipe: RecipeMapping, step: str, measured: dict[str, Any]) -> dict[str, Any]:
    """The recipe with what was measured after a step in it; nothing told takes it out again."""
    steps = recipe.get("steps")
    count = len(steps) if isinstance(steps, list) else 0
    if not (step.isascii() and step.isdecimal() and 1 <= int(step) <= count):
        raise Problem(400, "no step of this recipe has this number", [Fault("step", f"step is 1 to {count}")])
    changed = [dict(one) if isinstance(one, dict) else one for one in steps or ()]
    place = int(step) - 1
    if isinstance(changed[place], dict):
        changed[place].pop("measured", None)
        changed[place] |= {"measured": measured} if measured else {}
    return {**recipe, "steps": changed}
