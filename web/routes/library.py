"""What can be looked up: steels, ways to judge heat, words."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import (
    Steel,
    SteelError,
    computation_methods,
    control_methods,
    find_steel,
    glossary,
    plain_line_points,
    practice_groups,
    search_steels,
    steels,
)
from web.http.problems import Problem
from web.http.request_parsing import links_of, units_of
from web.pages import Glossary, Methods, SteelPage, Steels
from web.service import ServiceDep

router = APIRouter(include_in_schema=False)


def found_steels(search: str) -> tuple[Steel, ...]:
    """The whole library, or the grades that bear what was typed."""
    if not search.strip():
        return tuple(steels())
    return tuple(find_steel(name.id) for name in search_steels(search[:100]))


def one_steel(name: str) -> Steel:
    """The grade of this name. Raises Problem 404 with the nearest names."""
    try:
        return find_steel(name)
    except SteelError as error:
        raise Problem(404, str(error)) from None


@router.api_route("/steels", methods=["GET", "HEAD"])
def steels_page(request: Request, service: ServiceDep) -> Response:
    """The library, or what was found in it."""
    search = request.query_params.get("q", "")
    links = links_of(request, units_of(request))
    page = Steels(links=links, version=service.version, search=search, steels=found_steels(search))
    return service.renderer.page(page)


@router.api_route("/steels/{name}", methods=["GET", "HEAD"])
def steel_page(request: Request, service: ServiceDep, name: str) -> Response:
    """One grade with every row that was found of it."""
    links = links_of(request, units_of(request))
    return service.renderer.page(SteelPage(links=links, version=service.version, steel=one_steel(name)))


@router.api_route("/methods", methods=["GET", "HEAD"])
def methods_page(request: Request, service: ServiceDep) -> Response:
    """Ways to judge and hold the hardening heat."""
    links = links_of(request, units_of(request))
    return service.renderer.page(
        Methods(
            links=links,
            version=service.version,
            methods=control_methods(),
            formulas=computation_methods(),
            rules=practice_groups(),
            plain_line=plain_line_points(),
        )
    )


@router.api_route("/glossary", methods=["GET", "HEAD"])
def glossary_page(request: Request, service: ServiceDep) -> Response:
    """The words of the sheets."""
    links = links_of(request, units_of(request))
    return service.renderer.page(Glossary(links=links, version=service.version, terms=glossary()))
