"""The kiln sheet: every run of the furnace, segment by segment, as a controller takes it."""

import csv
import io
from dataclasses import replace

from billet import wording
from billet.contract.heat_cycle_rows import ProgrammeRow, SegmentRow
from billet.contract.report import Notice, Report
from billet.sheets.layout import plain, sentence
from billet.sheets.model import BOX, Cells, Section, filled, table, text
from billet.sheets.safety import apart, caution_section
from billet.sheets.steels import names_of

COLUMNS = ("", "Go to", "Hold", "Then", "Done")
CSV_COLUMNS = ("job", "segment", "rate_k_h", "to_c", "hold_min", "note")
HEADINGS = {
    "normalise": "Normalise, in the furnace at heat",
    "anneal": "Anneal",
    "harden": "Harden",
    "temper": "Temper, within the hour: the row marked on the hardening sheet",
}
OPERATIONS = frozenset({"harden", "temper"})
IN_THE_KILN = frozenset({"hard-from-air", "deep-cold", "falling-ramp"})
NEEDS_SET_POINT = frozenset({"harden", "temper"})


def kiln_statement(report: Report) -> str:
    """The hardening heat in large letters, and how long it is held."""
    h = report.hardening
    if h.set_point_c is None:
        return "No hardening heat is programmed: there is no set point for this bar"
    if h.soak_min is None:
        return f"Harden at {wording.temperature(h.set_point_c)}"
    return f"Harden at {wording.temperature(h.set_point_c)}, {wording.minutes(h.soak_min)} at heat"


def kiln_sections(report: Report) -> tuple[Section, ...]:
    """A table a run, why it is so, and what can hurt."""
    return filled(
        *(_programme(place, made) for place, made in enumerate(_shown(report), start=1)),
        text("", _reasons(report)).may_go_over("Why"),
        *apart(caution_section(report, OPERATIONS, _belongs, few=True)),
    )


def kiln_csv(report: Report) -> str:
    """The same as comma-separated values: rate in K an hour (empty: as fast as it goes), C, minutes."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(CSV_COLUMNS)
    for made in _shown(report):
        for number, s in enumerate(made.segments, start=1):
            rate = "" if s.rate_k_h is None else f"{s.rate_k_h:g}"
            writer.writerow((made.job, number, rate, f"{s.to_c:g}", f"{s.hold_min:g}", plain(s.note)))
    return out.getvalue()


def _shown(report: Report) -> tuple[ProgrammeRow, ...]:
    """Without a set point nothing is hardened or tempered."""
    if report.hardening.set_point_c is not None:
        return report.programmes
    return tuple(made for made in report.programmes if made.job not in NEEDS_SET_POINT)


def _belongs(notice: Notice) -> bool:
    return notice.code in IN_THE_KILN


def _programme(place: int, made: ProgrammeRow) -> Section:
    rows = [_segment(number, s) for number, s in enumerate(_without_cooling(made), start=1)]
    found = table(f"{place}  {HEADINGS[made.job]}", COLUMNS, rows)
    return found if made.job == "harden" else found.may_go_over(made.job, "either")


def _without_cooling(made: ProgrammeRow) -> list[SegmentRow]:
    """On paper the cooling that nothing holds is told beside the segment before it."""
    kept: list[SegmentRow] = []
    for s in made.segments:
        if kept and s.rate_k_h is None and s.hold_min <= 0.0:
            before = kept[-1]
            kept[-1] = replace(before, note=f"{before.note}; {s.note}")
        else:
            kept.append(s)
    return kept


def _segment(number: int, s: SegmentRow) -> Cells:
    rate = "" if s.rate_k_h is None else f"{wording.rate_an_hour(s.rate_k_h)}: "
    hold = wording.minutes(s.hold_min) if s.hold_min > 0.0 else "none"
    return (str(number), wording.temperature(s.to_c), hold, f"{rate}{s.note}", BOX)


def _reasons(report: Report) -> list[str]:
    h = report.hardening
    told = [] if h.normalise_c else [h.normalise_because]
    told.append(f"anneal: {h.anneal.because}")
    if h.cold_treatment is not None and h.set_point_c is not None:
        told.append(h.cold_treatment.because)
    return [" ".join(sentence(reason, names_of(report)) for reason in told)]
