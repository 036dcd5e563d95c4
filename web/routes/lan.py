"""The page that shows where a telephone in the shop finds this service."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from web.anvil_pages import Lan
from web.http.request_parsing import links_of, units_of
from web.qr import qr_svg
from web.service import ServiceDep

router = APIRouter(include_in_schema=False)
LONGEST_SCANNED = 900
"""A longer address makes a code that a telephone hardly reads off a screen."""


@router.api_route("/lan", methods=["GET", "HEAD"])
def lan(request: Request, service: ServiceDep) -> Response:
    """The address as a code to scan: of the bar that is asked for, at the anvil, else of the first page."""
    recipe = request.query_params.get("r") or None
    links = links_of(request, units_of(request), recipe)
    home = service.settings.lan_url
    if home is None:
        return service.renderer.page(Lan(links=links, version=service.version))
    bar = f"{home}{links.below_root('/anvil')}" if recipe else None
    link = bar if bar is not None and len(bar) <= LONGEST_SCANNED else f"{home}/"
    page = Lan(
        links=links, version=service.version, home=home, link=link, qr_svg=qr_svg(link), of_bar=link == bar
    )
    return service.renderer.page(page)
