"""The quench in the words of the hand: which bath, how quickly in, when out and what then."""

from billet import wording
from billet.contract.report import OwnOilRow, Report
from billet.tables.media import medium
from billet.tables.practice import decision_numbers
from billet.wording import Units

APART = frozenset({"ms-far-apart", "never-transforms", "ms-apart", "one-sided"})
DRY = frozenset({"air", "plates"})


def bath_words(report: Report) -> str | None:
    """The class and its bath; None where nothing is quenched."""
    q = report.quench
    if q.medium is None:
        return None
    if q.bath_c is None or q.medium in DRY:
        return " or ".join((q.medium, *q.also))
    return f"{q.medium}, bath at {wording.temperature_range(*q.bath_c)}"


def bath_range_c(report: Report, own: OwnOilRow | None) -> tuple[float, float] | None:
    """How warm the bath is, that of one's own oil first; None where nothing is quenched in one. [C]"""
    if own is not None:
        return medium(own.medium).bath_c
    return None if report.quench.medium in DRY else report.quench.bath_c


def own_bath_words(own: OwnOilRow) -> str:
    """An oil of the smith's own, the class it counts as and its bath."""
    return f"{own.name} ({own.medium}), bath at {wording.temperature_range(*medium(own.medium).bath_c)}"


def depth_words(report: Report, bath: str, units: Units) -> list[str]:
    """How thick the steels that pay harden through in this bath, in one line; what else they pay, in full."""
    to_mm = {row.steel: row.hardens_to_mm.get(bath) for row in report.quench.per_steel}
    section_mm = report.blade.height_mm if report.blade is not None else None
    shallow: dict[str, float] = {}
    told = []
    for pays in report.quench.pays:
        depth_mm = to_mm.get(pays.steel)
        if depth_mm is not None and section_mm is not None and depth_mm < section_mm:
            shallow[pays.steel] = depth_mm
        else:
            told.append(f"{pays.steel}: {pays.how}")
    if shallow:
        each = ", ".join(f"{name} {wording.length(mm, units)}" for name, mm in shallow.items())
        told.insert(0, f"hardens through surely to: {each}; a thicker spine keeps a softer core")
    return told


def into_it(report: Report) -> str:
    """How quickly, and how."""
    dry = report.quench.medium
    if dry == "air":
        return "hung free in still air, no draught on one side"
    if dry == "plates":
        return "clamped at once between cold metal plates, over the whole face"
    quickly = wording.seconds(float(decision_numbers("shop")["fire_to_bath_s"]))
    return f"within {quickly} of leaving the fire, straight down, then moved edgewise"


def comes_out_warm(report: Report) -> bool:
    """Whether the layers change so far apart, or so one-sidedly, that the blade comes out warm."""
    return any(notice.code in APART for notice in report.notices)


def after_words(report: Report) -> str:
    """When to take the blade out, straighten it and temper it."""
    shop, crack = decision_numbers("shop"), decision_numbers("crack")
    if comes_out_warm(report):
        low, high = crack["out_of_oil_c"]
        return (
            f"out at {wording.temperature_range(low, high)}, straighten at once while warm, temper within "
            f"{wording.minutes(crack['temper_within_min'])}"
        )
    return (
        f"out below {wording.temperature(shop['temper_below_c'])}, straighten while warm, temper within "
        f"{wording.minutes(shop['temper_within_min'])}; never bend it cold before the temper"
    )
