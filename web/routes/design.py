"""The form: GET shows a draft, POST changes it and answers with its new address."""

from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from billet import BilletError, Fault, RecipeError, Report, canonical_json
from web.faces import faces_of
from web.form.actions import UnknownAction, act, new_draft
from web.form.known import known
from web.form.reading import read_form
from web.form.texts import steel_name_faults
from web.form.writing import write_form
from web.http.links import Links
from web.http.problems import Problem
from web.http.request_parsing import (
    form_pairs,
    links_of,
    recipe_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.pages import Answer, Design, Plan
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)
Draft = dict[str, Any]


@router.api_route("/design", methods=["GET", "HEAD"])
def design(request: Request, service: ServiceDep) -> Response:
    """A draft from the address, or an empty form."""
    units = units_of(request)
    if "r" not in request.query_params:
        draft = new_draft()
        return design_page(service, links_of(request, units, draft), draft, ())
    address, draft = recipe_in_address(request)
    return judged_page(service, links_of(request, units, address), draft)


@router.post("/design")
def change(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """What a button of the form does; 303 to the new address, or the page where it is too long."""
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    action = dict(pairs).get("action", "plan")
    try:
        draft, anchor = act(read_form(pairs, units), action)
    except UnknownAction as unknown:
        raise Problem(400, str(unknown), [Fault("action", str(unknown))]) from None
    links = links_of(request, units, draft)
    report = judge(service, draft)[0] if action == "plan" else None
    if links.address is None:
        return page_without_address(service, links, draft, report)
    if report is not None:
        return RedirectResponse(links.plan, status_code=303)
    return RedirectResponse(links.design + (f"#{anchor}" if anchor else ""), status_code=303)


@router.post("/design/open")
def reopen(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The form of a recipe too long for an address."""
    draft = recipe_in_form(body)
    units = units_of_form(form_pairs(body), request)
    return judged_page(service, links_of(request, units, draft), draft)


@router.post("/design/preview")
def preview(request: Request, service: ServiceDep, body: BodyDep) -> Response:
    """The answer alone, for a form that is being changed."""
    pairs = form_pairs(body)
    units = units_of_form(pairs, request)
    draft = read_form(pairs, units)
    report, faults = judge(service, draft)
    links = links_of(request, units, draft)
    page = Answer(links=links, version=service.version, report=report, faults=faults)
    return service.renderer.page(page)


def judge(service: Service, draft: Draft) -> tuple[Report | None, tuple[Fault, ...]]:
    """The report of a draft, or what is wrong with it."""
    if isinstance(draft.get("steels"), list) and (faults := steel_name_faults(draft["steels"])):
        return None, tuple(faults)
    try:
        return service.calculator.report(draft), ()
    except RecipeError as error:
        return None, error.faults
    except BilletError as error:
        return None, (Fault("", str(error)),)


def judged_page(service: Service, links: Links, draft: Draft, bad_status: int = 200) -> Response:
    """The form with the answer or with the faults at their fields."""
    report, faults = judge(service, draft)
    return design_page(service, links, draft, faults, report, bad_status if faults else 200)


def design_page(
    service: Service,
    links: Links,
    draft: Draft,
    faults: tuple[Fault, ...],
    report: Report | None = None,
    status: int = 200,
) -> Response:
    """The form as it stands."""
    page = Design(
        links=links,
        version=service.version,
        form=write_form(draft, faults, links.units, known()),
        faults=faults,
        report=report,
        recipe_text=canonical_json(draft),
        too_long=links.address is None,
    )
    return service.renderer.page(page, status)


def page_without_address(service: Service, links: Links, draft: Draft, report: Report | None) -> Response:
    """A recipe too long for a link is answered at once: its plan, or its form."""
    if report is None:
        return judged_page(service, links, draft)
    page = Plan(
        links=links,
        version=service.version,
        report=report,
        recipe_text=canonical_json(draft),
        public_link=None,
        faces=faces_of(service.calculator, draft, links, {}),
    )
    return service.renderer.page(page)
