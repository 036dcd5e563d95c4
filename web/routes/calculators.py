"""Two small calculators: what a steel is at a temperature, and what a pyrometer's reading means."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from billet import BANDS_UM, BilletError, Fault, quantities, state_dict, true_temperature_c
from web.http.request_parsing import links_of, units_of
from web.pages import Pyrometer, PyrometerQuestion, StatePage
from web.service import ServiceDep
from web.state_question import answer_state, curve_of, state_question

router = APIRouter(include_in_schema=False)


@router.api_route("/state", methods=["GET", "HEAD"])
def state_page(request: Request, service: ServiceDep) -> Response:
    """A grade or an analysis, and a temperature; what the steel is then."""
    question = state_question(request)
    state, faults = answer_state(question)
    page = StatePage(
        links=links_of(request, units_of(request)),
        version=service.version,
        question=question,
        state=state,
        told=() if state is None else tuple(state_dict(state)["notices"]),
        curve=curve_of(question),
        faults=faults,
    )
    return service.renderer.page(page, 422 if faults else 200)


@router.api_route("/pyrometer", methods=["GET", "HEAD"])
def pyrometer_page(request: Request, service: ServiceDep) -> Response:
    """A reading, the emissivity that was set and the one that is true."""
    asked = request.query_params
    question = PyrometerQuestion(
        reading=asked.get("reading", ""),
        set_emissivity=asked.get("set", ""),
        true_emissivity=asked.get("true", ""),
        band=asked.get("band", next(iter(BANDS_UM))),
        walls=asked.get("walls", ""),
    )
    answer, faults = _surface_c(question) if question.reading else (None, ())
    page = Pyrometer(
        links=links_of(request, units_of(request)),
        version=service.version,
        question=question,
        bands=tuple(BANDS_UM),
        answer=answer,
        faults=faults,
    )
    return service.renderer.page(page, 422 if faults else 200)


def _surface_c(question: PyrometerQuestion) -> tuple[float | None, tuple[Fault, ...]]:
    faults: list[Fault] = []
    readings: dict[str, float] = {}
    asked = {
        "reading": (question.reading, quantities.read_temperature_c),
        "set": (question.set_emissivity, quantities.read_number),
        "true": (question.true_emissivity, quantities.read_number),
    }
    if question.walls:
        asked["walls"] = (question.walls, quantities.read_temperature_c)
    for where, (text, parse) in asked.items():
        try:
            readings[where] = parse(text)
        except quantities.NotAQuantity as refused:
            faults.append(Fault(where, str(refused)))
    if faults:
        return None, tuple(faults)
    try:
        surface_c = true_temperature_c(
            readings["reading"], readings["true"], readings["set"], question.band, readings.get("walls")
        )
    except BilletError as error:
        return None, (Fault("", str(error)),)
    return surface_c, ()
