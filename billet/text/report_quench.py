"""The quench part of the report as text."""

from collections.abc import Mapping

from billet import wording
from billet.contract.report import Estimate, Report
from billet.sheets.layout import bullet, heading, sentence, table
from billet.sheets.steels import called
from billet.wording import Units

OILS = ("slow oil", "medium oil", "fast oil")


def quench_lines(report: Report, units: Units) -> list[str]:
    """By thickness, who pays, the edge, the smith's own oils, and what each steel alone would take."""
    q = report.quench
    lines: list[str] = []
    if q.by_thickness and q.verdict != "none":
        rows = [
            (wording.length(row.thickness_mm, units), row.medium or "none", row.verdict, row.grade or "none")
            for row in q.by_thickness
        ]
        lines += [
            "",
            *heading("Quench by thickness"),
            *table(("Section", "Quench", "Verdict", "Hardens"), rows),
        ]
    for pays in q.pays:
        lines += bullet(f"{called(report, pays.steel)} pays: {pays.how}.", "!")
    lines += _edge(report)
    return lines + _own_oils(report, units) + _quench_steels(report, units)


def _edge(report: Report) -> list[str]:
    """What the edge is made of when it is quenched."""
    edge = report.quench.edge
    if edge is None:
        return []
    carbon = [f"{called(report, name)} with {wording.wt(wt)} carbon" for name, wt in edge.carbon_wt.items()]
    return bullet(f"The edge is {wording.count(edge.layers, 'layer')}: {wording.listed(carbon)}.")


def _own_oils(report: Report, units: Units) -> list[str]:
    """Every oil of the smith's own: grade, depth, hardness at edge and spine, and why."""
    oils = report.quench.in_shop
    if not oils:
        return []
    rows = [
        (
            oil.name,
            oil.grade,
            "-" if oil.hardens_to_mm is None else wording.length(oil.hardens_to_mm, units),
            _by_steel(report, oil.edge_hrc),
            _by_steel(report, oil.spine_hrc),
        )
        for oil in oils
    ]
    lines = ["", *table(("Own oil", "Hardens", "Surely through", "At the edge", "At the spine"), rows)]
    for oil in oils:
        lines += bullet(sentence(oil.because, tuple(o.name for o in oils)))
    return lines


def _by_steel(report: Report, hrc: Mapping[str, Estimate | None]) -> str:
    told = [
        f"{called(report, name)} {wording.hardness_range(found.low, found.high)}"
        for name, found in hrc.items()
        if found is not None
    ]
    return "; ".join(told) or "not told"


def _quench_steels(report: Report, units: Units) -> list[str]:
    """What each steel alone would take, and how thick it hardens in the oils."""
    rows = []
    for s in report.quench.per_steel:
        depths = [
            f"{name} {wording.length(s.hardens_to_mm[name], units)}"
            for name in OILS
            if name in s.hardens_to_mm
        ]
        rate = wording.estimate(s.critical_rate_k_s, wording.rate) if s.critical_rate_k_s else "not computed"
        through = ", ".join(depths) or "not told"
        rows.append((called(report, s.steel), s.slowest or "none", s.fastest or "none", through, rate))
    if not rows:
        return []
    columns = ("Steel alone", "Slowest", "Fastest", "Hardens through, to 30 mm", "Critical rate")
    return ["", *table(columns, rows)]
