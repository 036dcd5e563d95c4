"""Puts what was found into the rows of the report; computes nothing that decides anything."""

from billet.contract.report import (
    REPORT_FORMAT,
    CarbonLost,
    CarbonRow,
    Difference,
    MadeBarRow,
    MadeWith,
    PatternRow,
    Profile,
    Report,
    ScheduleRow,
    SteelRow,
)
from billet.contract.values import Fact, Reason
from billet.diffusion.carbon_balance import carbon_books
from billet.diffusion.contrast import contrast_reason
from billet.diffusion.decarburised_skin import bar_skin_mm
from billet.diffusion.profile import Profile as MetalProfile
from billet.diffusion.profile import removed, sampled
from billet.diffusion.simulation import Metal
from billet.diffusion.transport import StepCarbon
from billet.forging.burning import forging_range
from billet.forging.forge import recipe_of_bar
from billet.forging.model import Forged, ForgedRow
from billet.hardening.blade import blade_row, carbon_spreads
from billet.hardening.heat_cycle import heat_cycle
from billet.hardening.heat_treatment import HeatTreatment
from billet.recipe.laid_bars import times_made
from billet.recipe.model import FireStep, Recipe
from billet.report.citations import pattern_sources, source_rows
from billet.report.fitted_ranges import fitted_range_findings
from billet.report.hardening import hardening_row
from billet.report.headline import headline_row
from billet.report.heat_cycle import programme_rows
from billet.report.hot_size import with_hot_size
from billet.report.notices import all_notices
from billet.report.quench import edge_row, quench_row
from billet.report.temper import temper_row, temper_sources
from billet.report.words import layer_arithmetic, noticed, said
from billet.version import DATA_VERSION, VERSION

SETTLED_WITHIN_WT = 0.03


def compile_report(recipe: Recipe, forged: Forged, metal: Metal, answered: HeatTreatment) -> Report:
    """The report of the contract."""
    cycle = heat_cycle(recipe, forged, metal, answered)
    blade = None
    if recipe.blade is not None:
        blade = blade_row(recipe.blade, answered.columns, answered.grind_mm, answered.spreads)
    schedule = _schedule(recipe, forged, metal)
    steels = _steels(recipe, forged, metal)
    hardening = hardening_row(recipe, answered, cycle)
    fitted = fitted_range_findings(schedule, steels, hardening)
    notices = (*all_notices(recipe, forged, metal, answered, cycle), *map(noticed, fitted))
    return Report(
        format=REPORT_FORMAT,
        title=recipe.title,
        recipe=recipe.given,
        recipe_id=recipe.recipe_id,
        bar_id=recipe.bar_id,
        defaults_used=recipe.defaults_used,
        made_with=MadeWith(VERSION, DATA_VERSION),
        schedule=schedule,
        steels=steels,
        carbon=_carbon(recipe, forged, metal, cycle.skin.forging_mm),
        pattern=_pattern(forged, answered),
        blend=dict(answered.bulk.wt),
        blade=blade,
        headline=headline_row(recipe, answered),
        hardening=hardening,
        quench=quench_row(answered.quench, edge_row(answered.edge, recipe.blade)),
        programmes=programme_rows(cycle.programmes),
        temper=temper_row(answered.temper),
        notices=notices,
        sources=source_rows(recipe, (*temper_sources(answered.temper), *pattern_sources(recipe))),
        bars=_made_bars(recipe, forged, metal),
    )


def _made_bars(recipe: Recipe, forged: Forged, metal: Metal) -> tuple[MadeBarRow, ...]:
    """Each bar made first as a bar of its own."""
    times = times_made(recipe)
    rows = []
    for name, bar in forged.bars.items():
        part, own = recipe_of_bar(recipe, name), metal.bars[name]
        skin_mm = bar_skin_mm(part, bar, own)
        rows.append(
            MadeBarRow(name, times[name], _schedule(part, bar, own), _carbon(part, bar, own, skin_mm))
        )
    return tuple(rows)


def _pattern(forged: Forged, answered: HeatTreatment) -> PatternRow:
    blur = answered.blur
    reason = contrast_reason(blur, forged.rows[-1].layer_um.mean)
    return PatternRow(blur.contrast, forged.final.disturbed, blur.finest_um, said(reason), reason.code)


def _schedule(recipe: Recipe, forged: Forged, metal: Metal) -> tuple[ScheduleRow, ...]:
    by_step = {s.step: s for s in metal.moved.steps}
    laid = forged.laid_by_step
    return tuple(
        _row(row, by_step.get(row.step), _stop_c(recipe, row.step, laid[row.step])) for row in forged.rows
    )


def _stop_c(recipe: Recipe, step: int, names: frozenset[str]) -> float | None:
    """When to stop forging: the higher of the lower ends of the published forging ranges."""
    shared = forging_range(recipe.steels_in(names))
    if shared is None or step == 0 or not isinstance(recipe.steps[step - 1], FireStep):
        return None
    return shared[0]


def _row(row: ForgedRow, carbon: StepCarbon | None, stop_c: float | None) -> ScheduleRow:
    shown = {name: getattr(row, name) for name in ForgedRow.__dataclass_fields__}
    if row.temperature_c is not None:
        shown["each_heat"] = with_hot_size(row.each_heat, row.temperature_c, stop_c)
    return ScheduleRow(
        **shown,
        arithmetic=layer_arithmetic(row.layer_sum),
        carbon_wt=dict(carbon.carbon_wt) if carbon is not None else {},
        stop_c=stop_c,
    )


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
                name,
                steel.designation,
                grade.number if grade else None,
                grade.aliases if grade else (),
                steel.analysis,
                shares.get(name, 0.0),
                spread,
                dict(analysis.wt),
                steel.melt,
                grade.source if grade else None,
                grade.seen if grade else None,
            )
        )
    return tuple(rows)


def _carbon(recipe: Recipe, forged: Forged, metal: Metal, skin_mm: tuple[float, float]) -> CarbonRow:
    steps = metal.moved.steps
    first, last = steps[0], steps[-1]
    start, now = _difference(first), _difference(last)
    books = carbon_books(recipe, forged, metal)
    settled = _settled(metal)
    profiles = tuple(
        _profile(step, at) for at, column in enumerate(metal.columns) for step in column.moved.steps
    )
    return CarbonRow(
        last.mean_wt,
        CarbonLost(books.faces, books.metal),
        Difference(start, now),
        profiles,
        skin_mm,
        said(_carbon_reason(start, now, last, settled)),
        settled if len(last.carbon_wt) > 1 else None,
    )


def _difference(step: StepCarbon) -> float:
    values = list(step.carbon_wt.values())
    return max(values) - min(values) if len(values) > 1 else 0.0


def _carbon_reason(start: float, now: float, last: StepCarbon, settled: bool) -> Reason:
    values: dict[str, Fact] = {"mean_wt": last.mean_wt, "now_wt": now, "start_wt": start}
    if len(last.carbon_wt) < 2:
        return Reason("carbon-one-steel", values)
    return Reason("carbon-settled" if settled else "carbon-moving", values)


def _settled(metal: Metal) -> bool:
    """Carbon is level inside every steel of the middle half of every column of the bar."""
    return all(_is_settled(column.bar, metal) for column in metal.columns)


def _is_settled(bar: MetalProfile, metal: Metal) -> bool:
    middle = removed(bar, 0.25 * bar.height_mm, 0.25 * bar.height_mm)
    spreads = carbon_spreads(middle, {name: 0.0 for name in metal.compositions})
    return all(s.p90 - s.p10 < SETTLED_WITHIN_WT for s in spreads.values())


def _profile(step: StepCarbon, column: int) -> Profile:
    points = sampled(step.profile)
    return Profile(step.step, tuple(points.position_mm), tuple(points.carbon_wt), tuple(points.steel), column)
