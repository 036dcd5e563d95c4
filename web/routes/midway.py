"""What came after a step, entered on the plan page: the rest is planned anew from there."""

from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from billet import Fault, with_own_shop
from web.form.proposing import recipe_of
from web.form.reading import read_measured, read_measured_steps
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
    """303 to the plan that goes on from what came after one step, or after several as typed at the anvil; the
    plan itself where it is too long for an address."""
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    told = dict(pairs)
    recipe = _recipe(request, body)
    if "step" in told:
        recipe = _with_measured(recipe, told["step"], read_measured(pairs, units))
    else:
        recipe = _with_all_measured(recipe, read_measured_steps(pairs, units))
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


def _with_all_measured(recipe: RecipeMapping, measured: dict[int, dict[str, Any]]) -> dict[str, Any]:
    """The recipe with what was typed at the anvil; other sizes measured before stay."""
    if not measured:
        raise Problem(400, "nothing was typed of what came", [Fault("steps", "no size came with it")])
    changed = dict(recipe)
    for place, sizes in measured.items():
        steps = changed.get("steps")
        one = steps[place] if isinstance(steps, list) and place < len(steps) else None
        before = one.get("measured") if isinstance(one, dict) else None
        kept = before if isinstance(before, dict) else {}
        changed = _with_measured(changed, str(place + 1), {**kept, **sizes})
    return changed


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
