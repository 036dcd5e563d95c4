"""The hardening sheet: from normalising to tempering, in the order of the work at the fire."""

from billet import wording
from billet.contract.report import Notice, Report
from billet.sheets.doubts import doubt_words
from billet.sheets.harden_none import none_sections, none_statement
from billet.sheets.layout import sentence
from billet.sheets.model import BLANK, BOX, Section, blanks, checks, filled, pairs, table, text
from billet.sheets.quench_words import after_words, bath_words, costs, into_it
from billet.sheets.safety import caution_section
from billet.sheets.steels import names_of
from billet.sheets.temper_section import temper_section
from billet.wording import Units

LEAST_TOLD_K = 1.0

OPERATIONS = frozenset({"harden", "temper"})
SEEN = (
    "Furnace showed", "Minutes at heat", "Bath at", "File on the edge", "Bow, and which way",
    "Hardness, 3 readings",
)  # fmt: skip


def harden_statement(report: Report) -> str:
    """The answer in large letters; never a set point where there is none."""
    h = report.hardening
    if h.set_point_c is None:
        return none_statement(report)
    medium = report.quench.medium
    narrow = "; the window is narrow" if h.verdict == "narrow" else ""
    bath = f", {medium}{compromise_words(report)}" if medium else ""
    return f"Harden at {wording.temperature(h.set_point_c)}{bath}{narrow}"


def compromise_words(report: Report) -> str:
    """What follows the name of a medium that does not suit every layer."""
    return " as a compromise" if report.quench.verdict == "compromise" else ""


def harden_sections(report: Report, units: Units) -> tuple[Section, ...]:
    """Boxes for the falling heats, the heat itself, the bath, the temper, reasons and doubts."""
    if report.hardening.set_point_c is None:
        return filled(*none_sections(report, units), _cautions(report))
    return filled(
        normalise_section(report),
        pairs("", [*_anneal(report), *_orders(report, units)]),
        temper_section(report),
        pairs("", _cold(report)),
        blanks("", SEEN),
        text("", [_reasons(report)]),
        _cautions(report),
    )


def _cautions(report: Report) -> Section:
    return caution_section(report, OPERATIONS, _belongs)


def _belongs(notice: Notice) -> bool:
    return notice.where in {"hardening", "quench", "temper", "blade"}


def normalise_section(report: Report) -> Section:
    """The falling heats, a box each; or why there are none."""
    h = report.hardening
    if not h.normalise_c:
        return checks("", [sentence(f"Do not normalise: {h.normalise_because}")])
    rows = [(str(i), wording.temperature(c), BOX, BLANK) for i, c in enumerate(h.normalise_c, start=1)]
    heading = "Normalise first: hot right through each time, then still air until black"
    return table(heading, ("Heat", "Temperature", "Done", "Came to"), rows)


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


def _orders(report: Report, units: Units) -> list[tuple[str, str]]:
    """The heat and the bath, line by line; the set point itself stands above in large letters."""
    h = report.hardening
    assert h.set_point_c is not None and h.window_c is not None
    rows = [
        *_blade(report, units),
        ("Window", f"{wording.temperature_range(*h.window_c)}{_ends(report)}"),
        ("Held by", held_by(report)),
    ]
    magnet = magnet_words(report)
    if magnet:
        rows.append(("Magnet", magnet))
    if h.soak_min is not None:
        through = h.heat_through_min
        first = "" if through is None else f"; about {wording.minutes(through)} to heat through before that"
        held = f"{wording.minutes(h.soak_min)} from when the steel, not the furnace, is at heat"
        rows.append(("Soak", f"{held}{first}"))
    bath = bath_words(report)
    if bath:
        rows.append(("Quench", f"{bath}; {into_it(report)}"))
        rows += [("It costs", words) for words in costs(report, units)]
        rows.append(("Then", after_words(report)))
    return rows


def _blade(report: Report, units: Units) -> list[tuple[str, str]]:
    """What the blade must be before it sees the heat."""
    blade = report.blade
    if blade is None:
        return []
    thick, edge = wording.length(blade.height_mm, units), wording.length(blade.least_edge_mm, units)
    skin = wording.length(blade.grind_per_face_mm, units)
    ground = f", {skin} off each face of the bar" if blade.grind_per_face_mm > 0.0 else ""
    return [("Blade", f"{thick} thick{ground}, edge {edge} or more")]


def _ends(report: Report) -> str:
    h = report.hardening
    if h.low_set_by and h.high_set_by and h.low_set_by != h.high_set_by:
        return f"; low end by {h.low_set_by}, top by {h.high_set_by}"
    return f"; set by {h.low_set_by}" if h.low_set_by else ""


def held_by(report: Report) -> str:
    """How the temperature is held and what that is worth here; else how finely it must be held."""
    control = report.hardening.control
    if control is None:
        return f"not told; {within_words(report)}"
    label = f"{control.label or 'own way'}, {wording.plus_minus(control.half_width_k)}"
    if control.grade == "good":
        return f"{label}: good"
    if control.grade == "works":
        return f"{label}: works, not at its best; {within_words(report)}"
    return f"{label}: TOO ROUGH; {within_words(report)}"


def within_words(report: Report) -> str:
    """How finely the set point must be held to be good, and to work."""
    good_k, works_k = report.hardening.good_within_k, report.hardening.works_within_k
    if good_k is None or works_k is None:
        return "no temperature to hold"
    works = f"works up to {wording.plus_minus(works_k)}"
    if good_k < LEAST_TOLD_K:
        return f"good nowhere, {works}"
    return f"good up to {wording.plus_minus(good_k)}, {works}"


def magnet_words(report: Report) -> str | None:
    """Where the last layer lets go of a magnet, and how far above the set point lies.

    None where a magnet says nothing of one of the layers, or the set point does not lie above it.
    """
    points = [row.magnet_c for row in report.hardening.per_steel]
    set_point_c = report.hardening.set_point_c
    if set_point_c is None or not points or any(point is None for point in points):
        return None
    last = max((point for point in points if point is not None), key=lambda point: point.value)
    above_k = set_point_c - last.value
    if set_point_c <= last.high:
        return None
    mild = [row.steel for row in report.hardening.per_steel if row.role == "soft" and row.magnet_c == last]
    holds = f"; {wording.listed(mild)} holds it so long whatever the edge does" if mild else ""
    return (
        f"the last layer lets go at about {wording.temperature_aside(last.value)}, "
        f"{wording.plus_minus(last.high - last.value)}, on heating; the set point lies "
        f"{wording.difference(above_k)} above: a floor, never the target (from memory){holds}"
    )


def _reasons(report: Report) -> str:
    return " ".join([sentence(report.hardening.because, names_of(report)), *doubt_words(report)])
