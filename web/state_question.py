"""The question of /state and /api/state: a grade or an analysis, and a temperature."""

from typing import Any

from fastapi import Request

from billet import (
    ELEMENTS,
    STARTS,
    BilletError,
    Composition,
    Fault,
    HeatCurve,
    Start,
    austenitised_state,
    find_steel,
    heat_curve,
    quantities,
)
from web.pages import StateQuestion


def state_question(request: Request) -> StateQuestion:
    """What was asked, as it was typed."""
    asked = request.query_params
    return StateQuestion(
        steel=asked.get("steel", "").strip(),
        wt={element: asked.get(element, "").strip() for element in ELEMENTS},
        temperature=asked.get("temperature", asked.get("temperature_c", "")).strip(),
        start=asked.get("start", STARTS[0]).strip(),
    )


def answer_state(question: StateQuestion) -> tuple[Any | None, tuple[Fault, ...]]:
    """The state, or what is wrong with the question; neither where nothing was asked yet."""
    given = {element: text for element, text in question.wt.items() if text}
    if not (question.steel or given or question.temperature):
        return None, ()
    faults: list[Fault] = []
    temperature_c = _read("temperature", question.temperature, faults)
    wt = {element: _read(element, text, faults) for element, text in given.items()}
    if bool(question.steel) == bool(given):
        faults.append(Fault("steel", "give a grade, or an analysis, and not both"))
    faults += [
        Fault(element, f"{element} must be a number of 0 to 100 wt%, got {value:g}")
        for element, value in wt.items()
        if not 0.0 <= value <= 100.0
    ]
    start = _start(question.start)
    if start is None:
        faults.append(Fault("start", f"start is one of {', '.join(STARTS)}"))
    if faults or start is None:
        return None, tuple(faults)
    try:
        return austenitised_state(_analysis(question.steel, wt), temperature_c, start), ()
    except BilletError as error:
        return None, (Fault("steel" if question.steel else "", str(error)),)


def curve_of(question: StateQuestion) -> HeatCurve | None:
    """The same steel over the hardening heat; None where the question itself has no answer."""
    if answer_state(question)[0] is None:
        return None
    wt = {element: quantities.read_number(text) for element, text in question.wt.items() if text}
    name = question.steel or "this analysis"
    try:
        return heat_curve(name, _analysis(question.steel, wt), _start(question.start) or STARTS[0])
    except BilletError:
        return None


def _start(word: str) -> Start | None:
    return next((start for start in STARTS if start == word), None)


def _analysis(steel: str, wt: dict[str, float]) -> Composition:
    return find_steel(steel).nominal if steel else Composition(wt)


def _read(where: str, text: str, faults: list[Fault]) -> float:
    """The number; 0 stands in for one that cannot be read, and the fault is noted."""
    parse = quantities.read_temperature_c if where == "temperature" else quantities.read_number
    try:
        return parse(text)
    except quantities.NotAQuantity as refused:
        faults.append(Fault(where, str(refused)))
        return 0.0
