"""Every refusal on its way out: JSON for the interface, a page for people, the same words in both."""

import logging
from dataclasses import dataclass

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from billet import Fault, ToolFault
from web.http.links import Links, Units
from web.http.problems import Problem, problem_response, wants_json
from web.http.request_parsing import path_below_root
from web.pages import ErrorPage
from web.rendering import Renderer

log = logging.getLogger("web")
TOLD_OURS = "keep the recipe and report it with the program; another heat, time or size may be computed"
DEEPEST = 12
"""A path of more parts than this is answered without links that lead anywhere."""
WORDS = {
    404: "there is nothing at this address",
    405: "this address takes another method",
}


def refusal(request: Request, problem: Problem, renderer: Renderer, version: str) -> Response:
    """The answer to a refused request."""
    path = path_below_root(request)
    if wants_json(path, request.headers.get("accept", "")):
        return problem_response(problem)
    units: Units = "inch" if request.query_params.get("units") == "inch" else "mm"
    page = ErrorPage(
        links=Links(here="/" * min(path.count("/"), DEEPEST), units=units),
        version=version,
        status=problem.status,
        heading=problem.heading,
        detail=problem.detail,
        faults=problem.faults,
    )
    return renderer.page(page, problem.status, dict(problem.headers))


def install_handlers(app: FastAPI, renderer: Renderer, version: str) -> None:
    """Refusals of the framework (no route, wrong method, wrong parameter) in the same form."""

    def on_http(request: Request, error: Exception) -> Response:
        assert isinstance(error, HTTPException)
        detail = WORDS.get(error.status_code, str(error.detail))
        problem = Problem(error.status_code, detail, headers=error.headers)
        return refusal(request, problem, renderer, version)

    def on_parameters(request: Request, error: Exception) -> Response:
        assert isinstance(error, RequestValidationError)
        faults = [Fault(".".join(str(p) for p in e["loc"][1:]), e["msg"]) for e in error.errors()]
        return refusal(request, Problem(422, "the question is not complete", faults), renderer, version)

    app.add_exception_handler(HTTPException, on_http)
    app.add_exception_handler(RequestValidationError, on_parameters)


@dataclass(frozen=True)
class Refusals:
    """Catches what is raised below, limits included. Where a computation broke a law it must keep, that is
    told, and logged without the recipe; an unexpected error is logged, never shown."""

    app: ASGIApp
    renderer: Renderer
    version: str

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        started = False

        async def noting(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            await self.app(scope, receive, noting)
        except Problem as problem:
            answer = self._answer(Request(scope), problem)
        except ToolFault as fault:
            if started:
                raise
            log.error("%s %s: %s", scope["method"], scope["path"], fault.law)
            answer = self._answer(Request(scope), Problem(422, f"{fault}; {TOLD_OURS}"))
        except Exception:
            if started:
                raise
            log.exception("%s %s failed", scope["method"], scope["path"])
            answer = self._answer(Request(scope), Problem(500, "the calculation failed; the fault is ours"))
        else:
            return
        await answer(scope, receive, send)

    def _answer(self, request: Request, problem: Problem) -> Response:
        return refusal(request, problem, self.renderer, self.version)
