"""The hardening sheet: from normalising to tempering, in the order of the work at the fire."""

from billet import wording
from billet.contract.report import Notice, Report
from billet.sheets.doubts import doubt_words
from billet.sheets.harden_drawing import window_section
from billet.sheets.harden_none import none_sections
from billet.sheets.harden_rows import expected_rows, held_by, magnet_rows, own_oil
from billet.sheets.layout import sentence
from billet.sheets.model import BLANK, BOX, Section, blanks, checks, filled, large, pairs, table, text
from billet.sheets.quench_words import (
    after_words,
    bath_range_c,
    bath_words,
    depth_words,
    into_it,
    own_bath_words,
)
from billet.sheets.safety import apart, caution_section
from billet.sheets.steels import names_of
from billet.sheets.temper_section import programmed_c, temper_section, temper_words
from billet.wording import Units

OPERATIONS = frozenset({"harden", "temper"})
SEEN = (
    "Furnace showed", "Minutes at heat", "Bath at", "File on the edge", "Bow, which way",
    "HRC, 3 readings",
)  # fmt: skip


def harden_statement(report: Report) -> str:
    """The headline for this fire and this oil; never a set point where there is none."""
    return report.headline.text


def harden_order(report: Report) -> str:
    """What to do about it."""
    return report.headline.do if report.hardening.set_point_c is not None else ""


def harden_sections(report: Report, units: Units) -> tuple[Section, ...]:
    """The windows drawn, boxes for the falling heats, the heat, the bath, the temper, reasons and doubts."""
    window, (told, safety) = window_section(report), _cautions(report)
    if report.hardening.set_point_c is None:
        return filled(window, *none_sections(report, units), told, safety)
    temper = temper_section(report)
    return filled(
        large(_from_afar(report)).may_go_over("", "spare"),
        window,
        normalise_section(report).beside("left").may_go_over("Normalise", "either"),
        pairs("", [*_anneal(report), *_blade(report, units)]).beside("left").may_go_over("Before", "either"),
        None if temper is None else temper.beside("left").may_go_over("Temper", "either"),
        pairs("", _orders(report)).beside("right"),
        pairs("", _expected(report, units)).beside("right").may_go_over("What to expect"),
        text("", [_reasons(report)]).may_go_over("Reasons and doubts"),
        blanks("", SEEN).may_go_over("What came", "either"),
        told,
        safety,
    )


def _cautions(report: Report) -> tuple[Section, Section]:
    return apart(caution_section(report, OPERATIONS, _belongs, few=True))


def _belongs(notice: Notice) -> bool:
    return notice.where in {"hardening", "quench", "temper", "blade"}


def normalise_section(report: Report) -> Section:
    """The falling heats, a box each; or why there are none."""
    h = report.hardening
    if not h.normalise_c:
        return checks("", [sentence(f"Do not normalise: {h.normalise_because}")])
    rows = [(str(i), wording.temperature(c), BOX, BLANK) for i, c in enumerate(h.normalise_c, start=1)]
    heading = "Normalise, each time still air until black"
    return table(heading, ("", "Heat", "Done", "Came to"), rows)


def _anneal(report: Report) -> list[tuple[str, str]]:
    """How to soften it after normalising; why stands on the furnace programme."""
    a = report.hardening.anneal
    if a.temperature_c is None or a.hold_min is None:
        return []
    told = f"{wording.temperature_aside(a.temperature_c)}, {wording.hours(a.hold_min)}"
    if a.cool_k_h is not None and a.until_c is not None:
        until = wording.temperature_aside(a.until_c)
        told = f"{told}, then at most {wording.rate_an_hour(a.cool_k_h)} to {until}"
    return [("Anneal", told)]


def _cold(report: Report) -> list[tuple[str, str]]:
    """Deep cold where it is offered."""
    cold = report.hardening.cold_treatment
    if cold is None:
        return []
    steps = f"after the first temper, {wording.hours(cold.hold_min)}, then temper again"
    return [("If wished", f"{wording.temperature_aside(cold.to_c)} {steps}")]


def _from_afar(report: Report) -> list[tuple[str, str]]:
    """What is read at the fire, beside the heat and the bath of the headline."""
    h, bath_c, temper_c = report.hardening, bath_range_c(report, own_oil(report)), programmed_c(report)
    rows = [] if h.soak_min is None else [("Soak", wording.minutes(h.soak_min))]
    rows += [] if bath_c is None else [("bath", wording.temperature_range(*bath_c))]
    return rows + ([] if temper_c is None else [("temper", wording.temperature(temper_c))])


def _orders(report: Report) -> list[tuple[str, str]]:
    """The heat and the bath, line by line; the set point itself stands above in large letters."""
    h = report.hardening
    assert h.set_point_c is not None and h.window_c is not None
    rows = [("Held by", held_by(report, at_length=False))]
    if h.soak_min is not None:
        through = h.heat_through_min
        first = "" if through is None else f" (about {wording.minutes(through)} after it went in)"
        held = f"{wording.minutes(h.soak_min)} from when the steel itself is at heat"
        rows.append(("Soak", f"{held}{first}"))
    own = own_oil(report)
    bath = bath_words(report) if own is None else own_bath_words(own)
    if bath:
        rows.append(("Quench", f"{bath}; {into_it(report)}"))
        rows.append(("Then", after_words(report)))
    return [*rows, *magnet_rows(report)]


def _expected(report: Report, units: Units) -> list[tuple[str, str]]:
    """How deep it hardens and how hard it comes out of the bath; deep cold where it is offered."""
    own = own_oil(report)
    medium = own.medium if own is not None else report.quench.medium
    depth = [] if medium is None else depth_words(report, medium, units)
    return [*(("Depth", words) for words in depth), *expected_rows(report), *_cold(report)]


def _blade(report: Report, units: Units) -> list[tuple[str, str]]:
    """What the blade must be before it sees the heat."""
    blade = report.blade
    if blade is None:
        return []
    thick, edge = wording.length(blade.height_mm, units), wording.length(blade.least_edge_mm, units)
    skin = wording.length(blade.grind_per_face_mm, units)
    ground = f", {skin} off each face of the bar" if blade.grind_per_face_mm > 0.0 else ""
    return [("Blade", f"{thick} thick{ground}, edge {edge} or more")]


def _reasons(report: Report) -> str:
    names = names_of(report)
    temper = [sentence(words, names) for words in temper_words(report)]
    return " ".join([sentence(report.hardening.because, names), *doubt_words(report), *temper])
