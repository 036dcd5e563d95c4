"""Puts what was found into the rows of the report; computes nothing that decides anything."""

from billet import wording
from billet.version import DATA_VERSION, VERSION
from billet.workflow.answer import Answered
from billet.workflow.blade import blade_row, carbon_spreads
from billet.workflow.citations import source_rows
from billet.workflow.events import Layer
from billet.workflow.forge_model import Forged, ForgedRow
from billet.workflow.hardening_rows import hardening_row
from billet.workflow.metal import Metal
from billet.workflow.notices import all_notices
from billet.workflow.pattern import pattern_row
from billet.workflow.profile import sampled
from billet.workflow.recipe_model import FireStep, Recipe, Restack
from billet.workflow.report import (
    REPORT_FORMAT,
    CarbonLost,
    CarbonRow,
    Difference,
    MadeWith,
    Profile,
    Report,
    ScheduleRow,
    SteelRow,
)
from billet.workflow.too_hot import forging_range
from billet.workflow.transport import StepCarbon

GRAMS_PER_KG = 1000.0


def compile_report(recipe: Recipe, forged: Forged, metal: Metal, answered: Answered) -> Report:
    """The report of the contract."""
    blade = None
    if recipe.blade is not None:
        blade = blade_row(recipe.blade, answered.blade, answered.grind_mm, answered.spreads)
    return Report(
        format=REPORT_FORMAT,
        title=recipe.title,
        recipe=recipe.given,
        recipe_id=recipe.recipe_id,
        defaults_used=recipe.defaults_used,
        made_with=MadeWith(VERSION, DATA_VERSION),
        schedule=_schedule(recipe, forged, metal),
        steels=_steels(recipe, forged, metal),
        carbon=_carbon(recipe, forged, metal),
        pattern=pattern_row(answered.blur, forged.final.disturbed, forged.rows[-1].layer_um.mean),
        blend=dict(answered.bulk.wt),
        blade=blade,
        hardening=hardening_row(recipe, answered),
        quench=answered.quench,
        temper=answered.temper,
        notices=tuple(all_notices(recipe, forged, metal, answered)),
        sources=source_rows(recipe, ()),
    )


def _schedule(recipe: Recipe, forged: Forged, metal: Metal) -> tuple[ScheduleRow, ...]:
    shared = forging_range(recipe)
    stop_c = shared[0] if shared is not None else None
    by_step = {s.step: s for s in metal.moved.steps}
    return tuple(_row(row, by_step.get(row.step), _stop(recipe, row.step, stop_c)) for row in forged.rows)


def _stop(recipe: Recipe, step: int, stop_c: float | None) -> float | None:
    return stop_c if step > 0 and isinstance(recipe.steps[step - 1], FireStep) else None


def _row(row: ForgedRow, carbon: StepCarbon | None, stop_c: float | None) -> ScheduleRow:
    shown = {name: getattr(row, name) for name in ForgedRow.__dataclass_fields__}
    return ScheduleRow(**shown, carbon_wt=dict(carbon.carbon_wt) if carbon is not None else {}, stop_c=stop_c)


def _steels(recipe: Recipe, forged: Forged, metal: Metal) -> tuple[SteelRow, ...]:
    shares = forged.rows[-1].mass_share
    spreads = carbon_spreads(metal.bar, {name: c["C"] for name, c in metal.compositions.items()})
    rows = []
    for name, steel in recipe.steels.items():
        grade = steel.grade
        spread = spreads.get(name)
        analysis = steel.composition if spread is None else steel.composition.with_carbon(spread.mean)
        rows.append(
            SteelRow(
                name, steel.designation, grade.number if grade else None, grade.aliases if grade else (),
                steel.analysis, shares.get(name, 0.0), spread, dict(analysis.wt), steel.melt,
                grade.source if grade else None, grade.seen if grade else None,
            )  # fmt: skip
        )
    return tuple(rows)


def _carbon(recipe: Recipe, forged: Forged, metal: Metal) -> CarbonRow:
    steps = metal.moved.steps
    first, last = steps[0], steps[-1]
    start, now = _difference(first), _difference(last)
    faces, gone = _lost_g(recipe, forged, metal)
    profiles = tuple(_profile(step) for step in steps)
    return CarbonRow(
        last.mean_wt, CarbonLost(faces, gone), Difference(start, now), profiles, _sentence(start, now, last)
    )  # fmt: skip


def _difference(step: StepCarbon) -> float:
    values = list(step.carbon_wt.values())
    return max(values) - min(values) if len(values) > 1 else 0.0


def _sentence(start: float, now: float, last: StepCarbon) -> str:
    mean = wording.wt(last.mean_wt)
    if len(last.carbon_wt) < 2:
        return f"one steel: {mean} carbon is left on average"
    if start <= 0.0:
        return f"the steels had the same carbon to begin with: {mean} is left on average"
    left = wording.percent(min(now / start, 1.0))
    if now < 0.1 * start:
        return f"carbon has evened out: {left} of the difference is left, {mean} on average"
    return f"{left} of the difference in carbon is left between the steels, {mean} on average"


def _lost_g(recipe: Recipe, forged: Forged, metal: Metal) -> tuple[float, float]:
    """Grams of carbon that left through faces and with metal: shares of what each event found."""
    held_g = _carbon_g(forged.rows[0], metal.moved.steps[0])
    end_g = _carbon_g(forged.rows[-1], metal.moved.steps[-1])
    added_g = sum(_added_g(row, recipe) for row in forged.rows)
    by_step = {s.step: s for s in metal.moved.steps}
    grams = {row.step: _carbon_g(row, by_step[row.step]) for row in forged.rows if row.step in by_step}
    faces = 0.0
    for loss in metal.moved.losses:
        before = grams.get(loss.step - 1, held_g)
        faces += loss.faces_share * before
    return faces, max(held_g + added_g - end_g - faces, 0.0)


def _added_g(row: ForgedRow, recipe: Recipe) -> float:
    """Grams of carbon in the fresh plates laid in a step."""
    step = recipe.steps[row.step - 1] if row.step > 0 else None
    if not isinstance(step, Restack) or step.lay is None:
        return 0.0
    plates = [item for item in step.lay if isinstance(item, Layer)]
    weights = [plate.thickness_mm * recipe.steels[plate.steel].density_g_cm3 for plate in plates]
    carbon = [recipe.steels[plate.steel].composition["C"] / 100.0 for plate in plates]
    held = sum(w * c for w, c in zip(weights, carbon, strict=True))
    return GRAMS_PER_KG * row.added_kg * held / sum(weights) if plates else 0.0


def _carbon_g(row: ForgedRow, step: StepCarbon) -> float:
    return sum(
        GRAMS_PER_KG * row.mass_kg * share * step.carbon_wt.get(name, 0.0) / 100.0
        for name, share in row.mass_share.items()
    )


def _profile(step: StepCarbon) -> Profile:
    points = sampled(step.profile)
    return Profile(step.step, tuple(points.position_mm), tuple(points.carbon_wt), tuple(points.steel))
