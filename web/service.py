"""What the routes share: settings, templates, calculator. Made once, when the app is made."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request

from web.calculation import Calculator
from web.http.request_parsing import Body, read_body
from web.rendering import Renderer
from web.settings import Settings


def _nobody_hears(line: bytes) -> None:
    """In one process an answer is heard whole."""


@dataclass(frozen=True)
class Service:
    """`tell` sends a line of what is being done before the answer, where somebody hears it."""

    settings: Settings
    renderer: Renderer
    calculator: Calculator
    version: str
    tell: Callable[[bytes], None] = _nobody_hears

    def public_link(self, path: str) -> str | None:
        """The whole address of a path; None unless the service was told where others reach it."""
        base = self.settings.public_url
        return f"{base.rstrip('/')}{path}" if base else None


async def service_of(request: Request) -> Service:
    """What the routes share; asynchronous, because for any other a thread is asked."""
    service = request.app.state.service
    assert isinstance(service, Service)
    return service


ServiceDep = Annotated[Service, Depends(service_of)]
BodyDep = Annotated[Body, Depends(read_body)]
