"""The design page: GET shows a draft, POST changes it and answers with its new address."""

import json
import re
from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from billet import BilletError, Fault, RecipeError, Report, canonical_json, with_own_shop
from web.bench_pages import Bench, Design
from web.faces import NO_FACES, faces_of
from web.form.actions import UnknownAction, act
from web.form.known import known
from web.form.own_shop import WRITE, own_shop_faults, own_shop_of
from web.form.proposing import MINE, completed, recipe_of
from web.form.reading import read_form
from web.form.starts import DEFAULT, NAMES, start
from web.form.texts import name_faults
from web.form.writing import write_form
from web.http.links import Links
from web.http.problems import Problem
from web.http.request_parsing import (
    address_or_none,
    draft_in_address,
    form_pairs,
    links_of,
    own_shop_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.pages import Plan
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)
Draft = dict[str, Any]


@router.api_route("/design", methods=["GET", "HEAD"])
def design(request: Request, service: ServiceDep) -> Response:
    """A draft from the address, one of the bars to start from, or the first of them."""
    mine = own_shop_in_address(request)
    if "r" in request.query_params:
        draft = draft_in_address(request)[1]
    else:
        draft = _begun(request.query_params.get("start"), units_of(request))
    return judged_page(service, request, units_of(request), {**draft, **({MINE: mine} if mine else {})})


@router.post("/design")
def change(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """What a button of the form does; 303 to the new address, or the page where it is too long.

    A form that holds nothing but a `recipe`, too long for an address, is opened.
    """
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    if "recipe" in dict(pairs):
        return judged_page(service, request, units, recipe_in_form(body))
    action = dict(pairs).get("action", "plan")
    draft, anchor = _acted(pairs, units, action)
    links, made = _both_links(request, units, draft)
    report = judge(service, draft)[0] if action in LEAVING else None
    if made.address is None and report is not None:
        return page_without_address(service, made, answered(draft), report)
    if report is not None:
        return RedirectResponse(made.with_recipe(LEAVING[action]), status_code=303)
    if links.address is None:
        return judged_page(service, request, units, draft)
    return RedirectResponse(links.design + (f"#{anchor}" if anchor else ""), status_code=303)


LEAVING = {"plan": "/plan", "sheet": "/sheet/forge"}
"""Buttons that lead away from the form, and where to."""


@router.post("/design/preview")
def preview(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The bench alone, after a change or a button, for a form that is being worked on."""
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    draft, anchor = _acted(pairs, units, dict(pairs).get("action", "check"))
    links, made = _both_links(request, units, draft)
    page_links = replace(links, here="/design")
    bench = bench_of(service, page_links, replace(made, here="/design"), draft, dict(pairs).get("chosen", ""))
    return service.renderer.page(Bench(**{**vars(bench), "anchor": anchor}))


def judge(service: Service, draft: Draft) -> tuple[Report | None, tuple[Fault, ...]]:
    """The report of a draft, or what is wrong with it."""
    faults = own_shop_faults(own_shop_of(draft))
    faults += name_faults(draft.get("steels"), "steels", "steel")
    faults += name_faults(draft.get("bars"), "bars", "bar")
    if faults:
        return None, tuple(faults)
    try:
        return service.calculator.report(answered(draft)), ()
    except RecipeError as error:
        return None, error.faults
    except BilletError as error:
        return None, (Fault("", str(error)),)


def answered(draft: Draft) -> Draft:
    """The recipe of a draft, for one's own fire and oils."""
    return with_own_shop(recipe_of(draft), own_shop_of(draft))


def judged_page(
    service: Service, request: Request, units: Any, draft: Draft, bad_status: int = 200
) -> Response:
    """The design page with the answer or with the faults at their fields."""
    links, made = _both_links(request, units, draft)
    bench = bench_of(service, links, made, draft)
    return service.renderer.page(bench, bad_status if bench.faults else 200)


def bench_of(service: Service, links: Links, made: Links, draft: Draft, looked_at: str = "") -> Design:
    """What the design page shows of a draft; `looked_at` is the key of a step, else it is the last."""
    report, faults = judge(service, draft)
    bar, step = _chosen(report, looked_at)
    return Design(
        links=links,
        version=service.version,
        form=write_form(draft, faults, links.units, known()),
        faults=faults,
        report=report,
        recipe_text=canonical_json(recipe_of(draft)),
        too_long=links.address is None,
        draft_text="" if links.address else json.dumps({k: v for k, v in draft.items() if k != MINE}),
        made=made,
        starts=NAMES,
        chosen=step,
        chosen_bar=bar,
        looked_at="" if report is None else _card(bar, step),
        faces=NO_FACES if report is None else faces_of(service.calculator, answered(draft), made, {}),
    )


STEP_KEY = re.compile(r"(?:bar-([0-9]{1,2})-)?(?:step-([0-9]{1,4})|stack)", re.ASCII)


def _chosen(report: Report | None, key: str) -> tuple[int | None, int]:
    """Which of the bars made first, or None, and which row of its schedule: `bar-1-step-2`, `stack`."""
    if report is None:
        return None, 0
    found = STEP_KEY.fullmatch(key)
    bar = int(found[1]) - 1 if found and found[1] else None
    names = list(report.recipe.get("bars", ()))
    if bar is not None and not 0 <= bar < len(names):
        bar = None
    made = {row.name: row.schedule for row in report.bars}
    last = len(report.schedule if bar is None else made[names[bar]]) - 1
    return bar, last if found is None else min(int(found[2] or 0), last)


def _card(bar: int | None, step: int) -> str:
    """The id of the card of a step, which `_chosen` reads."""
    place = "" if bar is None else f"bar-{bar + 1}-"
    return f"{place}step-{step}" if step else f"{place}stack"


def page_without_address(service: Service, links: Links, draft: Draft, report: Report) -> Response:
    """A recipe too long for a link is answered at once, with its plan."""
    page = Plan(
        links=links,
        version=service.version,
        report=report,
        recipe_text=canonical_json(draft),
        public_link=None,
        faces=faces_of(service.calculator, draft, links, {}),
    )
    return service.renderer.page(page)


def _begun(name: str | None, units: Any) -> Draft:
    if name is None:
        return start(DEFAULT, units)
    if name not in NAMES:
        raise Problem(404, "no bar to start from has this name")
    return start(name, units)


def _acted(pairs: list[tuple[str, str]], units: Any, action: str) -> tuple[Draft, str]:
    """The draft after a button, its proposals reckoned, and the part of the form to look at."""
    name = "check" if action in LEAVING else action
    try:
        draft, anchor = act(read_form(pairs, units), name)
    except UnknownAction as unknown:
        raise Problem(400, str(unknown), [Fault("action", str(unknown))]) from None
    return completed(draft, units), anchor


def _both_links(request: Request, units: Any, draft: Draft) -> tuple[Links, Links]:
    """Links that carry the draft with its marks, for this page, and links that carry the recipe alone."""
    mine = own_shop_of(draft)
    recipe = answered(draft) if mine.get(WRITE) else recipe_of(draft)
    made = links_of(request, units, recipe)
    marked = address_or_none({key: value for key, value in draft.items() if key != MINE})
    own = address_or_none(dict(mine)) if mine else None
    made = replace(made, query=(), own_shop=own)
    return replace(made, address=marked or made.address), made
