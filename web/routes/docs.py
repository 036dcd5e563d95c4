"""The page that shows the interface. The stock one needs another host and inline script."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from web.http.request_parsing import links_of, units_of
from web.pages import Docs
from web.service import ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/docs", methods=["GET", "HEAD"])
def docs(request: Request, service: ServiceDep) -> Response:
    """The interface, drawn from /openapi.json by the vendored viewer."""
    return service.renderer.page(Docs(links=links_of(request, units_of(request)), version=service.version))
