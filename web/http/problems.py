"""One body for every refusal: `application/problem+json` (RFC 9457) with an `errors` list.

Pages show the same words as HTML. Nothing that came in is echoed unasked, nothing of an unexpected
exception is shown.
"""

from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

from starlette.responses import JSONResponse

from billet import Fault

CALMED = {
    400: "This could not be read",
    404: "There is nothing here",
    405: "This address takes another method",
    408: "It took too long to arrive",
    413: "Too large",
    414: "The address is too long",
    415: "This kind of content is not taken",
    422: "This recipe cannot be computed as it stands",
    429: "Busy",
    500: "Something broke on our side",
    503: "It took too long",
}


class Problem(Exception):
    """A refusal on its way to the caller."""

    def __init__(
        self,
        status: int,
        detail: str,
        faults: Sequence[Fault] = (),
        headers: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(detail)
        self.status, self.detail = status, detail
        self.faults, self.headers = tuple(faults), dict(headers or {})

    @property
    def heading(self) -> str:
        return CALMED.get(self.status, HTTPStatus(self.status).phrase)


class ProblemResponse(JSONResponse):
    media_type = "application/problem+json"


def problem_body(problem: Problem) -> dict[str, Any]:
    """The members of RFC 9457, and `errors` (an empty list where there is but the detail)."""
    return {
        "type": "about:blank",
        "title": HTTPStatus(problem.status).phrase,
        "status": problem.status,
        "detail": problem.detail,
        "errors": [{"where": fault.where, "message": fault.message} for fault in problem.faults],
    }


def problem_response(problem: Problem) -> ProblemResponse:
    """The refusal as JSON."""
    return ProblemResponse(problem_body(problem), status_code=problem.status, headers=problem.headers)


def wants_json(path: str, accept: str) -> bool:
    """Whether a refusal goes out as JSON: the interface always, pages only where JSON was asked for."""
    if path.startswith("/api/") or path.endswith(".json"):
        return True
    return "json" in accept and "text/html" not in accept
