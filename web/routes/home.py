"""The way in: examples, and a file of one's own."""

import time
from dataclasses import replace

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from billet import BilletError, Report
from web.example_recipes import UnreadableRecipe, example, examples_in
from web.http.problems import Problem
from web.http.request_parsing import links_of, units_of
from web.pages import Home
from web.service import Service, ServiceDep

router = APIRouter(include_in_schema=False)
PLANNED_WITHIN_S = 1.0
"""Examples that are not planned by then are shown without their figures; the next visit has them."""


@router.api_route("/", methods=["GET", "HEAD"])
def home(request: Request, service: ServiceDep) -> Response:
    """The recipes and the way in."""
    links = links_of(request, units_of(request))
    found = examples_in(service.settings.recipes)
    until = time.monotonic() + PLANNED_WITHIN_S
    cards = tuple(
        replace(card, report=_report(service, card.name) if time.monotonic() < until else None)
        for card in found.cards
    )
    return service.renderer.page(
        Home(links=links, version=service.version, recipes=cards, unreadable=found.unreadable)
    )


def warm(service: Service) -> None:
    """Plan every example once, so that the first page is quick."""
    for card in examples_in(service.settings.recipes).cards:
        _report(service, card.name)


def _report(service: Service, name: str) -> Report | None:
    """What the plan of an example says; None where it is refused, which its own page tells."""
    try:
        mapping = example(service.settings.recipes, name)
        return None if mapping is None else service.calculator.report(mapping)
    except (UnreadableRecipe, BilletError, Problem):
        return None


@router.api_route("/recipes/{name}", methods=["GET", "HEAD"])
def recipe(request: Request, service: ServiceDep, name: str) -> Response:
    """One example, as a plan."""
    try:
        mapping = example(service.settings.recipes, name)
    except UnreadableRecipe as refused:
        raise Problem(422, f"the file of this example cannot be read: {refused}") from None
    if mapping is None:
        raise Problem(404, "no example has this name")
    links = links_of(request, units_of(request), mapping)
    if links.address is None:
        raise Problem(422, "this example is too long for a link; open it as a file")
    return RedirectResponse(links.plan, status_code=303)
