"""Whether the service answers; for a process manager or a proxy, not for people."""

from fastapi import APIRouter
from starlette.responses import JSONResponse, Response

from web.service import ServiceDep

router = APIRouter(include_in_schema=False)


@router.api_route("/health", methods=["GET", "HEAD"])
def health(service: ServiceDep) -> Response:
    """The version that runs. It takes no worker, so that a service under load is not taken for a dead one."""
    told = {"status": "ok", "version": service.version}
    return JSONResponse(told, headers={"Cache-Control": "no-store"})
