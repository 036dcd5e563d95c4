"""One column of a bar from its stack to its last step: each step changes the pile and writes its row."""

from collections.abc import Mapping, Sequence
from typing import NoReturn

from billet.contract.values import Fact, Finding
from billet.errors import Fault, RecipeError
from billet.forging import notices
from billet.forging.cuts import crop, grind, laid_items, restack
from billet.forging.events import Done, Event, HeatLoose, Join, Mix
from billet.forging.fires import Burnt, Target, fire
from billet.forging.heating_through import heating_of_bar, share_at_heat
from billet.forging.layer_count import (
    joined_sum,
    laying_of_restack,
    laying_of_stack,
    loose_sum,
    plain_sum,
    unchanged_sum,
)
from billet.forging.laying import Bench, misfit, names_in
from billet.forging.measured import SHORTENING, as_measured
from billet.forging.model import AXES, Bar, ForgedRow
from billet.forging.pattern_work import carve, press, split, stand, twist
from billet.forging.pile import HEIGHT, WIDTH, Lost, Pile, joined
from billet.forging.rows import StepDetails, row_of
from billet.forging.solid import Change, Disturbed, Laid, Turned
from billet.forging.stack import Stack
from billet.recipe.model import (
    BarPiece,
    Beside,
    Crop,
    Dimple,
    Draw,
    Grind,
    Groove,
    Layer,
    LayItem,
    Other,
    Press,
    Recipe,
    Restack,
    Split,
    Stand,
    Step,
    Turn,
    Twist,
    Upset,
    Weld,
)
from billet.recipe.sequence import laid_after, layers_of

SLACK = 1e-9


class BarForging:
    """The way from step to step of one column of a bar."""

    most_mm2 = 0.0
    """Largest section since the bar was welded, made shorter or measured."""

    def __init__(self, recipe: Recipe, stack: Stack, bench: Bench) -> None:
        self.scale_factor, self.bench = recipe.scale_factor, bench
        self.ended = {name: bar.final for name, bar in bench.made.items()}
        self.bars_laid = {name: bar.layers_laid for name, bar in self.ended.items()}
        width_mm, length_mm = stack.width_mm, stack.length_mm
        _check_stack(stack, bench)
        laid = bench.lay(0, stack.plates, width_mm, length_mm)
        count = sum(layers_of(item, 0, self.bars_laid) for item in stack.plates)
        self.pile = Pile(stack.palette, laid.pieces, [width_mm, 0.0, length_mm], laid=count)
        self.laying = laying_of_stack(stack.plates, self.ended)
        self.events: list[Event] = [laid.event]
        self.changes: list[Change] = [Laid(0, None, self.pile.size, laid.placed)]
        self.findings: list[Finding] = []
        self._now_lies(stack.plates, "stack.plates", {"step": 0, "do": "stack"})
        if not self.pile.loose:
            self._joined_events(0)
        self.events.append(Done(0))
        self.pile.lost.added, self.pile.lost.left_over = laid.over_kg, laid.over_kg
        self.all_laid_kg = self.pile.mass_kg + laid.over_kg
        counted = (
            loose_sum(self.laying, self.pile) if self.pile.loose else unchanged_sum(self.laying, self.pile)
        )
        details = StepDetails(counted, lost=self.pile.lost)
        self.rows: list[ForgedRow] = [row_of(self.pile, None, details, self.all_laid_kg)]

    def _now_lies(self, items: Sequence[LayItem], where: str, values: Mapping[str, Fact]) -> None:
        """What follows from what was laid: a column is alike where all that lies in it is."""
        pile = self.pile
        alike = [pile.alike if isinstance(item, str) else self.bench.is_alike(item) for item in items]
        pile.alike = all(alike)
        courses = [item for item in items if isinstance(item, Beside)]
        pile.apart = bool(courses)
        bent = [] if pile.alike else [names_in(item) for item, bent in zip(items, alike, strict=True) if bent]
        beside = [name for course in courses for name in course.bars]
        self.findings += notices.laid_findings(
            where, values, beside, [name for each in bent for name in each]
        )

    def _joined_events(self, step: int) -> None:
        self.events.append(Join(step))
        if self.pile.alike:
            self.events.append(Mix(step, self.pile.solid_height_mm, True))

    def do(self, step: Step) -> None:
        """Carry out one step: change the pile, write its row, note its events."""
        pile = self.pile
        pile.lost = Lost()
        before_height_mm = pile.height_mm
        self.most_mm2 = max(self.most_mm2, pile.section_mm2)
        told = self._told(step)
        if step.measured is not None:
            told.planned_mm = (pile.height_mm, pile.width_mm, pile.length_mm)
            real = as_measured(pile, step, step.measured, self.most_mm2)
            self.events += real.events
            self.changes += real.changes
            self.findings += real.findings
        if step.measured is not None or isinstance(step, (Weld, *SHORTENING)):
            self.most_mm2 = 0.0
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
            case Grind() | Crop():
                return self._ground(step)
            case Restack():
                return self._restack(step)
            case Turn():
                return self._turn(step)
            case Twist() | Groove() | Dimple() | Press() | Stand() | Split():
                return self._pattern(step)

    def _ground(self, step: Grind | Crop) -> StepDetails:
        before = self.pile.visible()
        ground = grind(self.pile, step) if isinstance(step, Grind) else crop(self.pile, step)
        self.events += ground.events
        self.changes += ground.changes
        self.findings += notices.gone_findings(step, ground.gone, self.pile, "grinding")
        counted = plain_sum(self.laying, self.pile, before, "grinding")
        return StepDetails(counted, cut_marks_mm=ground.cut_marks_mm)

    def _turn(self, step: Turn) -> StepDetails:
        pile, before = self.pile, self.pile.size
        pile.exchange(WIDTH, HEIGHT)
        self.changes.append(Turned(step.number, before, pile.size))
        if pile.alike:
            self.events.append(Mix(step.number, pile.solid_height_mm, False))
        elif pile.on_edge:
            self.findings.append(notices.on_edge_finding(step))
        return StepDetails(unchanged_sum(self.laying, pile))

    def _pattern(self, step: Twist | Groove | Dimple | Press | Stand | Split) -> StepDetails:
        pile, before = self.pile, self.pile.visible()
        was_alike = pile.alike
        match step:
            case Twist():
                worked = twist(pile, step, self.scale_factor)
                self.findings += notices.twist_findings(step, pile)
            case Groove() | Dimple():
                worked = carve(pile, step)
            case Press():
                worked = press(pile, step, self.scale_factor)
            case Stand():
                worked = stand(pile, step)
            case Split():
                worked = split(pile, step, self.scale_factor)
        self.events += worked.events
        self.changes += worked.changes
        if not was_alike:
            self.findings.append(notices.alike_finding(step))
        counted = plain_sum(self.laying, pile, before, "scale")
        if worked.burnt is None:
            return StepDetails(counted, marks=worked.marks)
        self.findings += notices.gone_findings(step, worked.burnt.gone, pile, "scale")
        fire_min, each_heat = worked.burnt.fire_min, worked.burnt.each_heat
        return StepDetails(counted, each_heat, fire_min, marks=worked.marks, reduction=0.0)

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
        self._joined_events(step.number)
        pile.pieces, pile.apart = [joined(pile.pieces)], False

    def _fires(self, step: Draw | Upset | Other) -> StepDetails:
        pile, before_visible = self.pile, self.pile.visible()
        before_mm, before_length_mm = pile.height_mm, pile.length_mm
        if isinstance(step, Upset) and step.length_mm >= before_length_mm:
            rule = f"an upset makes the bar shorter: it is {before_length_mm:.5g} mm long"
            _refuse(step, "length_mm", f"{rule}, got {step.length_mm:g} mm")
        if isinstance(step, Draw) and pile.relief_mm > 0.0:
            self.findings += notices.hollow_findings(step, pile)
        burnt = fire(pile, step, self.scale_factor, _target(step, pile))
        if isinstance(step, Draw) and pile.length_mm < before_length_mm * (1.0 - SLACK):
            lengths = f"from {before_length_mm:.5g} to {pile.length_mm:.5g} mm, scale counted"
            _refuse(step, "height_mm", f"the length would fall {lengths}; that is upset")
        self._burnt(step, burnt)
        if isinstance(step, Other):
            pile.disturbed = True
            self.changes.append(Disturbed(step.number, pile.size, pile.size))
            self.findings.append(notices.disturbed_finding(step, step.what))
        reduction = 0.0 if isinstance(step, Other) else 1.0 - pile.height_mm / before_mm
        counted = plain_sum(self.laying, pile, before_visible, "scale")
        return StepDetails(counted, burnt.each_heat, burnt.fire_min, reduction=reduction)

    def _burnt(self, step: Weld | Draw | Upset | Other, burnt: Burnt) -> None:
        self.events += burnt.events
        self.changes += burnt.changes
        self.findings += notices.gone_findings(step, burnt.gone, self.pile, "scale")

    def _restack(self, step: Restack) -> StepDetails:
        pile, items = self.pile, laid_items(step)
        bar_visible = pile.visible()
        change, events, cut_up = restack(pile, step, self.bench)
        self.laying = laying_of_restack(items, pile.laid, bar_visible, self.ended)
        pile.laid = laid_after(step, pile.laid, self.bars_laid)
        self._now_lies(items, notices.place(step), notices.of_step(step))
        self.events += events
        self.changes.append(change)
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
            through=AXES[pile.axis],
            alike=pile.alike,
        )


def _check_stack(stack: Stack, bench: Bench) -> None:
    """Raises RecipeError for a bar made first that does not fit among the plates."""
    for index, item in enumerate(stack.plates):
        if isinstance(item, BarPiece | Beside):
            wrong = misfit(item, bench.made, stack.width_mm, stack.length_mm)
            if wrong is not None:
                text = f"Stack, laid bar {index + 1}: {wrong}"
                raise RecipeError([Fault(f"stack.plates[{index}]", text)])


def _target(step: Draw | Upset | Other, pile: Pile) -> Target:
    if isinstance(step, Draw):
        return Target(step.height_mm, step.width_mm or pile.width_mm)
    return Target(length_mm=step.length_mm) if isinstance(step, Upset) else Target()


def _refuse(step: Step, key: str, message: str) -> NoReturn:
    where = f"steps[{step.number - 1}].{key}"
    raise RecipeError([Fault(where, f"Step {step.number} ({step.do}): {message}")])
