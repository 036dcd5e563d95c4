"""The first part of the report as text: the answer, what to do, why, what each steel says."""

from billet import wording
from billet.contract.report import HardeningSteel, Report, TemperWanted
from billet.sheets.harden_rows import held_by
from billet.sheets.layout import bullet, heading, sentence, table, wrapped
from billet.sheets.quench_words import bath_words
from billet.sheets.steels import called, names_of
from billet.text.report_quench import quench_lines
from billet.wording import Units

ROLES = {"hardens": "hardens", "partly": "hardens in part", "soft": "stays soft"}


def answer_lines(report: Report, units: Units) -> list[str]:
    """Statement, orders, reasons, the steels, the quench by thickness, the temper."""
    lines = ["", *wrapped(f">>> {report.headline.text}", indent="    ")]
    lines += ["", *wrapped(report.headline.do)]
    orders = _orders(report, units)
    if orders:
        lines += ["", *table((), orders)]
    lines += ["", *heading("Why"), *_why(report)]
    lines += _gives_up(report)
    lines += ["", *heading("What each steel says"), *_steels(report)]
    lines += quench_lines(report, units)
    return lines + _temper(report)


def _orders(report: Report, units: Units) -> list[tuple[str, str]]:
    h = report.hardening
    if h.set_point_c is None or h.window_c is None:
        return _least_bad(report)
    rows = []
    if h.normalise_c:
        rows.append(("Normalise", ", then ".join(wording.temperature(c) for c in h.normalise_c)))
    narrow = ", narrow" if h.verdict == "narrow" else ""
    rows += [
        ("Set point", wording.temperature(h.set_point_c)),
        ("Window", wording.temperature_range(*h.window_c) + narrow),
        *([("Works", wording.temperature_range(*h.works_c))] if h.works_c is not None else []),
        ("Held by", held_by(report)),
    ]
    if h.soak_min is not None:
        rows.append(("Soak", f"{wording.minutes(h.soak_min)} from when the steel is at heat"))
    bath = bath_words(report)
    rows.append(("Quench", bath if bath else "none"))
    if report.temper.governs:
        rows.append(
            ("Temper", f"{report.temper.cycles} × {wording.hours(report.temper.minutes)}, table below")
        )
    return rows


def _least_bad(report: Report) -> list[tuple[str, str]]:
    least = report.hardening.least_bad
    if least is None:
        return []
    rows = [("Least bad", f"{wording.temperature(least.c)}, which is no set point; what suffers there:")]
    return rows + [(called(report, row.steel), row.suffers) for row in least.per_steel]


def _why(report: Report) -> list[str]:
    h = report.hardening
    reasons = [h.because]
    reasons += (
        [f"low end set by {h.low_set_by}, top by {h.high_set_by}"] if h.low_set_by and h.window_c else []
    )
    reasons += [h.normalise_because, f"soak: {h.soak_because}" if h.soak_because else ""]
    reasons += [*report.quench.reasons, report.temper.because]
    lines = [line for reason in reasons if reason for line in bullet(sentence(reason, names_of(report)))]
    for way in h.could_change:
        lines += bullet(sentence(f"could change it: {way}"))
    return lines


def _gives_up(report: Report) -> list[str]:
    """What each steel loses at the ends of the fire's swing."""
    rows = report.hardening.gives_up
    if not rows:
        return []
    told = [(wording.temperature(row.at_c), called(report, row.steel), row.text) for row in rows]
    return ["", *heading("What the ends of the swing cost"), *table(("At", "Steel", "Loses"), told)]


def _steels(report: Report) -> list[str]:
    lines = []
    for steel in report.hardening.per_steel:
        lines += bullet(_steel(report, steel))
    return lines


def _steel(report: Report, s: HardeningSteel) -> str:
    parts = [f"{called(report, s.steel)} {ROLES[s.role]}: {s.role_because}"]
    if s.preferred_c is not None:
        parts.append(f"prefers {wording.temperature_range(*s.preferred_c)}")
    for because in dict.fromkeys((s.low_because, s.high_because)):
        parts += [because] if because else []
    if s.austenite_carbon_wt is not None:
        parts.append(f"dissolves {wording.estimate(s.austenite_carbon_wt, wording.wt)} carbon")
    if s.ms_c is not None:
        parts.append(f"martensite from {wording.estimate(s.ms_c, wording.temperature)}")
    if s.retained_austenite is not None:
        parts.append(f"retained austenite {wording.estimate(s.retained_austenite, wording.percent)}")
    if s.hrc is not None:
        parts.append(f"{wording.estimate(s.hrc, wording.hardness)} as quenched")
    elif s.role != "soft" and report.hardening.set_point_c is not None:
        parts.append("its hardness as quenched is not known")
    if s.hrc_soft is not None:
        parts.append(wording.estimate(s.hrc_soft, wording.hardness))
    return "; ".join(parts) + "."


def _temper(report: Report) -> list[str]:
    temper = report.temper
    if not temper.table:
        return _wanted(temper.wanted)
    names = list(dict.fromkeys(row.steel for step in temper.table for row in step.per_steel))
    rows = []
    for step in temper.table:
        told = {row.steel: wording.hardness_range(row.low, row.high) for row in step.per_steel}
        remark = "" if step.advised else "not advised"
        cells = (told.get(name, "not known") for name in names)
        rows.append((wording.temperature(step.temperature_c), *cells, remark))
    why = [step.why_not for step in temper.table if step.why_not]
    governs = f": {temper.governs} is the softest and governs" if temper.governs else ""
    lines = ["", *heading(f"Temper {temper.cycles} × {wording.hours(temper.minutes)}{governs}")]
    lines += table(("At", *(called(report, name) for name in names), ""), rows)
    lines += bullet(sentence(f"not advised: {why[0]}")) if why else []
    return lines + _wanted(temper.wanted)


def _wanted(wanted: TemperWanted | None) -> list[str]:
    """What the recipe's own hardness asks for."""
    if wanted is None:
        return []
    if wanted.temperature_c is None:
        return bullet(sentence(str(wanted.why_not)), "!")
    against = f"; {wanted.why_not}" if wanted.why_not else ""
    asked = f"for {wording.hardness(wanted.hrc)} at the softest layer of the edge"
    return bullet(sentence(f"{asked}: {wording.temperature(wanted.temperature_c)}{against}"))
