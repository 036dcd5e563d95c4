"""What was measured after a step takes the place of what was planned, and the rest goes on from there."""

from dataclasses import dataclass, replace
from typing import NoReturn

from billet.contract.values import Fact, Finding, Reason
from billet.errors import Fault, RecipeError
from billet.forging.cuts import crop_ends
from billet.forging.events import Event, Forge
from billet.forging.model import Bar
from billet.forging.notices import of_step, place
from billet.forging.pile import HEIGHT, LENGTH, WIDTH, Pile
from billet.forging.solid import Change, Stretched, Taken
from billet.recipe.bar_plan import Measured
from billet.recipe.model import Draw, Other, Recipe, Restack, Split, Stand, Step, Twist, Upset
from billet.tables.forging import forging_rule

SAME_FRAC = 1e-3
"""A bar that comes out as long as planned to this is not told (own construction)."""


SHORTENING = (Restack, Stand, Upset, Twist, Split, Other)
"""Steps after which a bar may have a larger section; all others only make it longer or thinner."""


@dataclass(frozen=True)
class Real:
    """What measuring changed: for carbon, for the solid, and what is told."""

    events: tuple[Event, ...] = ()
    changes: tuple[Change, ...] = ()
    findings: tuple[Finding, ...] = ()


def without_measured(recipe: Recipe) -> Recipe:
    """The recipe as it was planned."""
    bars = {name: replace(plan, steps=_planned(plan.steps)) for name, plan in recipe.bars.items()}
    return replace(recipe, steps=_planned(recipe.steps), bars=bars)


def _planned(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(replace(step, measured=None) for step in steps)


def as_measured(pile: Pile, step: Step, told: Measured, most_mm2: float) -> Real:
    """Change the pile to what was measured. The metal stays: two sizes rule, the third follows from it.

    Layers stretch alike, as in forging; what was cut away is taken off the far end. `most_mm2` is the
    largest section that the bar can have had. Raises RecipeError for a bar that cannot be.
    """
    if pile.loose:
        return Real(findings=(Finding(Reason("measured-loose", of_step(step)), "caution", place(step)),))
    planned = pile.size
    events, changes = _cut_away(pile, step, told.cut_away_mm or 0.0)
    cut = pile.size
    ratios = _reshape(pile, step, told)
    if ratios != (1.0, 1.0):
        events.append(Forge(step.number, ratios[0], ratios[1] if pile.alike else None))
        changes.append(Stretched(step.number, cut, pile.size))
    _refuse_grown(pile, step, told, most_mm2)
    now = pile.size
    values = of_step(
        step, height_mm=now.height_mm, width_mm=now.width_mm, length_mm=now.length_mm,
        cut_away_mm=told.cut_away_mm or 0.0, planned_height_mm=planned.height_mm,
        planned_width_mm=planned.width_mm, planned_length_mm=planned.length_mm,
    )  # fmt: skip
    note = Finding(Reason("measured", values), "note", place(step))
    return Real(tuple(events), tuple(changes), (note, *_checked(step, told, now.length_mm)))


def _cut_away(pile: Pile, step: Step, cut_mm: float) -> tuple[list[Event], list[Change]]:
    if cut_mm <= 0.0:
        return [], []
    if cut_mm >= pile.length_mm:
        rule = f"the bar is {pile.length_mm:.5g} mm long, {cut_mm:g} mm cannot be cut away"
        _refuse(step, "cut_away_mm", rule)
    before = pile.size
    events = list(crop_ends(pile, step.number, cut_mm))
    return events, [Taken(step.number, before, pile.size, (0.0, 0.0, 0.0))]


def _reshape(pile: Pile, step: Step, told: Measured) -> tuple[float, float]:
    """Give the pile its sizes; returns by how much the layers became thicker, and the bar higher."""
    solid_mm, relief_mm = pile.solid_height_mm, pile.relief_mm
    if told.height_mm is not None and told.height_mm <= relief_mm:
        _refuse(
            step, "height_mm", f"what is cut in stands {relief_mm:.4g} mm high, got {told.height_mm:g} mm"
        )
    outer = told if told.height_mm is None else replace(told, height_mm=told.height_mm - relief_mm)
    volume_mm3 = solid_mm * pile.width_mm * pile.length_mm
    height_mm, width_mm, length_mm = _sizes(outer, solid_mm, pile.width_mm, volume_mm3)
    sizes = {WIDTH: width_mm, HEIGHT: height_mm, LENGTH: length_mm}
    ratio = sizes[pile.axis] / pile.layers_mm
    for axis, mm in sizes.items():
        pile.set_size(axis, mm)
    return ratio, height_mm / solid_mm


def _sizes(told: Measured, height: float, width: float, volume: float) -> tuple[float, float, float]:
    """Height, width and length; what was not measured follows from the volume, the width staying first."""
    if told.height_mm is not None:
        height = told.height_mm
        if told.width_mm is None and told.length_mm is not None:
            return height, volume / (height * told.length_mm), told.length_mm
        width = told.width_mm if told.width_mm is not None else width
        return height, width, volume / (height * width)
    width = told.width_mm if told.width_mm is not None else width
    if told.length_mm is not None:
        return volume / (width * told.length_mm), width, told.length_mm
    return height, width, volume / (height * width)


def _refuse_grown(pile: Pile, step: Step, told: Measured, most_mm2: float) -> None:
    """The metal that is there, at its largest section, has a least length: a bar shorter than that was
    misread, but for what measuring is off."""
    frac = pile.section_mm2 / most_mm2
    if isinstance(step, SHORTENING) or frac <= 1.0 + forging_rule("measured")["volume_frac"]:
        return
    now = pile.size
    rule = (
        f"{now.height_mm:.4g} mm high and {now.width_mm:.4g} mm wide, the metal of this bar is "
        f"{now.length_mm:.4g} mm long, and it was {now.length_mm * frac:.4g} mm long before; only upsetting "
        "makes a bar shorter, so measure again"
    )
    _refuse(step, _misread(told), rule)


def _misread(told: Measured) -> str:
    """Which of the sizes that rule is asked about: the length, which alone tells that it fell; the height."""
    if told.length_mm is not None and (told.height_mm is None or told.width_mm is None):
        return "length_mm"
    return "height_mm" if told.height_mm is not None else "width_mm"


def _checked(step: Step, told: Measured, follows_mm: float) -> list[Finding]:
    """Where all three were measured, what the third says. More metal than there is was misread."""
    if told.height_mm is None or told.width_mm is None or told.length_mm is None:
        return []
    off = told.length_mm / follows_mm - 1.0
    if abs(off) <= forging_rule("measured")["volume_frac"]:
        return []
    if off > 0.0:
        sizes = f"{told.height_mm:g} by {told.width_mm:g} by {told.length_mm:g} mm"
        rule = f"{sizes} hold {100.0 * off:.2g} % more metal than the bar has, so measure again"
        _refuse(step, "length_mm", f"{rule}; two sizes are enough, the third may stay empty")
    values = of_step(step, length_mm=told.length_mm, follows_mm=follows_mm, off_frac=off)
    return [Finding(Reason("measured-check", values), "caution", place(step))]


def outcome_findings(recipe: Recipe, planned: Bar, now: Bar) -> list[Finding]:
    """What the bar comes to after what was measured, and how the last draw would still reach its length."""
    last_measured = max((i for i, step in enumerate(recipe.steps) if step.measured is not None), default=-1)
    draws = [s for s in recipe.steps[last_measured + 1 :] if isinstance(s, Draw) and s.height_mm is not None]
    off = now.length_mm / planned.length_mm - 1.0
    if not draws or abs(off) <= SAME_FRAC:
        return []
    last = draws[-1]
    values: dict[str, Fact] = {
        "step": last.number,
        "do": last.do,
        "length_mm": now.length_mm,
        "planned_mm": planned.length_mm,
        "draw_to_mm": float(last.height_mm or 0.0) * (1.0 + off),
    }
    code = "measured-longer" if off > 0.0 else "measured-shorter"
    return [Finding(Reason(code, values), "note", place(last))]


def _refuse(step: Step, key: str, message: str) -> NoReturn:
    where = f"steps[{step.number - 1}].measured.{key}"
    raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
