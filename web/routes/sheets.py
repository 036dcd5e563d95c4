"""Paper: a sheet a job, as a page for print and as plain text; and the recipe as a file."""

import re

from fastapi import APIRouter, Request
from starlette.responses import PlainTextResponse, Response

from billet import Report, build_sheet, kiln_csv, recipe_to_toml, sheet_text
from web.faces import face_on_paper
from web.http.address import RecipeMapping
from web.http.links import SHEET_KINDS, Links
from web.http.problems import Problem
from web.http.request_parsing import (
    form_pairs,
    links_of,
    recipe_in_address,
    recipe_in_form,
    units_of,
    units_of_form,
)
from web.pages import LabelPage, SheetPage
from web.paper import paper_sheet
from web.qr import qr_svg
from web.service import BodyDep, Service, ServiceDep

router = APIRouter(include_in_schema=False)
FOR_OTHERS = ("buyer", "label")


@router.api_route("/sheet/{kind}.txt", methods=["GET", "HEAD"])
def sheet_as_text(request: Request, service: ServiceDep, kind: str) -> Response:
    """The sheet as text; declared before the page."""
    units = units_of(request)
    address, mapping = recipe_in_address(request)
    return _text(service, links_of(request, units, address), kind, mapping)


@router.post("/sheet/{kind}.txt")
def posted_sheet_as_text(request: Request, service: ServiceDep, kind: str, body: BodyDep) -> Response:
    """The same for a recipe too long for an address."""
    mapping = recipe_in_form(body)
    links = links_of(request, units_of_form(form_pairs(body), request), mapping)
    return _text(service, links, kind, mapping)


@router.api_route("/sheet/kiln.csv", methods=["GET", "HEAD"])
def programme_as_csv(request: Request, service: ServiceDep) -> Response:
    """The furnace programme for a controller's own program; declared before the page."""
    return _csv(service, recipe_in_address(request)[1])


@router.post("/sheet/kiln.csv")
def posted_programme_as_csv(service: ServiceDep, body: BodyDep) -> Response:
    """The same for a recipe too long for an address."""
    return _csv(service, recipe_in_form(body))


@router.api_route("/sheet/{kind}", methods=["GET", "HEAD"])
def sheet(request: Request, service: ServiceDep, kind: str) -> Response:
    """The sheet as a page for print."""
    units = units_of(request)
    address, mapping = recipe_in_address(request)
    return _page(service, links_of(request, units, address), kind, mapping)


@router.post("/sheet/{kind}")
def posted_sheet(request: Request, service: ServiceDep, kind: str, body: BodyDep) -> Response:
    """The same for a recipe too long for an address."""
    mapping = recipe_in_form(body)
    links = links_of(request, units_of_form(form_pairs(body), request), mapping)
    return _page(service, links, kind, mapping)


@router.api_route("/recipe.toml", methods=["GET", "HEAD"])
def recipe_file(request: Request, service: ServiceDep) -> Response:
    """The recipe as a file to keep."""
    return _file(service, recipe_in_address(request)[1])


@router.post("/recipe.toml")
def posted_recipe_file(service: ServiceDep, body: BodyDep) -> Response:
    """The same for a recipe too long for an address."""
    return _file(service, recipe_in_form(body))


def _file(service: Service, mapping: RecipeMapping) -> Response:
    report = service.calculator.report_or_problem(mapping)
    slug = re.sub(r"[^a-z0-9]+", "-", report.title.lower())[:60].strip("-") or "recipe"
    disposition = f'attachment; filename="{slug}.toml"'
    text = recipe_to_toml(mapping)
    return Response(
        text, media_type="application/toml; charset=utf-8", headers={"Content-Disposition": disposition}
    )


def _csv(service: Service, mapping: RecipeMapping) -> Response:
    report = _report(service, "kiln", mapping)
    disposition = 'attachment; filename="furnace-programme.csv"'
    return Response(
        kiln_csv(report),
        media_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": disposition},
    )


def _text(service: Service, links: Links, kind: str, mapping: RecipeMapping) -> Response:
    report = _report(service, kind, mapping)
    link = _link_on_paper(service, links, kind, report)
    return PlainTextResponse(sheet_text(build_sheet(report, kind, links.units, link)))


def _page(service: Service, links: Links, kind: str, mapping: RecipeMapping) -> Response:
    report = _report(service, kind, mapping)
    link = _link_on_paper(service, links, kind, report)
    face = face_on_paper(service.calculator, mapping, links) if kind in FOR_OTHERS else None
    context = LabelPage if kind == "label" else SheetPage
    page = context(
        links=links,
        version=service.version,
        kind=kind,
        sheet=paper_sheet(report, kind, links.units, link, None if face is None else face.ratio),
        report=report,
        public_link=link,
        face=face,
        qr_svg=qr_svg(link) if link else None,
    )
    return service.renderer.page(page)


def _report(service: Service, kind: str, mapping: RecipeMapping) -> Report:
    if kind not in SHEET_KINDS:
        raise Problem(404, f"there are sheets for {', '.join(SHEET_KINDS)}")
    return service.calculator.report_or_problem(mapping)


def _link_on_paper(service: Service, links: Links, kind: str, report: Report) -> str | None:
    """The link to print: none without --public-url; for others only where the recipe is shared."""
    if links.address is None:
        return None
    shared = bool(report.recipe.get("sheet", {}).get("share_recipe", False))
    return service.public_link(links.below_root("/plan")) if shared or kind not in FOR_OTHERS else None
