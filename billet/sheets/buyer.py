"""The buyer's sheet: for a stranger with another furnace, another bath and another blade."""

from billet import wording
from billet.contract.report import Notice, Report
from billet.sheets.buyer_quench import methods_line, quench_line
from billet.sheets.doubts import doubt_words
from billet.sheets.drawn import FaceFigure
from billet.sheets.forge_end import skin_words
from billet.sheets.harden_rows import compromise_words, magnet_rows
from billet.sheets.layout import sentence
from billet.sheets.model import Section, blanks, drawn, filled, pairs, table, text
from billet.sheets.quench_words import after_words
from billet.sheets.safety import apart, caution_section
from billet.sheets.steels import in_short, laid_steels, names_of, two_names, typed_name
from billet.sheets.temper_section import temper_section, temper_words
from billet.wording import Units

OPERATIONS = frozenset({"harden", "etch"})
BULK = ("C", "Mn", "Cr", "Ni")
ETCH = "Etch only after hardening and temper."
CALCULATED = (
    "Calculated from the recipe: carbon, layers, window, bath, hardness. Ranges and temper curves: "
    "published or remembered. Tested on this bar: nothing, unless written here; harden a coupon first."
)
SEEN = ("Hardened at", "Minutes, bath", "Tempered at", "HRC, 3 readings")


def buyer_statement(report: Report) -> str:
    """What the bar is and the one heat for it."""
    h, q = report.hardening, report.quench
    name = f"{in_short(report)}, {wording.count(report.schedule[-1].layers_visible, 'layer')}"
    if h.set_point_c is None:
        return f"{name}: {'does not harden' if h.none_because == 'soft' else 'no set point can be given'}"
    bath = f", {q.medium}{compromise_words(report)}" if q.medium else ""
    narrow = "; the window is narrow" if h.verdict == "narrow" else ""
    return f"{name}: harden at {wording.temperature(h.set_point_c)}{bath}{narrow}"


def buyer_sections(report: Report, units: Units) -> tuple[Section, ...]:
    """The face, what is in the bar, how to harden and temper it, what was only calculated, blanks."""
    told, safety = apart(caution_section(report, OPERATIONS, _belongs, few=True))
    hardens = report.hardening.set_point_c is not None
    temper = temper_section(report, boxes=False) if hardens else None
    return filled(
        face_section(report, units),
        _inside(report).beside("left"),
        pairs("", _bar(report, units)).beside("left"),
        pairs("", _heat(report, units)).beside("right"),
        None if temper is None else temper.beside("left").may_go_over("Temper", "either"),
        text("", [_origin(report)]).may_go_over("What stands behind the figures"),
        blanks("", SEEN).may_go_over("What came", "either"),
        told,
        safety,
    )


def face_section(report: Report, units: Units) -> Section:
    """The face of the finished bar as it will look when etched."""
    last = report.schedule[-1]
    size = wording.bench_face(last.width_mm, last.length_mm, units)
    told = f"Face of the bar {size} as it may etch: computed with one possible hand, no photograph"
    return drawn("", FaceFigure(last.width_mm, last.length_mm), [told])


def _belongs(notice: Notice) -> bool:
    return notice.where in {"hardening", "quench", "temper", "blade"}


def _inside(report: Report) -> Section:
    """The steels with their shares and the carbon they have now."""
    rows = []
    for row in laid_steels(report):
        carbon = wording.wt(row.carbon_wt.mean) if row.carbon_wt is not None else "not known"
        own = "" if row.steel in {typed_name(report, row), row.designation} else f"{row.steel}: "
        names = own + two_names(report, row) + (f", melt {row.melt}" if row.melt else "")
        rows.append((names, wording.percent(row.mass_share), carbon))
    return table("", ("Steel", "Share", "Carbon now"), rows)


def _bar(report: Report, units: Units) -> list[tuple[str, str]]:
    last = report.schedule[-1]
    size = wording.bench_size(last.height_mm, last.width_mm, last.length_mm, units)
    each = wording.micrometres(last.layer_um.mean, units)
    layers = f"{last.layers_laid} laid, {last.layers_visible} to be seen, {each} each"
    bulk = ", ".join(f"{e} {wording.wt(report.blend.get(e, 0.0))}" for e in BULK)
    return [
        ("Bar", f"{size}; {skin_words(report, units)}"),
        ("Layers", layers),
        ("Pattern", report.pattern.contrast),
        ("Whole bar", f"{bulk}: calculated, not analysed"),
    ]


def _heat(report: Report, units: Units) -> list[tuple[str, str]]:
    h = report.hardening
    if h.set_point_c is None or h.window_c is None:
        return [("Heat", f"no set point: {h.because}")]
    rows = [_normalise(report)]
    narrow = "; narrow" if h.verdict == "narrow" else ""
    rows += [
        ("Set point", wording.temperature(h.set_point_c)),
        ("Window", wording.temperature_range(*h.window_c) + narrow),
        ("Held by", methods_line(report)),
        *magnet_rows(report, few=True),
    ]
    if h.soak_min is not None:
        section = f"for sections to {wording.length(_section_mm(report), units)}"
        rows.append(("Soak", f"{wording.minutes(h.soak_min)} from when the steel is at heat, {section}"))
    quench = quench_line(report, units)
    if quench is not None:
        rows += [("Quench", quench), ("Then", after_words(report))]
    return rows


def _normalise(report: Report) -> tuple[str, str]:
    h = report.hardening
    if not h.normalise_c:
        return ("Normalise", f"not: {h.normalise_because}")
    heats = ", then ".join(wording.temperature(c) for c in h.normalise_c)
    return ("Normalise", f"{heats}; each time still air until black")


def _section_mm(report: Report) -> float:
    """The section that the soak was told for: the blade's, else the thickest of the quench table."""
    if report.blade is not None:
        return report.blade.height_mm
    return max(row.thickness_mm for row in report.quench.by_thickness)


def _origin(report: Report) -> str:
    """What stands behind the figures, and when to etch."""
    parts = [CALCULATED]
    if report.hardening.verdict != "none":
        parts.insert(0, ETCH)
    temper = [sentence(words, names_of(report)) for words in temper_words(report)]
    return " ".join([*parts, *doubt_words(report), *temper])
