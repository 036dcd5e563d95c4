"""The service, made by a factory: settings in, application out."""

import os
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from pathlib import Path
from types import ModuleType

from fastapi import FastAPI
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.routing import BaseRoute, Mount
from starlette.staticfiles import StaticFiles

from billet import __version__
from web.calculation import Calculator
from web.http.access_log import keep_recipes_out_of_the_log
from web.http.limits import AddressLimit, BodyLimit, TimeLimit
from web.http.refusals import Refusals, install_handlers
from web.http.security import SecurityHeaders
from web.openapi import describe
from web.rendering import Renderer
from web.routes import (
    anvil,
    calculators,
    design,
    docs,
    face,
    health,
    home,
    interface,
    lan,
    library,
    many_bars,
    midway,
    plan,
    scrap,
    sheets,
    study,
    uncertainty,
    upload,
    wish,
)
from web.service import Service
from web.settings import Settings, settings_from
from web.workers.middleware import InWorkers, Started
from web.workers.pool import Pool

STATIC = Path(__file__).resolve().parent / "static"
DESCRIPTION = (
    "Layer counts, carbon between the layers, hardening temperature and quench oil for a forge-welded "
    "bar of two or more steels. Phase amounts are mass fractions, `_wt` is wt%, `_c` a temperature in "
    "degrees Celsius, `_k` a difference of temperatures in kelvins."
)

COMPUTING = (
    plan, anvil, study, uncertainty, many_bars, wish, midway, design, sheets, face, upload, calculators,
    interface,
)  # fmt: skip
"""Modules of routes whose answers take computing, and are made in worker processes."""
LASTING = (library, scrap, docs)
"""What is the same as long as the service runs."""
CHANGING = (home, health, lan)
COMPRESSION = 4
"""Level of gzip: a plan takes 1.3 ms and 29.4 kB, at level 6 2.2 ms and 27.9 kB."""


def _routes_of(modules: Iterable[ModuleType]) -> list[BaseRoute]:
    return [route for module in modules for route in module.router.routes]


@asynccontextmanager
async def _running(pool: Pool | None) -> AsyncIterator[None]:
    """The worker processes live as long as the application."""
    if pool is not None:
        pool.start()
    try:
        yield
    finally:
        if pool is not None:
            pool.close()


def create_app(settings: Settings) -> FastAPI:
    """The application with its limits outside and its routes inside."""
    renderer = Renderer()
    pool = Pool(settings) if settings.workers else None
    static = Mount("/static", StaticFiles(directory=STATIC), name="static")
    computing, lasting = _routes_of(COMPUTING), [*_routes_of(LASTING), static]
    app = FastAPI(
        title="Layered bar planner",
        version=__version__,
        description=DESCRIPTION,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=lambda _: _running(pool),
        middleware=[
            Middleware(SecurityHeaders),
            Middleware(Refusals, renderer=renderer, version=__version__),
            Middleware(AddressLimit, query_bytes=settings.query_bytes, path_bytes=settings.path_bytes),
            *([Middleware(Started, pool=pool, computing=computing)] if pool else []),
            Middleware(TimeLimit, answer_s=settings.answer_s),
            Middleware(BodyLimit, body_bytes=settings.body_bytes, body_s=settings.body_s),
            *([Middleware(InWorkers, pool=pool, computing=computing, lasting=lasting)] if pool else []),
            Middleware(GZipMiddleware, minimum_size=1000, compresslevel=COMPRESSION),
        ],
    )
    app.state.service = Service(settings, renderer, Calculator(settings), __version__)
    install_handlers(app, renderer, __version__)
    for module in (*COMPUTING, *LASTING, *CHANGING):
        app.include_router(module.router)
    app.router.routes.append(static)
    app.openapi = lambda: describe(app)  # type: ignore[method-assign]
    return app


def from_environment() -> FastAPI:
    """The application for a process manager: `uvicorn --factory web.app:from_environment`."""
    keep_recipes_out_of_the_log()
    return create_app(settings_from(os.environ))
