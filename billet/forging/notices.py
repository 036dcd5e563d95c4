"""What forging wants the smith to know, as findings for the report."""

import math
from collections.abc import Mapping, Sequence

from billet.contract.values import Fact, Finding, Reason
from billet.forging.pile import Pile
from billet.recipe.laid_bars import place_in
from billet.recipe.model import Draw, FireStep, Recipe, Stand, Step, Twist, Weld
from billet.tables.forging import forging_rule


def of_step(step: Step, **values: Fact) -> dict[str, Fact]:
    """Values of a reason that lies in one step: its number and kind beside the others."""
    return {"step": step.number, "do": step.do, **values}


def place(step: Step) -> str:
    """Where a step stands in the recipe."""
    return f"steps[{step.number - 1}]"


def gone_findings(step: Step, gone: tuple[tuple[str, str], ...], pile: Pile, by: str) -> list[Finding]:
    """Layers that vanished at a face, told once a face; `by` is "scale" or "grinding"."""
    found: list[Finding] = []
    piece = pile.pieces[0]
    for face in ("bottom", "top"):
        lost = [steel for at, steel in gone if at == face]
        if lost:
            now = piece.names[0] if face == "bottom" else piece.names[-1]
            steels = tuple(dict.fromkeys(lost))
            values = of_step(step, by=by, face=face, layers=len(lost), steels=steels, now=now)
            found.append(Finding(Reason("outer-layer-gone", values), "caution", place(step)))
    return found


def weld_findings(step: Weld, was_loose: bool, reduction: float) -> list[Finding]:
    """A weld that is pressed too little, or one with nothing to join."""
    least = forging_rule("shape")["pressed_least_frac"]
    if not was_loose:
        return [Finding(Reason("nothing-to-weld", of_step(step)), "note", place(step))]
    if reduction < least:
        values = of_step(step, reduction_frac=reduction, least_frac=least)
        return [Finding(Reason("weld-not-pressed", values), "note", place(step))]
    return []


def shape_findings(step: Step, pile: Pile, before_height_mm: float) -> list[Finding]:
    """Sizes that are hard to heat evenly or to hold."""
    rule = forging_rule("shape")
    where = place(step)
    found: list[Finding] = []
    if pile.loose and pile.height_mm > rule["tall_over_width"] * pile.width_mm:
        values = of_step(step, height_mm=pile.height_mm, width_mm=pile.width_mm)
        found.append(Finding(Reason("tall-pile", values), "caution", where))
    if pile.loose and pile.length_mm < rule["short_piece_mm"]:
        values = of_step(step, length_mm=pile.length_mm)
        found.append(Finding(Reason("short-pieces", values), "note", where))
    if not isinstance(step, FireStep):
        return found
    if pile.length_mm > rule["long_mm"]:
        values = of_step(step, length_mm=pile.length_mm)
        found.append(Finding(Reason("long-bar", values), "note", where))
    if before_height_mm < rule["thin_mm"]:
        values = of_step(step, height_mm=before_height_mm)
        found.append(Finding(Reason("thin-bar", values), "caution", where))
    return found


def disturbed_finding(step: Step, what: str) -> Finding:
    """From here on the layers do not lie flat."""
    return Finding(Reason("pattern-disturbed", of_step(step, what=what)), "note", place(step))


def on_edge_finding(step: Step) -> Finding:
    """From here on the layers stand on edge."""
    return Finding(Reason("on-edge", of_step(step)), "note", place(step))


def alike_finding(step: Step) -> Finding:
    """From here on the layers reach every face alike; stood on end they lie across the bar."""
    code = "stood-on-end" if isinstance(step, Stand) else "layers-alike"
    return Finding(Reason(code, of_step(step)), "note", place(step))


def hollow_findings(step: Draw, pile: Pile) -> list[Finding]:
    """Grooves or dimples that the next draw may not close all over: it stops above their bottom."""
    if step.height_mm <= pile.thinnest_mm:
        return []
    values = of_step(step, height_mm=step.height_mm, thinnest_mm=pile.thinnest_mm)
    return [Finding(Reason("hollows-may-stay", values), "caution", place(step))]


def twist_findings(step: Twist, pile: Pile) -> list[Finding]:
    """A twist that is likely to tear, and one whose corners fold in."""
    rule = forging_rule("twist")
    turn_mm = pile.length_mm / abs(step.turns)
    shear = math.pi * pile.height_mm / turn_mm
    found: list[Finding] = []
    if shear > rule["shear_most"]:
        least_mm = math.pi * pile.height_mm / rule["shear_most"]
        values = of_step(step, turn_mm=turn_mm, least_mm=least_mm)
        found.append(Finding(Reason("twist-tight", values), "caution", place(step)))
    if step.temperature_c < rule["cold_under_c"]:
        values = of_step(step, c=step.temperature_c, from_c=rule["cold_under_c"])
        found.append(Finding(Reason("twist-cold", values), "caution", place(step)))
    if not step.rounded:
        found.append(Finding(Reason("twist-corners", of_step(step)), "note", place(step)))
    return found


def laid_findings(
    where: str, values: Mapping[str, Fact], side_by_side: Sequence[str], bent: Sequence[str]
) -> list[Finding]:
    """Bars that lie side by side, and bent layers that lie among flat ones, by name."""
    found = []
    for code, names in (("side-seams", side_by_side), ("bent-among-flat", bent)):
        if names:
            told = {**values, "bars": tuple(dict.fromkeys(names))}
            found.append(Finding(Reason(code, told), "note", where))
    return found


def each_once(found: Sequence[Finding]) -> tuple[Finding, ...]:
    """What several columns of a bar have to tell alike, told once; numbers are those of the first."""
    kept: dict[str, Finding] = {}
    for finding in found:
        named = {key: value for key, value in finding.reason.values.items() if not isinstance(value, float)}
        kept.setdefault(f"{finding.reason.code} {finding.where} {sorted(named.items())}", finding)
    return tuple(kept.values())


def of_bar(bar: str, finding: Finding) -> Finding:
    """A finding of a bar made first: its place, and the bar's name among its values."""
    reason = Reason(finding.reason.code, {**finding.reason.values, "bar": bar})
    return Finding(reason, finding.level, place_in(bar, finding.where))


def recipe_findings(recipe: Recipe, laid: set[str], steel_kg: Mapping[str, float]) -> list[Finding]:
    """Steels that never come into the bar or leave it."""
    found: list[Finding] = []
    for name in recipe.steels:
        where = f"steels.{name}"
        if name not in laid:
            found.append(Finding(Reason("steel-not-laid", {"steel": name}), "note", where))
        elif steel_kg[name] <= 0.0:
            found.append(Finding(Reason("steel-gone", {"steel": name}), "caution", where))
    return found
