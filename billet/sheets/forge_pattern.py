"""How the steps that make a pattern are told: depths, pitch, turns, and where to mark."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from billet import wording
from billet.contract.report import Report, ScheduleRow
from billet.wording import Units

CUT = frozenset({"groove", "dimple"})
PATTERN = frozenset({"twist", "press", "split"})
FACES = {"both": "top and bottom", "top": "the top", "bottom": "the bottom"}
MOST_MARKS = 12
"""So many marks of one line are told one by one; of more, the first, the pitch and the number."""
LEAST_ROW = 3
"""A row of more hollows than this is told by its first, the pitch and the number."""
SAME_MM = 0.01
"""Places no further apart than this are one to the hand."""
Step = Mapping[str, Any]


def cut_words(row: ScheduleRow, step: Step, units: Units) -> str:
    """What is cut into the faces, in the place of the heat."""
    deep = wording.length(float(step["depth_mm"]), units)
    wide = wording.length(float(step["diameter_mm" if row.do == "dimple" else "width_mm"]), units)
    return f"{wide} wide, {deep} deep in {FACES[step['faces']]}"


def pattern_words(report: Report, row: ScheduleRow, step: Step, units: Units) -> str:
    """What the hand does in the fire."""
    if row.do == "twist":
        return _twist(report, row, step, units)
    if row.do == "press":
        marks = f"{wording.length(float(step['width_mm']), units)} wide, "
        marks += f"{wording.length(float(step['depth_mm']), units)} deep in {FACES[step['faces']]}"
        flat = wording.length(row.height_mm, units)
        return f"press the die in, marks {marks}, then grind flat to {flat}"
    off = wording.length(float(step["drag_mm"]), units)
    return (
        f"drive the wedge along the middle of the width from end to end, weld the halves again, drag {off} "
        f"at the middle; {off} off each end as it then is, {wording.length(row.length_mm, units)} stays"
    )


def _twist(report: Report, row: ScheduleRow, step: Step, units: Units) -> str:
    turns = float(step["turns"])
    before = report.schedule[row.step - 1]
    way = "left" if turns < 0.0 else "right"
    one = wording.length(before.length_mm / abs(turns), units)
    corners = "corners forged in before" if step.get("rounded") else "forge the corners in before"
    return f"{corners}; {abs(turns):g} turns to the {way}, one in {one}"


def ruler_words(row: ScheduleRow, units: Units) -> str:
    """Where the middles of the marks lie from the handle end, face by face; nothing for a step without."""
    parts = []
    for faces, lines in _faces(row).items():
        if lines[0][0] is None:
            parts.append(f"{faces}: middles {_along(lines[0][1], units)}")
        else:
            parts.append(f"{faces}: {_rows(lines, units)}")
    return f"from the handle end, {'; '.join(parts)}" if parts else ""


Line = tuple[float | None, tuple[float, ...]]


def _faces(row: ScheduleRow) -> dict[str, list[Line]]:
    """The lines of marks of each face, told together where both have the same."""
    found: dict[str, list[Line]] = {}
    for face in ("top", "bottom"):
        lines = [(line.across_mm, line.along_mm) for line in row.marks if line.face == face]
        if lines and lines == found.get("top"):
            return {FACES["both"]: lines}
        if lines:
            found[face] = lines
    return found


def _rows(lines: Sequence[Line], units: Units) -> str:
    """Rows of hollows along the bar: where each begins, its pitch, and which stand half a pitch on."""
    told: list[str] = []
    first: tuple[float, ...] = ()
    for along_mm in dict.fromkeys(along_mm for _, along_mm in lines):
        sides_mm = [across for across, marks in lines if marks == along_mm and across is not None]
        left = "" if told else " from the left"
        rows = f"{'lines' if len(sides_mm) > 1 else 'line'} {wording.lengths(sides_mm, units)}{left}"
        if told and _half_on(first, along_mm):
            begun = wording.length(along_mm[0], units)
            told.append(f"{rows}, half a pitch on: first at {begun}, {len(along_mm)} in all")
        else:
            first = first or along_mm
            told.append(f"{rows}: {_along(along_mm, units, LEAST_ROW)}")
    return "; ".join(told)


def _half_on(first: Sequence[float], along_mm: Sequence[float]) -> bool:
    """Whether a row has the pitch of the first and begins half of it further on."""
    if not (_even(first) and _even(along_mm)):
        return False
    pitch = first[1] - first[0]
    same = abs(along_mm[1] - along_mm[0] - pitch) < SAME_MM
    return same and abs(along_mm[0] - first[0] - pitch / 2.0) < SAME_MM


def _even(along_mm: Sequence[float]) -> bool:
    """Whether the marks, two at the least, stand at one pitch."""
    apart = [b - a for a, b in pairwise(along_mm)]
    return bool(apart) and max(apart) - min(apart) < SAME_MM


def _along(along_mm: Sequence[float], units: Units, most: int = MOST_MARKS) -> str:
    if len(along_mm) <= most or not _even(along_mm):
        return f"at {wording.lengths(along_mm, units)}"
    pitch = wording.length(along_mm[1] - along_mm[0], units)
    first, last = (wording.length(mm, units) for mm in (along_mm[0], along_mm[-1]))
    return f"first at {first}, then every {pitch} to {last}, {len(along_mm)} in all"
