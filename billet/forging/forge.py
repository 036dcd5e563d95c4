"""Forges the stack through all steps: sizes, masses and layers, and the events for carbon."""

from typing import NoReturn

from billet.contract.values import Finding
from billet.errors import Fault, RecipeError
from billet.forging import notices
from billet.forging.cuts import crop, grind, restack
from billet.forging.events import Done, Event, HeatLoose, Join, Lay
from billet.forging.fires import Burnt, Fired, Target, fire
from billet.forging.fit_check import fit_findings
from billet.forging.heating_through import heating_of_bar, share_at_heat
from billet.forging.layer_count import (
    joined_sum,
    laying_of_restack,
    laying_of_stack,
    loose_sum,
    plain_sum,
    unchanged_sum,
)
from billet.forging.measured import as_measured, outcome_findings, without_measured
from billet.forging.model import Bar, Forged, ForgedRow
from billet.forging.pile import Lost, Piece, Pile, joined
from billet.forging.rows import StepDetails, row_of
from billet.forging.stack import Stack
from billet.recipe.model import (
    Blade,
    Crop,
    Draw,
    Grind,
    Layer,
    Other,
    Recipe,
    Restack,
    Step,
    Turn,
    Upset,
    Weld,
)

SLACK = 1e-9
FORGED_WITHIN_MM = 0.05
"""A blade called forged must be reached by the last step to this (own construction)."""


def forge(recipe: Recipe, stack: Stack) -> Forged:
    """All rows from the cold stack to the last step, the events in order, and the bar at the end.

    Raises RecipeError for a step that the bar before it does not allow.
    """
    work = BarForging(recipe, stack)
    for step in recipe.steps:
        work.do(step)
    final = work.final()
    _check_blade(recipe.blade, final)
    laid = {plate.steel for plate in stack.plates} | _laid_later(recipe)
    work.findings += [*notices.recipe_findings(recipe, laid, final.steel_kg), *fit_findings(recipe)]
    if any(step.measured is not None for step in recipe.steps):
        planned = BarForging(without_measured(recipe), stack)
        for step in without_measured(recipe).steps:
            planned.do(step)
        work.findings += outcome_findings(recipe, planned.final(), final)
    return Forged(tuple(work.rows), tuple(work.events), final, tuple(work.findings))


def _laid_later(recipe: Recipe) -> set[str]:
    lays = [step.lay or () for step in recipe.steps if isinstance(step, Restack)]
    return {item.steel for lay in lays for item in lay if isinstance(item, Layer)}


class BarForging:
    """The way from step to step."""

    def __init__(self, recipe: Recipe, stack: Stack) -> None:
        self.scale_factor = recipe.scale_factor
        pieces = [Piece((plate.steel,), (plate.thickness_mm,)) for plate in stack.plates]
        self.pile = Pile(stack.palette, pieces, stack.width_mm, stack.length_mm, laid=len(pieces))
        self.laying = laying_of_stack(len(pieces))
        self.events: list[Event] = [Lay(0, stack.plates)]
        if not self.pile.loose:
            self.events.append(Join(0))
        self.events.append(Done(0))
        self.findings: list[Finding] = []
        self.all_laid_kg = self.pile.mass_kg
        counted = (
            loose_sum(self.laying, self.pile) if self.pile.loose else unchanged_sum(self.laying, self.pile)
        )
        self.rows: list[ForgedRow] = [row_of(self.pile, None, StepDetails(counted), self.all_laid_kg)]

    def do(self, step: Step) -> None:
        """Carry out one step: change the pile, write its row, note its events."""
        pile = self.pile
        pile.lost = Lost()
        before_height_mm = pile.height_mm
        told = self._told(step)
        if step.measured is not None:
            told.planned_mm = (pile.height_mm, pile.width_mm, pile.length_mm)
            events, found = as_measured(pile, step, step.measured)
            self.events += events
            self.findings += found
        told.lost = pile.lost
        self.all_laid_kg += pile.lost.added
        self.events.append(Done(step.number))
        self.findings += notices.shape_findings(step, pile, before_height_mm)
        self.rows.append(row_of(pile, step, told, self.all_laid_kg))

    def _told(self, step: Step) -> StepDetails:
        match step:
            case Weld():
                return self._weld(step)
            case Draw() | Upset() | Other():
                return self._fires(step)
            case Grind():
                before = self.pile.visible()
                events, gone = grind(self.pile, step)
                self.events += events
                self.findings += notices.gone_findings(step, gone, self.pile, "grinding")
                return StepDetails(plain_sum(self.laying, self.pile, before, "grinding"))
            case Crop():
                marks_mm = crop(self.pile, step)
                return StepDetails(unchanged_sum(self.laying, self.pile), cut_marks_mm=marks_mm)
            case Restack():
                return self._restack(step)
            case Turn():
                self.pile.on_edge = not self.pile.on_edge
                if self.pile.on_edge:
                    self.findings.append(notices.on_edge_finding(step))
                return StepDetails(unchanged_sum(self.laying, self.pile))

    def _weld(self, step: Weld) -> StepDetails:
        pile = self.pile
        was_loose, before_mm, before_visible = pile.loose, pile.height_mm, pile.visible()
        if was_loose:
            self._join(step)
        joined_visible = pile.visible()
        if step.height_mm is None:
            target = Target(width_mm=step.width_mm)
        else:
            target = Target(step.height_mm, step.width_mm or pile.width_mm)
            if step.height_mm > before_mm:
                rule = f"a weld presses the bar flatter: it is {before_mm:.4g} mm high"
                _refuse(step, "height_mm", f"{rule}, got {step.height_mm:g} mm")
        before_length_mm, section_mm2 = pile.length_mm, before_mm * pile.width_mm
        burnt = fire(pile, step, self.scale_factor, target)
        if step.width_mm is not None and pile.height_mm * pile.width_mm > section_mm2 * (1.0 + SLACK):
            lengths = f"from {before_length_mm:.4g} to {pile.length_mm:.4g} mm"
            _refuse(step, "width_mm", f"the length would fall {lengths}; that is upset")
        reduction = 0.0 if step.height_mm is None else 1.0 - pile.height_mm / before_mm
        self._burnt(step, burnt)
        self.findings += notices.weld_findings(step, was_loose, reduction)
        if was_loose:
            seams = before_visible - joined_visible
            counted = joined_sum(self.laying, pile, seams, joined_visible)
        else:
            counted = plain_sum(self.laying, pile, joined_visible, "scale")
        return StepDetails(counted, burnt.each_heat, burnt.fire_min, reduction=reduction)

    def _join(self, step: Weld) -> None:
        pile = self.pile
        warming = heating_of_bar(pile.height_mm, pile.width_mm, step.temperature_c, cold=True)
        if warming.above_900_min > 0.0:
            minutes = warming.above_900_min * share_at_heat(step.temperature_c)
            self.events.append(HeatLoose(step.number, step.temperature_c, minutes, step.atmosphere))
        self.events.append(Join(step.number))
        pile.pieces = [joined(pile.pieces)]

    def _fires(self, step: Draw | Upset | Other) -> StepDetails:
        pile, before_visible = self.pile, self.pile.visible()
        before_mm, before_length_mm = pile.height_mm, pile.length_mm
        if isinstance(step, Upset) and step.length_mm >= before_length_mm:
            rule = f"an upset makes the bar shorter: it is {before_length_mm:.5g} mm long"
            _refuse(step, "length_mm", f"{rule}, got {step.length_mm:g} mm")
        burnt = fire(pile, step, self.scale_factor, _target(step, pile))
        if isinstance(step, Draw) and pile.length_mm < before_length_mm * (1.0 - SLACK):
            lengths = f"from {before_length_mm:.5g} to {pile.length_mm:.5g} mm, scale counted"
            _refuse(step, "height_mm", f"the length would fall {lengths}; that is upset")
        self._burnt(step, burnt)
        if isinstance(step, Other):
            pile.disturbed = True
            self.findings.append(notices.disturbed_finding(step, step.what))
        reduction = 0.0 if isinstance(step, Other) else 1.0 - pile.height_mm / before_mm
        counted = plain_sum(self.laying, pile, before_visible, "scale")
        return StepDetails(counted, burnt.each_heat, burnt.fire_min, reduction=reduction)

    def _burnt(self, step: Fired, burnt: Burnt) -> None:
        self.events += burnt.events
        self.findings += notices.gone_findings(step, burnt.gone, self.pile, "scale")

    def _restack(self, step: Restack) -> StepDetails:
        pile = self.pile
        self.laying = laying_of_restack(step, pile.laid, pile.visible())
        events, cut_up = restack(pile, step)
        self.events += events
        counted = loose_sum(self.laying, self.pile)
        return StepDetails(counted, piece_mm=cut_up.piece_mm, cut_marks_mm=cut_up.cut_marks_mm)

    def final(self) -> Bar:
        """The bar after the last step."""
        pile = self.pile
        piece = joined(pile.pieces)
        return Bar(
            layers=tuple(Layer(n, t) for n, t in zip(piece.names, piece.mm, strict=True)),
            height_mm=pile.height_mm,
            width_mm=pile.width_mm,
            length_mm=pile.length_mm,
            mass_kg=pile.mass_kg,
            steel_kg=pile.steel_kg(),
            layers_laid=pile.laid,
            layers_visible=pile.visible(),
            disturbed=pile.disturbed,
            on_edge=pile.on_edge,
        )


def _target(step: Draw | Upset | Other, pile: Pile) -> Target:
    if isinstance(step, Draw):
        return Target(step.height_mm, step.width_mm or pile.width_mm)
    return Target(length_mm=step.length_mm) if isinstance(step, Upset) else Target()


def _check_blade(blade: Blade | None, bar: Bar) -> None:
    if blade is None:
        return
    thickness_mm, height_mm = blade.thickness_mm, bar.height_mm
    if blade.made == "forged" and abs(height_mm - thickness_mm) > FORGED_WITHIN_MM:
        rule = f"Blade: forged to thickness (made) is told, but the last step leaves {height_mm:.4g} mm"
        text = f"{rule}, not {thickness_mm:g}; a step must reach it"
        raise RecipeError([Fault("blade.thickness_mm", text)])
    if thickness_mm > height_mm + (FORGED_WITHIN_MM if blade.made == "forged" else 0.0):
        text = f"Blade: {thickness_mm:g} mm cannot be ground from a bar of {height_mm:.4g} mm"
        raise RecipeError([Fault("blade.thickness_mm", text)])


def _refuse(step: Step, key: str, message: str) -> NoReturn:
    where = f"steps[{step.number - 1}].{key}"
    raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
