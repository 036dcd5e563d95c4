"""Scrap and unknown steel: what it often is, why no figure is given, and how a coupon tells."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import scraps, soft_irons
from web.http.request_parsing import links_of, units_of
from web.pages import ScrapPage
from web.service import ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/scrap", methods=["GET", "HEAD"])
def scrap_page(request: Request, service: ServiceDep) -> Response:
    """The page that an unknown name leads to."""
    links = links_of(request, units_of(request))
    page = ScrapPage(links=links, version=service.version, scraps=scraps(), soft=soft_irons())
    return service.renderer.page(page)
