"""How the steps that make a pattern are told: depths, pitch, turns, and where to mark."""

from collections.abc import Mapping, Sequence
from typing import Any

from billet import wording
from billet.contract.report import Report, ScheduleRow
from billet.wording import Units

CUT = frozenset({"groove", "dimple"})
PATTERN = frozenset({"twist", "press", "split"})
FACES = {"both": "top and bottom", "top": "the top", "bottom": "the bottom"}
MOST_MARKS = 24
"""So many marks of one line are told one by one; of more, the first, the pitch and the number."""
Step = Mapping[str, Any]


def cut_words(row: ScheduleRow, step: Step, units: Units) -> str:
    """What is cut into the faces, in the place of the heat."""
    deep = wording.length(float(step["depth_mm"]), units)
    if row.do == "dimple":
        wide = wording.length(float(step["diameter_mm"]), units)
        return f"dimples {wide} wide, {deep} deep in {FACES[step['faces']]}"
    wide = wording.length(float(step["width_mm"]), units)
    return f"grooves {wide} wide, {deep} deep in {FACES[step['faces']]}"


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
        for told in dict.fromkeys(along_mm for _, along_mm in lines):
            sides_mm = [
                across_mm for across_mm, along_mm in lines if along_mm == told and across_mm is not None
            ]
            across = f", lines {wording.lengths(sides_mm, units)} from the left" if sides_mm else ""
            parts.append(f"{faces}{across}: middles at {_along(told, units)}")
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


def _along(along_mm: Sequence[float], units: Units) -> str:
    if len(along_mm) <= MOST_MARKS:
        return wording.lengths(along_mm, units)
    pitch = wording.length(along_mm[1] - along_mm[0], units)
    first, last = (wording.length(mm, units) for mm in (along_mm[0], along_mm[-1]))
    return f"{first}, then every {pitch} to {last}, {len(along_mm)} in all"
