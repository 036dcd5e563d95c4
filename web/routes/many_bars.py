"""Pages over many bars: one number swept, partners of a steel."""

from collections.abc import Iterator, Mapping
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import (
    Fault,
    RecipeError,
    canonical_json,
    control_methods,
    partner_table,
    partners,
    sweep,
)
from web.http.json_answer import JsonAnswer
from web.http.problems import Problem
from web.http.request_parsing import (
    links_of,
    own_shop_in_address,
    recipe_in_address,
    units_of,
)
from web.many_bars_pages import VERDICT_WORDS, PartnersPage, SweepPage
from web.partner_question import FIELDS, asked_texts, asked_wt, read_question, unknown_fields, with_own
from web.recipe_places import place_words
from web.service import ServiceDep

router = APIRouter(include_in_schema=False)
SPAN = ("place", "low", "high", "step")
LONGEST_PLACE = 200
MOST_PLACES = 120
ORDER = ("good", "works", "unknown", "no")


@router.api_route("/sweep", methods=["GET", "HEAD"])
def sweep_page(request: Request, service: ServiceDep) -> Response:
    """The answer against one number of the recipe in the address."""
    address, mapping = recipe_in_address(request)
    asked = {name: request.query_params.get(name, "").strip()[:LONGEST_PLACE] for name in SPAN}
    found, faults = None, tuple[Fault, ...]()
    if all(asked.values()):
        vary = f"{asked['place']}={asked['low']}:{asked['high']}:{asked['step']}"
        try:
            found = service.calculator.run(f"{canonical_json(mapping)} {vary}", lambda: sweep(mapping, vary))
        except Problem as problem:
            if problem.status != 422:
                raise
            faults = tuple(problem.faults) or (Fault("", problem.detail),)
    page = SweepPage(
        links=links_of(request, units_of(request), address),
        version=service.version,
        title=str(mapping.get("title", "")),
        asked=asked,
        places=tuple(
            (where, place_words(where, mapping), value)
            for where, value in tuple(_numbers(mapping))[:MOST_PLACES]
        ),
        swept=place_words(asked["place"], mapping),
        sweep=found,
        faults=faults,
    )
    return service.renderer.page(page, 422 if faults else 200)


def _numbers(value: Any, where: str = "") -> Iterator[tuple[str, float]]:
    """Every place of a recipe that holds a number, with the number."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            if key != "format":
                yield from _numbers(inner, f"{where}.{key}" if where else str(key))
    elif isinstance(value, list):
        for place, inner in enumerate(value):
            yield from _numbers(inner, f"{where}[{place}]")
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield where, value


@router.api_route("/pairs.json", methods=["GET", "HEAD"])
def pairs_json(request: Request, service: ServiceDep) -> Response:
    """Every steel of the library beside every other, as the picture of /partners."""
    _, question, faults = read_question(asked_texts(request), {})
    if question is None:
        raise Problem(422, "the question cannot be answered", faults)
    table = service.calculator.run(f"pairs {question}", lambda: partner_table(question))
    return JsonAnswer(table.to_dict())


@router.api_route("/partners", methods=["GET", "HEAD"])
def partners_page(request: Request, service: ServiceDep) -> Response:
    """Partners of one steel with their verdicts, or all pairs as a picture."""
    wt = asked_wt(request)
    try:
        asked = with_own(asked_texts(request), own_shop_in_address(request))
    except RecipeError as refused:
        raise Problem(422, "one's own fire and oils cannot be read", refused.faults) from None
    sort = request.query_params.get("sort", "hardens")
    show = request.query_params.get("show", "hardens")
    asked |= {
        "sort": sort if sort in VERDICT_WORDS else "name",
        "show": show if show in VERDICT_WORDS else "hardens",
    }
    steel, question, faults = read_question(asked, wt)
    found = table = None
    if question is not None:
        key = f"partners {sorted(asked.items())} {sorted(wt.items())}"
        try:
            if steel is not None:
                found = service.calculator.run(key, lambda: partners(steel, question))
            else:
                table = service.calculator.run(f"pairs {question}", lambda: partner_table(question))
        except Problem as problem:
            if problem.status != 422:
                raise
            faults = (Fault("", problem.detail),)
    stray = unknown_fields(request, (*FIELDS, "sort", "show"))
    page = PartnersPage(
        links=links_of(request, units_of(request)),
        version=service.version,
        asked=asked,
        wt=wt,
        partners=found,
        rows=() if found is None else _sorted(found.rows, asked["sort"]),
        table=table,
        verdicts=VERDICT_WORDS,
        fires=control_methods(),
        faults=(*stray, *faults),
    )
    return service.renderer.page(page, 422 if faults else 200)


def _sorted(rows: Any, by: str) -> list[Any]:
    if by == "name":
        return sorted(rows, key=lambda row: row.steel)
    return sorted(rows, key=lambda row: (ORDER.index(getattr(row, by).verdict), row.steel))
