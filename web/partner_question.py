"""The question of /partners and /api/partners: a grade or an analysis, the fire, the oils."""

from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import Request

from billet import (
    ELEMENTS,
    BilletError,
    Composition,
    Fault,
    PartnerQuestion,
    find_steel,
    own_partner_terms,
    partner_question,
    quantities,
    wording,
)
from billet import Steel as Grade

NUMBERS = ("share", "half_width_k", "section_mm")
FIELDS = ("steel", "fire", "oil", *NUMBERS, *ELEMENTS)
LONGEST = 100


def asked_texts(request: Request) -> dict[str, str]:
    """What was typed, by field; oils joined by commas."""
    query = request.query_params
    asked = {name: query.get(name, "").strip()[:LONGEST] for name in ("steel", "fire", *NUMBERS)}
    return {**asked, "oil": ", ".join(query.getlist("oil"))[:LONGEST]}


def unknown_fields(request: Request, known: Sequence[str]) -> tuple[Fault, ...]:
    """A fault for each field of the address that the question does not have: it changes nothing."""
    stray = dict.fromkeys(key for key in request.query_params if key not in {*known, "units", "mine"})
    asked = f"; it asks for {wording.listed(known)}" if known else ""
    return tuple(
        Fault(key[:LONGEST], f"{key[:LONGEST]} is no field of this question{asked}") for key in stray
    )


def with_own(asked: Mapping[str, str], own: Mapping[str, Any]) -> dict[str, str]:
    """What was typed, and what is the reader's own where nothing was. Raises RecipeError."""
    told = own_partner_terms(own, None, None, ())
    fired = asked["fire"] or asked["half_width_k"]
    width = "" if told.half_width_k is None else quantities.write_number(told.half_width_k)
    mine = {"oil": ", ".join(told.oils)} if not asked["oil"] else {}
    return {**asked, **mine, **({} if fired else {"fire": told.fire or "", "half_width_k": width})}


def asked_wt(request: Request) -> dict[str, str]:
    """The analysis that was typed, by element."""
    return {e: request.query_params.get(e, "").strip()[:LONGEST] for e in ELEMENTS}


def read_question(
    asked: Mapping[str, str], wt: Mapping[str, str]
) -> tuple[Grade | Composition | None, PartnerQuestion | None, tuple[Fault, ...]]:
    """The steel asked for (None where none is), and what partners are asked for; or what is wrong."""
    faults: list[Fault] = []
    numbers = {name: _number(name, asked[name], faults) for name in NUMBERS}
    oils = [oil.strip() for oil in asked["oil"].split(",") if oil.strip()]
    steel = _steel(asked["steel"], wt, faults)
    if faults:
        return None, None, tuple(faults)
    try:
        question = partner_question(
            numbers["share"], numbers["half_width_k"], asked["fire"] or None, numbers["section_mm"], oils
        )
    except BilletError as error:
        return None, None, (Fault(str(getattr(error, "name", "")), str(error)),)
    return steel, question, ()


def _number(name: str, text: str, faults: list[Fault]) -> float | None:
    if not text:
        return None
    try:
        if name == "half_width_k":
            return quantities.read_difference_k(text)
        return float(text.replace(",", "."))
    except ValueError:
        faults.append(Fault(name, f"{name} is a number"))
        return None


def _steel(name: str, wt: Mapping[str, str], faults: list[Fault]) -> Grade | Composition | None:
    given = {element: _number(element, text, faults) for element, text in wt.items() if text}
    if name and given:
        faults.append(Fault("steel", "give a grade, or an analysis, and not both"))
    if faults or not (name or given):
        return None
    try:
        return find_steel(name) if name else Composition({e: v for e, v in given.items() if v is not None})
    except BilletError as error:
        faults.append(Fault("steel" if name else "", str(error)))
        return None
