"""What is left at the end of forging: mass, skin, and how the layers add up."""

from billet import wording
from billet.contract.report import Report, ScheduleRow
from billet.sheets.layout import sentence
from billet.wording import Units


def end_words(report: Report, units: Units, few: bool = False, sums: bool = True) -> list[str]:
    """Left, skin and layers of the finished bar; in few words without what is left, the layers with the sums
    that lead to their number or without."""
    last = report.schedule[-1]
    told = [] if few else [f"Left: {lost_words(report, units)}."]
    if len(report.schedule) > 1:
        told.append(sentence(f"Skin: {skin_words(report, units)}"))
    each = wording.micrometres(last.layer_um.mean, units)
    mean = ", a mean by volume" if last.alike else ""
    counts = _counts(report) if sums else f"{last.layers_laid} laid, {last.layers_visible} visible"
    told.append(f"Layers: {counts}; {each} each{mean}.")
    return told


def _counts(report: Report) -> str:
    """The arithmetic of every weld, and of the last step."""
    last = report.schedule[-1]
    told = [f"step {row.step}: {row.arithmetic}" for row in report.schedule if _seams(row)]
    return "; ".join(told if _seams(last) else [*told, f"at the end: {last.arithmetic}"])


def _seams(row: ScheduleRow) -> bool:
    """A weld where like steel met, so that the count needs its sum."""
    return bool(row.layer_sum.seams)


def lost_words(report: Report, units: Units) -> str:
    """What is left of all that was laid, and where the rest went."""
    first, last = report.schedule[0], report.schedule[-1]
    lost = {
        "scale": sum(row.lost_kg.scale for row in report.schedule),
        "grinding": sum(row.lost_kg.grind for row in report.schedule),
        "grooves and dimples": sum(row.lost_kg.cut for row in report.schedule),
        "ends": sum(row.lost_kg.trim for row in report.schedule),
        "saw": sum(row.lost_kg.kerf for row in report.schedule),
        "pieces left over": sum(row.lost_kg.left_over for row in report.schedule),
    }
    gone = ", ".join(f"{name} {wording.mass(kg, units)}" for name, kg in lost.items() if kg > 0.0)
    added = sum(row.added_kg for row in report.schedule)
    start = wording.mass(first.mass_kg + added, units)
    return f"{wording.mass(last.mass_kg, units)} of {start}" + (f"; lost to {gone}" if gone else "")


def skin_words(report: Report, units: Units) -> str:
    """What to take off the worse of the faces before the edge is anywhere near it."""
    depth_mm = max(report.carbon.skin_mm)
    if depth_mm <= 0.0:
        return "the faces are as rich in carbon as the inside"
    skin = wording.at_least(depth_mm, units)
    return f"the outer {skin} of each face is poor in carbon: grind it off before hardening"
