"""The quench in the words of the hand: which bath, how quickly in, when out."""

from billet import wording
from billet.tables.practice import rule
from billet.wording import Units
from billet.workflow.report import Report

APART = frozenset({"ms-far-apart", "never-transforms", "ms-apart", "one-sided"})
DRY = frozenset({"air", "plates"})


def bath_words(report: Report, units: Units) -> str | None:
    """The class and its bath; None where nothing is quenched."""
    q = report.quench
    if q.medium is None:
        return None
    bath = (
        f", bath at {wording.temperature_range(*q.bath_c)}" if q.bath_c and q.medium not in DRY else ""
    )
    cost = "".join(f"; a compromise: {pays.steel} {pays.how}" for pays in q.pays)
    return f"{q.medium}{bath}{cost}"


def into_the_oil(report: Report) -> str:
    """How quickly, and how."""
    medium = report.quench.medium
    if medium == "air":
        return "still air, hung free, away from any draught from one side"
    if medium == "plates":
        return "between cold metal plates, clamped at once over the whole face"
    quickly = wording.seconds(float(rule("shop")["fire_to_bath_s"]))
    return f"within {quickly} of leaving the fire; straight down, then move it edgewise, never flat"


def care_notice(report: Report) -> bool:
    """Whether the layers change so far apart, or so one-sidedly, that the blade comes out warm."""
    return any(notice.code in APART for notice in report.notices)


def from_the_oil(report: Report) -> str:
    """When to take the blade out of the bath and when to temper."""
    shop, crack = rule("shop"), rule("crack")
    if care_notice(report):
        low, high = crack["out_of_oil_c"]
        return (
            f"while still at {wording.temperature_range(low, high)}; temper within "
            f"{wording.minutes(crack['temper_within_min'])}"
        )
    return (
        f"leave it in until below {wording.temperature(shop['temper_below_c'])}; then temper within "
        f"{wording.minutes(shop['temper_within_min'])}"
    )


def straighten_words(report: Report) -> str:
    """When to straighten."""
    if care_notice(report):
        return "at once, while it is that warm, by hand or between boards; never once it is cold"
    return "while still warm from the bath, or during the temper; never cold and untempered"
