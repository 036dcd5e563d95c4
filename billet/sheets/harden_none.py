"""The hardening sheet of a bar that has no set point: what is so, what could change it."""

from billet import wording
from billet.contract.report import HardeningSteel, Report
from billet.sheets.layout import sentence
from billet.sheets.model import Section, pairs, text
from billet.sheets.steels import called
from billet.wording import Units

COUPON_STEP_K = 15.0
COUPON = (
    "Common practice without a figure: cut five pieces from the end of the bar, harden each "
    f"{wording.difference(COUPON_STEP_K)} hotter than the last, break them, and take the lowest heat whose "
    "break is fine and grey and which a file does not bite"
)


def none_sections(report: Report, units: Units) -> tuple[Section | None, ...]:
    """Why, what each steel alone would take, the least bad heat with its price, what would change it."""
    h = report.hardening
    return (
        text("", [sentence(f"Why: {h.because}")]),
        _each_alone(report),
        _least_bad(report),
        text("What would change it", [sentence(way) for way in h.could_change]).may_go_over("", "either"),
        text("", [sentence(COUPON)]).may_go_over("Pieces to try", "either")
        if h.none_because == "unknown"
        else None,
    )


def _each_alone(report: Report) -> Section:
    rows = [(called(report, s.steel), _alone(report, s)) for s in report.hardening.per_steel]
    return pairs("What each steel would take alone", rows)


def _alone(report: Report, steel: HardeningSteel) -> str:
    if steel.role == "soft":
        soft = f", {wording.estimate(steel.hrc_soft, wording.hardness)}" if steel.hrc_soft else ""
        return f"stays soft: {steel.role_because}{soft}"
    quench = next((q for q in report.quench.per_steel if q.steel == steel.steel), None)
    medium = f"; {quench.slowest}" if quench is not None and quench.slowest else ""
    if steel.preferred_c is None:
        return steel.low_because or "no range is known"
    return f"{wording.temperature_range_aside(*steel.preferred_c)}{medium}"


def _least_bad(report: Report) -> Section | None:
    least = report.hardening.least_bad
    if least is None:
        return None
    rows = [
        (
            "Heat",
            f"{wording.temperature_aside(least.c)}, for a bar you have already and would else throw away",
        )
    ]
    rows += [(called(report, row.steel), row.suffers) for row in least.per_steel]
    return pairs("Least bad, and what it costs: not advised", rows)
