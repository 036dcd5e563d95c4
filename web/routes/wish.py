"""The way back from the bar wanted: fields or text in, proposals out, and how far it is on the way."""

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import (
    EXAMPLE_WISH,
    BilletError,
    Fault,
    Proposal,
    WishAnswer,
    WishProgress,
    canonical_json,
    load_recipe_text,
    propose,
    recipe_to_toml,
)
from web.form.known import known
from web.form.wish_fields import by_roles, wish_groups, wish_of_form
from web.http.links import Units
from web.http.problems import Problem
from web.http.request_parsing import Body, form_pairs, links_of, units_of, units_of_form
from web.many_bars_pages import ProposalCard, WishPage, far_words
from web.partner_question import unknown_fields
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)
Wish = Mapping[str, Any]
LINES = "application/x-ndjson"


@router.api_route("/wish", methods=["GET", "HEAD"])
def wish_page(request: Request, service: ServiceDep) -> Response:
    """The form, with a wish to begin with."""
    units = units_of(request)
    page = _page(request, units, service, load_recipe_text(EXAMPLE_WISH), EXAMPLE_WISH)
    return service.renderer.page(replace(page, faults=(*unknown_fields(request, ()), *page.faults)))


@router.post("/wish")
def wish_of_fields(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """Proposals for the wish that was told."""
    page, status = _answered(request, service, body)
    return service.renderer.page(page, status)


@router.post("/wish/progress")
def wish_with_progress(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The same as lines of JSON: how far the search is, and last the page."""
    page, status = _answered(request, service, body, lambda far: service.tell(_far(far)))
    page = replace(page, links=replace(page.links, here="/wish"))
    html = bytes(service.renderer.page(page).body).decode("utf-8")
    return Response(_line({"page": html}), status, media_type=LINES)


def _far(far: WishProgress) -> bytes:
    return _line({"far": asdict(far), "words": far_words(far)})


def _line(told: Any) -> bytes:
    return json.dumps(told, ensure_ascii=False).encode("utf-8") + b"\n"


def _answered(
    request: Request,
    service: Service,
    body: Body,
    listen: Callable[[WishProgress], None] = lambda _: None,
) -> tuple[WishPage, int]:
    """The page of what the form asks for, and its status."""
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    told = dict(pairs)
    text = told.get("wish", "").replace("\r\n", "\n")
    by_text = told.get("from") != "fields"
    if by_text and "wish" not in told:
        raise Problem(400, "a wish belongs in this form", [Fault("wish", "wish is missing")])
    wish: Wish = {}
    try:
        wish = load_recipe_text(text) if by_text else wish_of_form(pairs, units)
        text = text if by_text else recipe_to_toml(wish)
        answer = service.calculator.run(f"wish {text}", lambda: propose(wish, listen))
    except BilletError as error:
        faults = tuple(getattr(error, "faults", ())) or (Fault("", str(error)),)
        return _page(request, units, service, wish, text, faults=faults, by_text=by_text), 422
    except Problem as problem:
        if problem.status != 422:
            raise
        faults = tuple(problem.faults) or (Fault("", problem.detail),)
        return _page(request, units, service, wish, text, faults=faults, by_text=by_text), 422
    return _page(request, units, service, wish, text, answer, by_text=by_text), 200


def _page(
    request: Request, units: Units, service: Service, wish: Wish, text: str,
    answer: WishAnswer | None = None, faults: tuple[Fault, ...] = (), by_text: bool = False,
) -> WishPage:  # fmt: skip
    listed = [] if answer is None else [*answer.proposals, *([answer.nearest] if answer.nearest else [])]
    # What was sent as text has its own places, which are told above the text and not at the fields.
    *groups, rest = wish_groups(by_roles(wish), () if by_text else faults, units)
    return WishPage(
        links=links_of(request, units),
        version=service.version,
        groups=groups,
        text=text,
        open_text=by_text,
        known_steels=known().steels,
        answer=answer,
        proposed=[_card(request, units, one) for one in listed],
        faults=faults if by_text else rest.faults,
    )


def _card(request: Request, units: Units, one: Proposal) -> ProposalCard:
    recipe = dict(one.recipe)
    links = replace(links_of(request, units, recipe), here="/wish", query=())
    return ProposalCard(told=one, links=links, recipe_text=canonical_json(recipe))
