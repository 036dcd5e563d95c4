"""Rows that the hardening sheet and the buyer's sheet share: fire, magnet, what to expect of the quench."""

from collections.abc import Mapping

from billet import wording
from billet.contract.report import Estimate, OwnOilRow, Report

LEAST_TOLD_K = 1.0


def compromise_words(report: Report) -> str:
    """What follows the name of a medium that does not suit every layer."""
    return " as a compromise" if report.quench.verdict == "compromise" else ""


def held_by(report: Report, at_length: bool = True) -> str:
    """How the temperature is held and what that is worth here; else how finely it must be held.

    Not at length where the headline stands above, which tells how finely.
    """
    control = report.hardening.control
    if control is None:
        return f"not told; {within_words(report)}"
    swing = wording.plus_minus(control.half_width_k)
    label = f"{control.label or 'own way'}, {swing}" if at_length else swing
    if control.grade == "good":
        return f"{label}: good"
    if control.grade == "works":
        return f"{label}: works, not at its best" + (f"; {within_words(report)}" if at_length else "")
    return f"{label}: TOO ROUGH" + (f"; {within_words(report)}" if at_length else "")


def within_words(report: Report) -> str:
    """How finely the set point must be held to be good, and to work."""
    good_k, works_k = report.hardening.good_within_k, report.hardening.works_within_k
    if good_k is None or works_k is None:
        return "no temperature to hold"
    works = f"works up to {wording.plus_minus(works_k)}"
    if good_k < LEAST_TOLD_K:
        return f"good nowhere, {works}"
    return f"good up to {wording.plus_minus(good_k)}, {works}"


def magnet_rows(report: Report, few: bool = False) -> list[tuple[str, str]]:
    """Where each steel lets go of a magnet on heating (`few`: the last one), and the set point above it.

    None where a magnet says nothing of one of the layers, or the set point does not lie above it.
    """
    rows = report.hardening.per_steel
    set_point_c = report.hardening.set_point_c
    points = [row.magnet_c for row in rows if row.magnet_c is not None]
    if set_point_c is None or not points or len(points) < len(rows):
        return []
    last = max(points, key=lambda point: point.value)
    if set_point_c <= last.high:
        return []
    above = wording.difference(set_point_c - last.value)
    floor = f"(from memory); set point {above} above the last: a floor, no target"
    if few:
        return [("Magnet", f"the last layer lets go at {wording.temperature_aside(last.value)} {floor}")]
    each: dict[str, list[str]] = {}
    for row, point in zip(rows, points, strict=True):
        each.setdefault(wording.temperature_aside(point.value), []).append(row.steel)
    lets_go = ", ".join(f"{wording.listed(names)} {heat}" for heat, names in each.items())
    told = f"lets go on heating: {lets_go} {floor}"
    return [("Magnet", told)]


def expected_rows(report: Report) -> list[tuple[str, str]]:
    """Hardness as quenched: at edge and spine in the smith's own oil, else of each steel at the set point."""
    own = own_oil(report)
    if own is not None:
        edge, spine = _expected(_by_edge(report, own.edge_hrc)[0]), _expected(own.spine_hrc)
        return [(place, told) for place, told in (("Edge", edge), ("Spine", spine)) if told]
    through = {row.steel: row.hrc for row in report.hardening.per_steel if row.role != "soft"}
    here, behind = (_expected(part) for part in _by_edge(report, through))
    told = "; ".join([*([here] if here else []), *([f"behind it {behind}"] if behind else [])])
    return [("Edge", told)] if told else []


def _by_edge(
    report: Report, by_steel: Mapping[str, Estimate | None]
) -> tuple[dict[str, Estimate | None], dict[str, Estimate | None]]:
    """What stands in the edge, and what does not; all in it where no blade was told."""
    edge = report.quench.edge
    inside = set(by_steel) if edge is None else set(edge.steels)
    here = {name: hrc for name, hrc in by_steel.items() if name in inside}
    return here, {name: hrc for name, hrc in by_steel.items() if name not in inside}


def own_oil(report: Report) -> OwnOilRow | None:
    """The smith's own oil that the headline is about, None where it is about a class."""
    name = report.headline.own_oil
    return next((row for row in report.quench.in_shop if row.name == name), None)


def _expected(by_steel: Mapping[str, Estimate | None]) -> str:
    told = [
        f"{name} {wording.hardness_span(hrc.low, hrc.high)}"
        for name, hrc in by_steel.items()
        if hrc is not None
    ]
    unknown = [name for name, hrc in by_steel.items() if hrc is None]
    known = [f"{', '.join(told)}{wording.THIN}HRC as quenched"] if told else []
    asked = [f"hardness of {wording.listed(unknown)} as quenched is not known: measure it"] if unknown else []
    return "; ".join([*known, *asked])
