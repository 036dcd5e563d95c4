"""The state of a steel at a temperature as text and as plain dicts."""

from typing import TYPE_CHECKING, Any

from billet import wording
from billet.contract.report import Estimate
from billet.report.words import said
from billet.sheets.layout import bullet, heading, sentence, table

if TYPE_CHECKING:
    from billet.hardening.austenite_state import SteelState


def state_dict(state: "SteelState") -> dict[str, Any]:
    """Plain values for JSON; every key always, None where nothing sound is known."""
    amounts, soaked = state.equilibrium, state.after_soak
    return {
        "temperature_c": state.temperature_c,
        "start": state.start,
        "ae1_c": _banded(state.ae1_c),
        "ae3_c": _banded(state.ae3_c),
        "acm_c": _banded(state.acm_c),
        "equilibrium": None
        if amounts is None
        else {
            "austenite": amounts.austenite,
            "ferrite": amounts.ferrite,
            "carbide": amounts.carbide,
            "austenite_carbon_wt": amounts.austenite_carbon_wt,
        },
        "after_soak": None
        if soaked is None
        else {
            "austenite_carbon_wt": _banded(soaked.austenite_carbon_wt),
            "carbide": _banded(soaked.carbide),
        },
        "ms_c": _banded(state.ms_c),
        "retained_austenite": _banded(state.retained_austenite),
        "hrc": _banded(state.hrc),
        "notices": [said(n) for n in state.notices],
    }


def _banded(estimate: Estimate | None) -> dict[str, float] | None:
    if estimate is None:
        return None
    return {"value": estimate.value, "low": estimate.low, "high": estimate.high}


def state_text(state: "SteelState") -> str:
    """The state in words, figures with their bands."""
    lines = heading(f"At {wording.temperature(state.temperature_c)}, {state.start} before", "=")
    rows = [*_lines(state), *_phases(state), *_quenched(state)]
    if rows:
        lines += table((), rows)
    for notice in state.notices:
        lines += bullet(sentence(said(notice)), "!")
    return "\n".join(lines) + "\n"


def _lines(state: "SteelState") -> list[tuple[str, str]]:
    named = (
        ("Ae1, austenite begins", state.ae1_c),
        ("Ae3, the last ferrite goes", state.ae3_c),
        ("Acm, the last carbide goes", state.acm_c),
    )
    return [(name, wording.estimate(c, wording.temperature)) for name, c in named if c is not None]


def _phases(state: "SteelState") -> list[tuple[str, str]]:
    amounts, soaked = state.equilibrium, state.after_soak
    rows = []
    if amounts is not None:
        parts = (
            ("austenite", amounts.austenite),
            ("ferrite", amounts.ferrite),
            ("carbide", amounts.carbide),
        )
        words = ", ".join(f"{name} {wording.percent(share)}" for name, share in parts)
        carbon = amounts.austenite_carbon_wt
        inside = f"; {wording.wt(carbon)} carbon in the austenite" if carbon is not None else ""
        rows.append(("At equilibrium", f"{words}{inside}"))
    if soaked is not None:
        carbon_words = wording.estimate(soaked.austenite_carbon_wt, wording.wt)
        carbide = wording.estimate(soaked.carbide, wording.percent)
        rows.append(("After a short soak", f"{carbon_words} carbon dissolved, carbide {carbide}"))
    return rows


def _quenched(state: "SteelState") -> list[tuple[str, str]]:
    rows = []
    if state.ms_c is not None:
        rows.append(("Ms, martensite begins", wording.estimate(state.ms_c, wording.temperature)))
    if state.retained_austenite is not None:
        rows.append(("Retained austenite", wording.estimate(state.retained_austenite, wording.percent)))
    if state.hrc is not None:
        rows.append(("Hardness as quenched", wording.estimate(state.hrc, wording.hardness)))
    return rows
