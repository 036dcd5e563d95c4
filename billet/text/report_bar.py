"""The second part of the report as text: the schedule, the books, carbon, the layers of the bar."""

from collections.abc import Mapping, Sequence
from typing import Any

from billet import wording
from billet.contract.report import MadeBarRow, Report, ScheduleRow
from billet.sheets.forge import bar_view, lost_words, skin_words
from billet.sheets.forge_pattern import ruler_words
from billet.sheets.forge_stack import lying_order
from billet.sheets.forge_steps import lay_words
from billet.sheets.layout import heading, sentence, table, wrapped
from billet.sheets.steels import called, two_names
from billet.wording import Units

LEAST_TOLD_WT = 0.005


def bar_lines(report: Report, units: Units) -> list[str]:
    """Everything about the bar."""
    lines = [line for bar in report.bars for line in _made_first(report, bar, units)]
    lines += _forged("The bar", report, units)
    lines += ["", *heading(sentence(report.carbon.sentence).rstrip(".")), *_carbon(report)]
    lines += ["", *heading(f"Pattern: {report.pattern.contrast}"), *_pattern(report, units)]
    return lines + _analyses(report)


def _forged(name: str, report: Report, units: Units) -> list[str]:
    """Size, schedule, plates, what is left and the skin of one bar."""
    last = report.schedule[-1]
    size = wording.size(last.height_mm, last.width_mm, last.length_mm, units)
    lines = ["", *heading(f"{name}: {size}, {wording.count(last.layers_visible, 'layer')}")]
    lines += table(
        ("Step", "What", "Fire", "Bar after, cold", "Laid / seen", "Each", "Mass"),
        _schedule(report, units),
    )
    if report.schedule[0].layers and all("steel" in item for item in _listed(report)):
        lines += wrapped(f"Plates. {lying_order(report.schedule[0].layers)}", indent="  ")
    elif _listed(report):
        lines += wrapped(f"From the bottom up: {lay_words(_listed(report), units)}.", indent="  ")
    for row in report.schedule:
        if row.marks:
            lines += wrapped(sentence(f"step {row.step}, marks {ruler_words(row, units)}"), indent="  ")
    lines += wrapped(sentence(f"left: {lost_words(report, units)}"), indent="  ")
    return lines + wrapped(sentence(f"skin: {skin_words(report, units)}"), indent="  ")


def _listed(report: Report) -> Sequence[Mapping[str, Any]]:
    """What the recipe lays one by one; nothing where an order repeats."""
    return report.recipe["stack"].get("plates") or ()


def _made_first(report: Report, bar: MadeBarRow, units: Units) -> list[str]:
    """A bar made first, with its own carbon."""
    view = bar_view(report, bar)
    name = f"Bar {bar.name}, {bar.times} of it" if bar.times > 1 else f"Bar {bar.name}"
    return [*_forged(name, view, units), "", *_carbon(view)]


def _schedule(report: Report, units: Units) -> list[tuple[str, ...]]:
    return [_row(row, units) for row in report.schedule]


def _row(row: ScheduleRow, units: Units) -> tuple[str, ...]:
    fire = ""
    if row.temperature_c is not None and row.minutes is not None:
        heats = row.heats or 1
        fire = f"{wording.temperature(row.temperature_c)}, {heats} × {wording.minutes(row.minutes / heats)}"
    bar = wording.size(row.height_mm, row.width_mm, row.length_mm, units)
    return (
        str(row.step), row.do, fire, bar, f"{row.layers_laid} / {row.layers_visible}",
        wording.micrometres(row.layer_um.mean, units), wording.mass(row.mass_kg, units),
    )  # fmt: skip


def _carbon(report: Report) -> list[str]:
    """Mean carbon of each steel after every step, and what was lost."""
    names = [row.steel for row in report.steels]
    rows = [
        (str(row.step), row.do, *(_content(row, name) for name in names))
        for row in report.schedule
        if row.carbon_wt
    ]
    lines = table(("Step", "What", *(called(report, name) for name in names)), rows) if rows else []
    lost = report.carbon.lost_g
    grams = (wording.mass(g / 1000.0) for g in (lost.faces, lost.metal))
    words = "Carbon lost: {} through the faces, {} with scale, grinding and ends.".format(*grams)
    return [*lines, *wrapped(words)]


def _content(row: ScheduleRow, name: str) -> str:
    return wording.wt(row.carbon_wt[name]) if name in row.carbon_wt else "not in it"


def _pattern(report: Report, units: Units) -> list[str]:
    rows = [
        (name, wording.wt(c.start_wt), wording.wt(c.now_wt), wording.percent(c.left))
        for name, c in report.pattern.elements.items()
    ]
    lines = table(("Element", "Difference laid", "Now", "Left"), rows) if rows else []
    finest = report.pattern.finest_useful_um
    if finest is not None:
        lines += wrapped(f"Layers thinner than {wording.micrometres(finest, units)} would have greyed out.")
    blade = report.blade
    if blade is not None and blade.line_spacing_mm is not None:
        spacing = wording.length(blade.line_spacing_mm, units)
        layers = wording.count(blade.layers_visible, "layer")
        lines += wrapped(f"In the blade: {layers}, lines on the bevel {spacing} apart.")
    if report.schedule[-1].alike:
        lines += wrapped("The layers reach every face alike: sizes of layers are means by volume.")
    if report.pattern.disturbed:
        lines += wrapped("The pattern is disturbed: sizes of layers are those of the flat bar.")
    return lines


def _analyses(report: Report) -> list[str]:
    rows = []
    for row in report.steels:
        analysis = ", ".join(f"{e} {wording.wt(v)}" for e, v in row.wt.items() if v >= LEAST_TOLD_WT)
        basis = "nominal" if row.analysis == "nominal" else "as given"
        rows.append(
            (
                called(report, row.steel),
                two_names(row),
                wording.percent(row.mass_share),
                f"{analysis} ({basis})",
            )
        )
    bulk = ", ".join(f"{e} {wording.wt(v)}" for e, v in report.blend.items() if v >= LEAST_TOLD_WT)
    rows.append(("whole bar", "", wording.percent(1.0), f"{bulk} (calculated, not analysed)"))
    return [
        "",
        *heading("What is in it after forging"),
        *table(("Steel", "Grade", "Share", "Analysis"), rows),
    ]
