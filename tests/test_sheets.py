"""Sheets of every example recipe, in both units: what must stand on paper and what must never."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from billet import load_recipe_text, parse_recipe, plan, wording
from billet.contract.report import HeadlineRow, LeastBad, Notice, Report, ScheduleRow, Suffers
from billet.contract.values import Reason
from billet.errors import OutOfDomain
from billet.report.words import said
from billet.sheets import BLANK, BOX, EMPTY, SHEET_KINDS, Sheet, build_sheet, sheet_text
from billet.sheets.drawn import BarFigure, CutFigure, Operation, StackFigure
from billet.sheets.forge_cuts import kerfs_mm
from billet.sheets.forge_operations import pile_figure
from billet.sheets.forge_stack import lying_order
from billet.sheets.layout import WIDTH, plain
from billet.wording import Units, inch_fraction, temperature

RECIPES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"), key=lambda p: p.name)
NAMES = [path.stem for path in RECIPES]
EVERY = pytest.mark.parametrize("name", NAMES)
KIND = pytest.mark.parametrize("kind", SHEET_KINDS)
UNITS: tuple[Units, ...] = ("mm", "inch")
CELSIUS = re.compile(r"\d °C(?! (?:/ |\()[\d-][\d to-]* °F)")


@cache
def report_of(name: str) -> Report:
    path = next(p for p in RECIPES if p.stem == name)
    return plan(parse_recipe(load_recipe_text(path.read_text(encoding="utf-8")))).report


def cells(sheet: Sheet) -> list[str]:
    return [cell for section in sheet.sections for row in section.rows for cell in row]


def without_window(report: Report, because: str) -> Report:
    """The report as it stands where there is no set point, whatever the steels."""
    least = None
    if because == "gap":
        rows = tuple(Suffers(s.steel, "hardens little") for s in report.hardening.per_steel)
        least = LeastBad(780.0, rows)
    hardening = replace(
        report.hardening, verdict="none", none_because=because, window_c=None, set_point_c=None,
        gap_k=40.0 if because == "gap" else None, least_bad=least, soak_min=None, normalise_c=(),
    )  # fmt: skip
    quench = replace(report.quench, verdict="none", medium=None, bath_c=None, pays=())
    values = {"steels": tuple(row.steel for row in report.steels), "gap_k": 40.0, "least_bad_c": 780.0}
    text, do = (said(Reason(f"{part}-none-{because}", values)) for part in ("headline", "do"))
    headline = HeadlineRow("no", "no", f"none-{because}", None, text, do)
    return replace(report, hardening=hardening, quench=quench, headline=headline)


@EVERY
@KIND
@pytest.mark.parametrize("units", UNITS)
def test_text_stays_within_a_hundred_columns(name: str, kind: str, units: Units) -> None:
    text = sheet_text(build_sheet(report_of(name), kind, units))
    assert max(len(line) for line in text.splitlines()) <= WIDTH


@EVERY
@KIND
def test_every_temperature_is_told_both_ways(name: str, kind: str) -> None:
    sheet = build_sheet(report_of(name), kind)
    for words in [sheet.statement, *cells(sheet), *(s.heading for s in sheet.sections)]:
        assert not CELSIUS.search(plain(words)), words


@EVERY
def test_every_weld_has_a_box_of_its_own_before_more_is_added(name: str) -> None:
    report = report_of(name)
    rows = [row for s in build_sheet(report, "forge").sections if s.kind == "steps" for row in s.rows]
    gates = [row for row in rows if any("Sound?" in cell for cell in row)]
    assert len(gates) == sum(row.do == "weld" for rows_of in schedules(report) for row in rows_of)
    assert all(BOX in row for row in gates)
    step = ""
    for row in rows:
        step = row[0] if row[0] != EMPTY else step
        assert (row in gates) <= step.endswith("weld")
    for made in operations(report):
        assert bool(made.check) is (made.do == "weld")


@EVERY
def test_every_step_has_a_box_a_blank_and_the_bar_after_it(name: str) -> None:
    report = report_of(name)
    rows = [row for s in build_sheet(report, "forge").sections if s.kind == "steps" for row in s.rows]
    steps = [row for row in rows if row[0][0].isdigit()]
    numbers = [row.step for rows_of in schedules(report) for row in rows_of[1:]]
    assert [int(row[0].split("\u00a0")[0]) for row in steps] == numbers
    assert all(row[-2:] == (BOX, BLANK) for row in steps)


@EVERY
def test_the_size_to_stop_at_is_told_for_every_heat_cold_and_hot(name: str) -> None:
    report = report_of(name)
    made = {each.number: each for each in operations(report)}
    for row in report.schedule:
        if row.do == "draw":
            stops = made[row.step].stops
            assert len(stops) == row.heats == len(row.each_heat)
            for stop, heat in zip(stops, row.each_heat, strict=True):
                assert float(stop.cold) == pytest.approx(heat.height_mm, abs=0.051)
                assert heat.hot is not None and 1.011 <= heat.hot <= 1.0175
                assert float(stop.hot) == pytest.approx(heat.height_mm * heat.hot, abs=0.051)


def operations(report: Report, units: Units = "mm") -> list[Operation]:
    sections = build_sheet(report, "forge", units).sections
    return [made for section in sections for made in section.operations]


@EVERY
@pytest.mark.parametrize("units", UNITS)
def test_text_holds_every_fact_that_the_page_draws(name: str, units: Units) -> None:
    """Sizes to stop at, marks of cuts, plates of the pile."""
    sheet = build_sheet(report_of(name), "forge", units)
    told = " ".join(sheet_text(sheet).split())
    for section in sheet.sections:
        for made in section.operations:
            assert all(plain(stop.cold) in told and plain(stop.hot) in told for stop in made.stops)
        if isinstance(section.figure, CutFigure):
            for mm in section.figure.marks_mm:
                assert plain(wording.bench_length(mm, units)) in told
        assert all(plain(" ".join(row)) in told for row in section.rows if section.figure is not None)


@EVERY
@KIND
def test_an_inch_sheet_reads_fahrenheit_first_and_no_kelvin(name: str, kind: str) -> None:
    sheet = build_sheet(report_of(name), kind, "inch")
    words = [sheet.statement, *(page.order for page in sheet.pages), *cells(sheet)]
    words += [section.heading for section in sheet.sections]
    for told in map(plain, words):
        assert not re.search(r"\d K\b", told), told
        assert not re.search(r"\d °C / ", told) and not re.search(r"\d °C \(", told), told
    for made in operations(report_of(name), "inch"):
        assert made.heat is None or made.heat[0].endswith("°F")


@EVERY
def test_no_side_has_more_than_eight_steps_and_long_ones_break_where_the_pile_is_laid(name: str) -> None:
    sheet = build_sheet(report_of(name), "forge")
    sides = [[made for section in page.sections for made in section.operations] for page in sheet.pages]
    assert sum(map(len, sides)) == sum(len(rows) - 1 for rows in schedules(report_of(name)))
    assert max(map(len, sides)) <= 8
    for before, after, page in zip(sides, sides[1:], sheet.pages[1:], strict=False):
        if not before or not after or after[0].number == 1:
            continue
        assert before[-1].do == "restack" or all(made.do != "restack" for made in before)
        figure = page.sections[0].figure
        assert isinstance(figure, StackFigure | BarFigure) and figure.step == before[-1].number
        assert isinstance(figure, StackFigure) is (before[-1].do == "restack")


def schedules(report: Report) -> list[tuple[ScheduleRow, ...]]:
    """The rows of every bar that is made first, and of the bar itself."""
    return [*(bar.schedule for bar in report.bars), report.schedule]


def test_a_pile_is_drawn_as_it_lies() -> None:
    pile = pile_figure(report_of("plain_core_layered_sides"), 4)
    assert [(c.piece, c.turned) for c in pile.courses] == [(True, False), (False, False), (True, True)]
    assert pile.courses[1].layers == (("core", 4.0),)
    assert pile.courses[2].layers == tuple(reversed(pile.courses[0].layers))
    assert sum(c.thickness_mm for c in pile.courses) == pytest.approx(pile.height_mm, rel=1e-6)


@pytest.mark.parametrize(
    ("step", "strips"),
    [
        ({"kerf_mm": 2.0, "trim_mm": 10.0}, ((8.0, 10.0), (50.0, 52.0), (90.0, 92.0))),
        ({"kerf_mm": 2.0, "trim_mm": [0.0, 10.0]}, ((10.0, 12.0), (50.0, 52.0), (90.0, 92.0))),
        ({"kerf_mm": 2.0, "order": "folded", "trim_mm": 10.0}, ()),
    ],
)
def test_the_saw_stays_in_what_falls_off(step: dict[str, object], strips: object) -> None:
    assert kerfs_mm(step, (10.0, 50.0, 90.0)) == strips


def test_the_typed_trade_name_stays_with_the_standards_name_once_beside() -> None:
    recipe = {**report_of("reed_bed_kitchen").recipe, "steels": {"dark": "1084", "bright": "15N20"}}
    report = plan(recipe).report
    for kind in SHEET_KINDS:
        sheet = build_sheet(report, kind)
        text = plain(" ".join([sheet.statement, *cells(sheet)]))
        assert "75Ni8" not in text.replace("15N20, 75Ni8", "").replace("15N20 (75Ni8", "")
        assert kind in {"harden", "kiln"} or "15N20" in text
    own_key = {**recipe, "steels": {"1084": "1084", "15N20": "15N20"}}
    own_key["stack"] = {
        **recipe["stack"],
        "pattern": ["1084", "15N20"],
        "thickness_mm": {"1084": 3.0, "15N20": 1.5},
    }
    own_key["steps"] = [{k: v for k, v in step.items() if k != "note"} for step in recipe["steps"]]
    text = " ".join(sheet_text(build_sheet(plan(own_key).report, "forge")).split())
    assert "dark" not in text.replace("no dark line", "") and "bright" not in text
    assert "15N20 (75Ni8)" in text


def test_the_temper_for_a_wanted_hardness_is_the_row_that_is_marked() -> None:
    given = report_of("reed_bed_kitchen").recipe
    report = plan({**given, "blade": {**given["blade"], "temper_to_hrc": 60.0}}).report
    wanted = report.temper.wanted
    assert wanted is not None and wanted.temperature_c is not None
    table = next(s for s in build_sheet(report, "harden").sections if s.marked is not None)
    assert table.rows[table.marked or 0][0] == temperature(wanted.temperature_c)
    assert table.rows[table.marked or 0][-report.temper.cycles :] == (BOX,) * report.temper.cycles


def test_without_a_wanted_hardness_the_row_that_the_furnace_runs_is_marked() -> None:
    report = report_of("reed_bed_kitchen")
    run = next(made for made in report.programmes if made.job == "temper").segments[0]
    table = next(s for s in build_sheet(report, "harden").sections if s.marked is not None)
    assert table.rows[table.marked or 0][0] == temperature(run.to_c)
    kiln = next(s for s in build_sheet(report, "kiln").sections if "Temper" in s.heading)
    assert {row[1] for row in kiln.rows} == {temperature(run.to_c)} and "marked" in kiln.heading


def test_the_smiths_own_oil_is_told_with_what_to_expect_at_edge_and_spine() -> None:
    given = report_of("reed_bed_kitchen").recipe
    report = plan({**given, "shop": {"oils": [{"name": "tank 2", "class": "fast oil"}]}}).report
    rows = dict(r for s in build_sheet(report, "harden").sections for r in s.rows if len(r) == 2)
    assert rows["Quench"].startswith("tank 2 (fast oil)")
    assert "HRC" in rows["Edge"] and "HRC" in rows["Spine"]
    assert build_sheet(report, "harden").statement == report.headline.text


@EVERY
def test_the_magnet_is_told_for_each_steel(name: str) -> None:
    report = report_of(name)
    rows = dict(r for s in build_sheet(report, "harden").sections for r in s.rows if len(r) == 2)
    if "Magnet" in rows:
        assert all(row.steel in rows["Magnet"] for row in report.hardening.per_steel)


def test_what_was_never_told_is_owned_up_to() -> None:
    report = report_of("reed_bed_kitchen")
    text = " ".join(sheet_text(build_sheet(report, "forge")).split())
    told = text.split("Never told, filled in: ")[1]
    assert ("flux" in told) is any(".flux =" in place for place in report.defaults_used)
    assert "heat (1 and 5)" in told


def test_a_shared_recipe_without_a_public_address_says_why_no_link_is_printed() -> None:
    report = report_of("reed_bed_kitchen")
    shared = replace(report, recipe={**report.recipe, "sheet": {"share_recipe": True}})
    for kind in ("buyer", "label"):
        assert "no public address" in dict(build_sheet(shared, kind).title_block)["Link"]
        assert "Link" not in dict(build_sheet(report, kind).title_block)


@EVERY
def test_the_set_point_stands_large_where_there_is_one_and_nowhere_where_there_is_none(name: str) -> None:
    report = report_of(name)
    sheet = build_sheet(report, "harden")
    point = report.hardening.set_point_c
    if point is None:
        assert "°" not in sheet.statement and "Set point" not in cells(sheet)
    else:
        assert sheet.statement == report.headline.text and temperature(point) in sheet.statement


@EVERY
@pytest.mark.parametrize("because", ["gap", "soft", "unknown"])
@KIND
def test_without_a_window_no_sheet_prints_a_set_point(name: str, because: str, kind: str) -> None:
    report = without_window(report_of(name), because)
    sheet = build_sheet(report, kind)
    assert "°" not in sheet.statement
    assert not any(row[0] == "Set point" for s in sheet.sections for row in s.rows)
    if kind == "harden":
        assert sheet.statement.startswith(("No ", "Nothing "))
        assert "Harden at" not in sheet_text(sheet)


@EVERY
def test_the_least_bad_heat_is_told_as_not_advised_with_its_price(name: str) -> None:
    report = without_window(report_of(name), "gap")
    section = next(s for s in build_sheet(report, "harden").sections if s.heading.startswith("Least bad"))
    assert "not advised" in section.heading
    assert len(section.rows) == 1 + len(report.hardening.per_steel)


def test_each_steel_of_a_pair_without_a_window_is_told_alone() -> None:
    report = report_of("no_shared_window")
    assert report.hardening.verdict == "none"
    text = sheet_text(build_sheet(report, "harden"))
    assert "What each steel would take alone" in text and "1095" in text and "440C" in text


@EVERY
def test_a_fire_that_is_too_rough_is_said_to_be(name: str) -> None:
    report = report_of(name)
    control = report.hardening.control
    if control is None or report.hardening.set_point_c is None:
        return
    held = next(r[1] for s in build_sheet(report, "harden").sections for r in s.rows if r[0] == "Held by")
    assert ("TOO ROUGH" in held) is (control.grade == "no")
    assert held.endswith(": good") is (control.grade == "good")
    assert ("works, not at its best" in held) is (control.grade == "works")


@EVERY
def test_the_label_holds_the_size_both_ways_and_both_designations(name: str) -> None:
    report = report_of(name)
    rows = dict(row for s in build_sheet(report, "label", "inch").sections for row in s.rows if len(row) == 2)
    last = report.schedule[-1]
    size = plain(rows["Size"])
    assert re.fullmatch(r"[\d.]+ × [\d.]+ × [\d.]+ mm / [\d.]+ × [\d.]+ × [\d.]+ in", size)
    assert float(size.split(" × ")[0]) == pytest.approx(last.height_mm, abs=0.06)
    for row in report.steels:
        if row.mass_share > 0.0:
            assert row.designation in rows["Steels"]
            assert row.number is None or row.number in rows["Steels"]
    assert rows["Layers"] == f"{last.layers_laid} laid, {last.layers_visible} to be seen"


@EVERY
def test_the_buyer_is_told_what_was_only_calculated(name: str) -> None:
    text = " ".join(sheet_text(build_sheet(report_of(name), "buyer")).split())
    assert "calculated, not analysed" in text
    assert "Tested on this bar: nothing, unless written here" in text
    for element in ("C", "Mn", "Cr", "Ni"):
        assert re.search(rf"\b{element} \d+\.\d\d %", text)


@EVERY
@KIND
def test_cells_are_words_or_one_of_the_three_marks(name: str, kind: str) -> None:
    sheet = build_sheet(report_of(name), kind)
    for cell in cells(sheet):
        assert isinstance(cell, str) and (cell in {BOX, BLANK, EMPTY} or cell.strip())
        assert "None" not in cell and "nan" not in cell


@EVERY
@KIND
def test_a_row_has_no_more_cells_than_its_table_has_columns(name: str, kind: str) -> None:
    for section in build_sheet(report_of(name), kind).sections:
        if section.kind == "table" and section.columns:
            assert all(2 <= len(row) <= len(section.columns) for row in section.rows)


@KIND
def test_the_link_leaves_the_shop_only_where_the_recipe_is_shared(kind: str) -> None:
    report = report_of("reed_bed_kitchen")
    link = "http://example.org/plan?r=abc"
    open_recipe = {**report.recipe, "sheet": {"share_recipe": True}}
    closed_recipe = {**report.recipe, "sheet": {"share_recipe": False}}
    shared = dict(build_sheet(replace(report, recipe=open_recipe), kind, link=link).title_block)
    kept = dict(build_sheet(replace(report, recipe=closed_recipe), kind, link=link).title_block)
    assert shared["Link"] == link
    assert ("Link" in kept) is (kind in {"forge", "harden", "kiln"})


@KIND
def test_the_title_block_finds_this_very_plan_again(kind: str) -> None:
    report = report_of("reed_bed_kitchen")
    block = dict(build_sheet(report, kind).title_block)
    assert block["Bar id"] == report.bar_id
    assert report.made_with.billet in block["Program, data"]
    assert report.made_with.data in block["Program, data"]


def test_no_clock_dates_a_sheet() -> None:
    report = report_of("doorstep_folded")
    bare = replace(report, recipe={k: v for k, v in report.recipe.items() if k != "sheet"})
    assert dict(build_sheet(bare, "forge").title_block)["Forged on"] == BLANK
    dated = replace(report, recipe={**bare.recipe, "sheet": {"forged_on": "2026-03-01"}})
    assert dict(build_sheet(dated, "forge").title_block)["Forged on"] == "2026-03-01"


def test_what_can_hurt_is_told_only_where_it_applies() -> None:
    report = report_of("reed_bed_kitchen")
    quiet = replace(report, notices=tuple(n for n in report.notices if n.where != "safety"))
    assert not any(row[0] == "Safety" for s in build_sheet(quiet, "forge").sections for row in s.rows)
    flux = Notice("caution-flux", "caution", "safety", "the long text")
    told = build_sheet(replace(quiet, notices=(*quiet.notices, flux)), "forge")
    line = next(row[1] for s in told.sections for row in s.rows if row[0] == "Safety")
    assert "Flux spatters" in line and "oil" not in line


def test_layers_far_apart_come_out_of_the_oil_warm() -> None:
    report = report_of("reed_bed_kitchen")
    apart = Notice("ms-far-apart", "caution", "hardening", "martensite starts far apart: likely to part")
    calm = replace(report, notices=())
    rows = dict(r for s in build_sheet(calm, "harden").sections for r in s.rows if len(r) == 2)
    warm = dict(
        r
        for s in build_sheet(replace(calm, notices=(apart,)), "harden").sections
        for r in s.rows
        if len(r) == 2
    )
    assert "80 to 100" in warm["Then"] and "30" in warm["Then"]
    assert "80 to 100" not in rows["Then"]
    assert apart.text.lower() in warm["Caution"].lower()


@pytest.mark.parametrize(
    ("layers", "told"),
    [
        ([("a", 1.0)] * 3, "All of a."),
        ([("a", 1.0), ("b", 2.0)] * 2, "From the bottom up: a, b, and so on; a at the bottom, b at the top."),
        (
            [("a", 1.0), ("b", 2.0), ("a", 1.0)],
            "From the bottom up: a, b, and so on; a outside on both faces.",
        ),
        ([("a", 1.0), ("b", 1.0), ("c", 1.0), ("a", 3.0)], "From the bottom up: a, b, c, a."),
    ],
)
def test_the_order_of_plates_is_told_short_and_exact(layers: list[tuple[str, float]], told: str) -> None:
    assert lying_order(tuple(layers)) == told


def test_inch_sheets_name_the_stock_to_ask_for() -> None:
    report = report_of("reed_bed_kitchen")
    words = " ".join(cells(build_sheet(report, "forge", "inch")))
    assert f"about {inch_fraction(3.0)}" in words


def bar(plates: list[tuple[str, float]], steels: dict[str, object], *steps: dict[str, object]) -> Report:
    """A plan of plates 30 x 200 mm; the blade is the whole bar."""
    stack = [{"steel": name, "thickness_mm": mm} for name, mm in plates]
    recipe = {"format": 1, "title": "Odd bar", "steels": steels, "steps": list(steps)}
    recipe["stack"] = {"width_mm": 30, "length_mm": 200, "plates": stack}
    return plan(recipe).report


WELD: dict[str, object] = {"do": "weld", "temperature_c": 1050, "minutes": 8}
UNKNOWN: dict[str, object] = {"name": "old file", "wt": {"C": 1.2, "Cr": 6.0}}


@cache
def odd_bar(name: str) -> Report:
    many = [("ab"[i * i % 2], 0.5 + 0.01 * (i % 37)) for i in range(120)]
    every_step = (
        {**WELD, "height_mm": 70},
        {"do": "draw", "temperature_c": 1050, "minutes": 30, "heats": 12, "height_mm": 20},
        {"do": "turn"},
        {"do": "upset", "temperature_c": 1050, "minutes": 5, "length_mm": 600},
        {"do": "crop", "end_mm": [5, 5]},
        {"do": "other", "what": "twist, 6 turns", "temperature_c": 1000, "minutes": 5},
    )
    pair: dict[str, object] = {"a": "1084", "b": "75Ni8"}
    return {
        "one plate": lambda: bar([("a", 4.0)], {"a": "1084"}),
        "every step": lambda: bar(many, pair, *every_step),
        "soft": lambda: bar([("a", 3.0), ("b", 3.0)], {"a": "1008", "b": "1018"}, WELD),
        "unknown": lambda: bar([("a", 4.0), ("b", 4.0)], {"a": "1084", "b": UNKNOWN}, WELD),
        "air": lambda: bar([("a", 4.0)], {"a": "A2"}),
    }[name]()


ODD = pytest.mark.parametrize("name", ["one plate", "every step", "soft", "unknown", "air"])


@ODD
@KIND
@pytest.mark.parametrize("units", UNITS)
def test_odd_bars_have_sheets_too(name: str, kind: str, units: Units) -> None:
    report = odd_bar(name)
    sheet = build_sheet(report, kind, units)
    assert max(len(line) for line in sheet_text(sheet).splitlines()) <= WIDTH
    assert all(section.rows and all(row for row in section.rows) for section in sheet.sections)
    if report.hardening.set_point_c is None:
        assert "°" not in sheet.statement


def test_a_steel_without_a_range_is_told_no_bath_and_its_neighbour_keeps_its_own() -> None:
    report = odd_bar("unknown")
    assert report.hardening.none_because == "unknown"
    rows = dict(r for s in build_sheet(report, "harden").sections for r in s.rows if len(r) == 2)
    assert "oil" not in rows["b (old file)"]
    assert rows["a (1084)"].endswith("fast oil")


def test_there_is_no_sheet_of_another_kind() -> None:
    with pytest.raises(OutOfDomain):
        build_sheet(report_of("reed_bed_kitchen"), "poster")
