"""Sweep, partners and wish as text."""

from collections.abc import Sequence

from billet import wording
from billet.contract.partners import VERDICTS, PartnerRow, Partners, PartnerTable
from billet.contract.sweep import Sweep, SweepRow
from billet.contract.wish import Proposal, WishAnswer
from billet.wording import Units

ORDER = ("good", "works", "unknown", "no")
LETTER = {"good": "#", "works": "+", "unknown": "?", "no": ".", None: " "}
LABELS = {
    "weld": "weld", "hardens": "hardens together", "oil": "oil", "ms": "martensite starts apart",
    "contrast": "contrast",
}  # fmt: skip


def sweep_text(found: Sweep) -> str:
    """A line a value."""
    lines = [f"{found.title}: {found.vary}, {wording.count(len(found.rows), 'value')}"]
    lines += [f"{row.value:>10g}  {_swept(row)}" for row in found.rows]
    checked = f"carbon followed through every fire for {found.planned} of them"
    miss = f"; between them it is read, at most {wording.wt(found.miss_wt)} off where that was checked"
    lines.append(checked + (miss if found.between else ""))
    return "\n".join(lines)


def _swept(row: SweepRow) -> str:
    if row.refused is not None:
        return f"refused: {row.refused}"
    carbon = ", ".join(f"{name} {wording.wt(value)}" for name, value in (row.carbon_wt or {}).items())
    layers = wording.count(row.layers_visible or 0, "layer")
    if row.set_point_c is None or row.window_low_c is None or row.window_high_c is None:
        return f"no shared temperature ({row.none_because}); {layers}; carbon in the blade {carbon}"
    window = wording.temperature_range(row.window_low_c, row.window_high_c)
    set_point, bath = wording.temperature(row.set_point_c), row.medium or "no bath"
    return f"set {set_point}, good {window}, {bath}; {layers}; carbon in the blade {carbon}"


def sorted_rows(found: Partners, by: str) -> tuple[PartnerRow, ...]:
    """The partners by one verdict, the best first and else by name; or by name alone."""
    if by not in VERDICTS:
        return tuple(sorted(found.rows, key=lambda row: row.steel))
    return tuple(sorted(found.rows, key=lambda row: (ORDER.index(getattr(row, by).verdict), row.steel)))


def partners_text(found: Partners, rows: Sequence[PartnerRow]) -> str:
    """A paragraph a partner: each verdict with its reasons, and no sum of them."""
    lines = [
        f"Partners of {found.steel}, which is {wording.percent(found.share)} of the mass; carbon evened out "
        f"at {wording.temperature(found.level_c)}, section {wording.length_both(found.section_mm)}"
    ]
    for row in rows:
        lines += ["", f"{row.steel} ({row.number})" if row.number else row.steel]
        for name in VERDICTS:
            judged = getattr(row, name)
            lines.append(f"  {LABELS[name]}: {judged.verdict}; {'; '.join(judged.because)}")
    return "\n".join(lines)


def table_text(found: PartnerTable) -> str:
    """For every verdict a square of marks, each steel of the left beside each from the left."""
    widest = max(len(name) for name in found.steels)
    lines = ["# good, + works, ? unknown, . no; columns in the order of the rows"]
    for name, table in found.verdicts.items():
        lines += ["", LABELS[name]]
        for steel, row in zip(found.steels, table, strict=True):
            lines.append(f"{steel:<{widest}} {''.join(LETTER[told] for told in row)}")
    return "\n".join(lines)


def wish_text(found: WishAnswer, units: Units) -> str:
    """The proposals, or what stands in the way and the nearest bar."""
    lines: list[str] = []
    if not found.proposals:
        lines.append("No schedule makes this bar. In the way:")
        lines += [f"  {one.text}" for one in found.none_because]
        if found.nearest is not None:
            lines += ["", "Nearest:", *_proposal(found.nearest, units)]
    for number, one in enumerate(found.proposals, 1):
        lines += [f"Proposal {number}", *_proposal(one, units), ""]
    return "\n".join(lines).rstrip()


def _heat(one: Proposal) -> str:
    if one.hardening.set_point_c is None:
        return ""
    bath = f" in {one.quench.medium}" if one.quench.medium else ", no bath hardens it"
    return f"harden from {wording.temperature(one.hardening.set_point_c)}{bath}: "


def _proposal(one: Proposal, units: Units) -> list[str]:
    pieces = ", then ".join(wording.count(n, "piece") for n in one.pieces)
    lines = [
        f"  {wording.count(one.start_count, 'plate')}{f', cut into {pieces}' if pieces else ''}: "
        f"{wording.count(one.layers_visible, 'layer')} of {wording.micrometres(one.layer_um, units)}",
        f"  {wording.size(*one.size_mm, units)}, {wording.count(one.heats, 'heat')}, "
        f"{wording.mass(one.steel_kg, units)} of steel with what the saw takes, "
        f"{wording.percent(one.yield_)} of it stays",
        f"  tallest pile {wording.length(one.stack_mm, units)}, longest bar "
        f"{wording.length(one.bar_mm, units)}",
        f"  {_heat(one)}{one.hardening.because}",
        *([f"  {one.fire}"] if one.fire else []),
    ]
    lines += [
        f"  cut {row.pieces} of {row.steel} {wording.length(row.thickness_mm, units)}, "
        f"{wording.length(row.width_mm, units)} by {wording.length(row.length_mm, units)}: strip of "
        f"{wording.length(row.strip_mm, units)}, {wording.mass(row.mass_kg, units)}"
        + ("" if row.cost is None else f", cost {row.cost:.2f}")
        for row in one.cut_list
    ]
    return lines
