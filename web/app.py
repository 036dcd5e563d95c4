"""The service, made by a factory: settings in, application out."""

from pathlib import Path

from fastapi import FastAPI
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.staticfiles import StaticFiles

from billet import __version__
from web.calculation import Calculator
from web.http.limits import AddressLimit, BodyLimit, TimeLimit
from web.http.refusals import Refusals, install_handlers
from web.http.security import SecurityHeaders
from web.openapi import describe
from web.rendering import Renderer
from web.routes import (
    calculators,
    design,
    docs,
    home,
    interface,
    library,
    many_bars,
    plan,
    sheets,
    study,
    uncertainty,
    upload,
)
from web.service import Service
from web.settings import Settings

STATIC = Path(__file__).resolve().parent / "static"
DESCRIPTION = (
    "Layer counts, carbon between the layers, hardening temperature and quench oil for a forge-welded "
    "bar of two or more steels. Phase amounts are mass fractions, `_wt` is wt%, `_c` a temperature in "
    "degrees Celsius, `_k` a difference of temperatures in kelvins."
)


def create_app(settings: Settings) -> FastAPI:
    """The application with its limits outside and its routes inside."""
    renderer = Renderer()
    app = FastAPI(
        title="Layered bar planner",
        version=__version__,
        description=DESCRIPTION,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        middleware=[
            Middleware(GZipMiddleware, minimum_size=1000),
            Middleware(SecurityHeaders),
            Middleware(Refusals, renderer=renderer, version=__version__),
            Middleware(AddressLimit, query_bytes=settings.query_bytes, path_bytes=settings.path_bytes),
            Middleware(TimeLimit, answer_s=settings.answer_s),
            Middleware(BodyLimit, body_bytes=settings.body_bytes),
        ],
    )
    app.state.service = Service(settings, renderer, Calculator(settings), __version__)
    install_handlers(app, renderer, __version__)
    answers = (
        home,
        plan,
        study,
        uncertainty,
        many_bars,
        design,
        sheets,
        upload,
        library,
        calculators,
        interface,
        docs,
    )
    for module in answers:
        app.include_router(module.router)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    app.openapi = lambda: describe(app)  # type: ignore[method-assign]
    return app
