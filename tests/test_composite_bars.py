"""Bars made first, laid one on another and side by side: sizes, masses, counts and carbon of the whole."""

import itertools
import re
from typing import Any

import pytest
from pattern_recipes import FIRE, STEELS, TWIST, WELD, books, layered, recipe, twin

from billet import build_sheet, load, parse_recipe, plan, sheet_text, study, uncertainty
from billet.diffusion.simulation import diffused
from billet.errors import RecipeError
from billet.parse import canonical_json, forged_recipe
from billet.recipe.file import load_recipe_text, recipe_to_toml
from billet.recipe.laid_bars import times_made
from billet.recipe.reading import read_recipe

CLOSE = 1e-9
PLAIN = {"width_mm": 30, "length_mm": 140, "plates": [{"steel": "dark", "thickness_mm": 10}]}


def plates(*items: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A bar of what is laid, 30 mm wide and 140 long, with bars made first."""
    steps = [{**WELD, "height_mm": 8}]
    found = recipe(*steps, **more)
    found["stack"] = {"width_mm": 30, "length_mm": 140, "plates": list(items)}
    return found


def test_a_twisted_pair_with_an_edge_is_planned_from_end_to_end() -> None:
    found = plan(twin())
    report = found.report
    assert [bar.name for bar in report.bars] == ["left", "right", "rim"]
    assert [row.do for row in report.bars[0].schedule] == ["stack", "weld", "draw", "twist", "draw"]
    assert report.schedule[-1].layers_visible == 15 == report.schedule[-1].layers_laid
    assert report.quench.edge is not None and report.quench.edge.steels == ("edge",)
    pays = {row.steel: "does not lie at the edge" in row.how for row in report.quench.pays}
    assert pays == {"dark": True, "edge": False}
    harden = " ".join(sheet_text(build_sheet(report, "harden")).split())
    assert re.search(r"Edge edge \d\d to \d\d.HRC as quenched; behind it dark \d\d", harden)
    assert study(found).skin.pale_seams == () and uncertainty(found, bars=200).bars == 200
    told = found.to_dict()
    assert {bar["name"]: bar["times"] for bar in told["bars"]} == {"left": 1, "right": 1, "rim": 1}


def test_carbon_of_every_bar_and_of_the_whole_adds_up() -> None:
    found = plan(twin())
    assert books(found).open_share < CLOSE
    parts = 0.0
    for name, bar in found.forged.bars.items():
        moved = found.metal.bars[name].moved.steps[-1]
        assert bar.rows[-1].mass_kg > 0.0 and moved.mean_wt > 0.5
        parts += bar.final.width_mm * moved.profile.carbon_g_m2
    laid = found.metal.moved.steps[0].profile.carbon_g_m2 * 40.0
    assert laid == pytest.approx(parts, rel=CLOSE)


def test_masses_and_volumes_close() -> None:
    rows = plan(twin()).report.schedule
    for before, after in itertools.pairwise(rows):
        gone = sum(vars(after.lost_kg).values()) - after.added_kg
        assert before.mass_kg - gone == pytest.approx(after.mass_kg, rel=CLOSE)
        volume = after.solid_height_mm * after.width_mm * after.length_mm
        assert after.mass_kg == pytest.approx(volume * 7.85e-6, rel=CLOSE)
        assert sum(after.mass_share.values()) == pytest.approx(1.0, rel=CLOSE)


def test_what_is_left_over_of_longer_bars_is_told() -> None:
    found = forged_recipe(twin())[1]
    bars = {name: bar.final for name, bar in found.bars.items()}
    over = sum(bar.mass_kg * (bar.length_mm - 250.0) / bar.length_mm for bar in bars.values())
    assert found.rows[0].lost_kg.left_over == pytest.approx(over, rel=CLOSE)
    assert found.rows[0].mass_kg + over == pytest.approx(sum(b.mass_kg for b in bars.values()), rel=CLOSE)


def test_columns_side_by_side_have_the_widths_of_their_bars() -> None:
    found = forged_recipe(twin())[1]
    assert [column.share for column in found.columns] == pytest.approx([0.3, 0.3, 0.4])
    assert [column.final.alike for column in found.columns] == [True, True, False]
    placed = found.changes[0].items  # type: ignore[union-attr]
    assert [(box.name, box.left_share) for box in placed] == [
        ("left", 0.0), ("right", pytest.approx(0.3)), ("rim", pytest.approx(0.6)),
    ]  # fmt: skip


def test_a_bar_of_one_plate_laid_is_that_plate() -> None:
    """Bars made first that see no fire change nothing: sizes, carbon and answer are those of the plates."""
    bars = {"core": {"stack": PLAIN}}
    bright = {"steel": "bright", "thickness_mm": 5}
    made = plan(plates({"bar": "core"}, bright, {"bar": "core", "turned": True}, bars=bars))
    flat = plan(plates({"steel": "dark", "thickness_mm": 10}, bright, {"steel": "dark", "thickness_mm": 10}))
    assert made.report.schedule[-1].layers == flat.report.schedule[-1].layers
    assert made.metal.bar.carbon_wt == pytest.approx(flat.metal.bar.carbon_wt, rel=1e-12)
    assert made.report.hardening.set_point_c == flat.report.hardening.set_point_c
    assert books(made).open_share < CLOSE
    assert [bar.times for bar in made.report.bars] == [2]


def test_the_same_bar_side_by_side_is_that_bar_twice_as_wide() -> None:
    half = {**PLAIN, "width_mm": 15}
    pair = plan(plates({"beside": ["core", "core"]}, bars={"core": {"stack": half}}))
    whole = plan(
        plates({"bar": "core"}, {"steel": "dark", "thickness_mm": 0.02}, bars={"core": {"stack": PLAIN}})
    )
    row = pair.report.schedule[-1]
    assert (row.height_mm, row.width_mm) == pytest.approx((8.0, 30.0), abs=0.3)
    assert row.layers_visible == 2 and whole.report.schedule[-1].layers_visible == 1
    carbon = [p.metal.moved.steps[-1].mean_wt for p in (pair, whole)]
    assert carbon[0] == pytest.approx(carbon[1], abs=0.003)


def test_a_plate_under_bars_side_by_side_counts_once() -> None:
    """A plate, 5 and 7 layers beside each other, another plate: 14 laid and to be seen."""
    bars = {"five": layered(5), "seven": layered(7)}
    for bar in bars.values():
        bar["stack"]["width_mm"] = bar["steps"][0]["width_mm"] = 15
    under = {"steel": "bright", "thickness_mm": 3}
    found = forged_recipe(plates(under, {"beside": ["five", "seven"]}, under, bars=bars))[1]
    assert [row.layers_laid for row in found.rows] == [14, 14]
    assert [row.layers_visible for row in found.rows] == [14, 14]
    like = {"steel": "dark", "thickness_mm": 3}
    joined = forged_recipe(plates(like, {"beside": ["five", "seven"]}, under, bars=bars))[1]
    assert [row.layers_visible for row in joined.rows] == [14, 12]


def test_heights_side_by_side_are_evened_by_volume() -> None:
    low = {"stack": {**PLAIN, "width_mm": 15, "plates": [{"steel": "dark", "thickness_mm": 9.8}]}}
    high = {"stack": {**PLAIN, "width_mm": 15, "plates": [{"steel": "bright", "thickness_mm": 10.2}]}}
    row = forged_recipe(plates({"beside": ["low", "high"]}, bars={"low": low, "high": high}))[1].rows[0]
    assert row.height_mm == pytest.approx(10.0, rel=CLOSE)
    kg = 7.85e-6 * 15.0 * 140.0
    assert row.mass_share["dark"] * row.mass_kg == pytest.approx(9.8 * kg, rel=CLOSE)
    assert row.mass_share["bright"] * row.mass_kg == pytest.approx(10.2 * kg, rel=CLOSE)


def test_a_step_lays_bars_side_by_side() -> None:
    bars = {"one": {"stack": {**PLAIN, "width_mm": 15}}}
    lay = ["piece", {"beside": ["one", "one"]}, "turned"]
    found = recipe(
        {**WELD, "width_mm": 30},
        {"do": "restack", "pieces": 2, "lay": lay},
        {**WELD, "height_mm": 40},
        bars=bars,
    )
    planned = plan(found)
    assert books(planned).open_share < CLOSE
    rows = planned.report.schedule
    assert rows[2].layers_laid == 9 + 2 + 9 and rows[2].added_kg > 0.0
    assert rows[2].height_mm == pytest.approx(24.0 + 10.0 + 24.0, abs=0.2)


def test_bars_within_bars_are_made_first_and_counted_together() -> None:
    bars = {
        "strand": {"stack": {**PLAIN, "width_mm": 15}},
        "pair": {
            "stack": {"width_mm": 30, "length_mm": 140, "plates": [{"beside": ["strand", "strand"]}]},
            "steps": [{**WELD, "height_mm": 8, "width_mm": 30}],
        },
    }
    found = plates({"bar": "pair"}, {"bar": "pair", "turned": True}, bars=bars)
    assert times_made(read_recipe(found)) == {"strand": 4, "pair": 2}
    planned = plan(found)
    assert [bar.name for bar in planned.report.bars] == ["strand", "pair"]
    assert books(planned).open_share < CLOSE and planned.report.schedule[-1].layers_laid == 4


REFUSED: list[tuple[str, dict[str, Any], str, str]] = [
    ("uneven heights", {"thickness_mm": 8.0}, "stack.plates[0]",
     "Stack, laid bar 1: the bars side by side are 10, 8 mm high; one height is wanted, within 5 %"),
    ("too narrow", {"width_mm": 12}, "stack.plates[0]",
     "Stack, laid bar 1: the bars side by side are 27 mm wide, and 30 mm are to be covered"),
    ("too wide", {"width_mm": 20}, "stack.plates[0]",
     "the bars side by side are 35 mm wide, the pile 30; 10 % is ground off at most"),
    ("too short", {"length_mm": 120}, "stack.plates[0]",
     "the bars side by side are 120 mm long, and 140 mm are to be covered"),
]  # fmt: skip


@pytest.mark.parametrize(("more", "where", "words"), [c[1:] for c in REFUSED], ids=[c[0] for c in REFUSED])
def test_bars_that_do_not_fit_are_refused(more: dict[str, float], where: str, words: str) -> None:
    one = {"stack": {**PLAIN, "width_mm": 15}}
    thickness_mm = more.get("thickness_mm", 10.0)
    sizes = {key: value for key, value in more.items() if key != "thickness_mm"}
    plate = [{"steel": "dark", "thickness_mm": thickness_mm}]
    other = {"stack": {**PLAIN, "width_mm": 15, "plates": plate, **sizes}}
    with pytest.raises(RecipeError) as caught:
        load(plates({"beside": ["one", "other"]}, bars={"one": one, "other": other}))
    assert (caught.value.faults[0].where, words in caught.value.faults[0].message) == (where, True), (
        caught.value
    )


def test_too_many_bars_across_are_refused() -> None:
    one = {"stack": {**PLAIN, "width_mm": 5}}
    odd = {"stack": {**PLAIN, "width_mm": 5.5}}
    rows = [{"beside": ["one"] * 5 + ["odd"]}, {"beside": ["odd"] + ["one"] * 5}, {"beside": ["one"] * 6}]
    with pytest.raises(RecipeError, match="more than 12 bars side by side"):
        load(plates(*rows, bars={"one": one, "odd": odd}))


def test_work_is_bounded_before_it_starts() -> None:
    """Four columns of more than 5000 layers each; four bars of more than 5000 layers together."""
    wide: dict[str, Any] = layered(9)
    again = {"do": "restack", "pieces": 60, "order": "same"}
    wide["stack"]["length_mm"] = 5000
    wide["steps"] += [again, {**WELD, "height_mm": 10, "width_mm": 30}]
    wide["steps"] += [{**again, "pieces": 10}, {**WELD, "height_mm": 10, "width_mm": 30}]
    narrow = {"stack": {**PLAIN, "width_mm": 7.5}}
    course = {"beside": ["narrow"] * 4}
    with pytest.raises(RecipeError, match="4 bars side by side of 5404 layers are too much to follow"):
        load(plates({"bar": "wide"}, course, bars={"wide": wide, "narrow": narrow}))
    chain = {"second": "first", "third": "second", "fourth": "third"}
    bars = {name: {"stack": {**PLAIN, "plates": [{"bar": inside}]}} for name, inside in chain.items()}
    with pytest.raises(
        RecipeError, match="more than 20000 layers in all bars together are not computed, got 27000"
    ):
        read_recipe(plates({"bar": "fourth"}, bars={"first": wide, **bars}))


def test_a_course_alone_lies_loose_until_it_is_welded() -> None:
    bars = {"one": {"stack": {**PLAIN, "width_mm": 15}}}
    found = plates({"beside": ["one", "one"]}, bars=bars)
    for steps, words in (
        ([], "lie loose at the end"),
        ([{"do": "grind", "per_face_mm": 1}], "lies loose; weld"),
    ):
        with pytest.raises(RecipeError, match=words):
            load({**found, "steps": steps})
    assert forged_recipe(found)[1].rows[0].loose and not forged_recipe(found)[1].rows[1].loose


def test_every_way_of_writing_gives_the_same_recipe() -> None:
    read = parse_recipe(twin())
    again = parse_recipe(load_recipe_text(recipe_to_toml(read.given)))
    assert again == read and again.recipe_id == read.recipe_id
    assert '"beside":["left","right","rim"]' in canonical_json(read.given)
    assert read.with_("bars.left.steps[2].turns", -4).bars["left"].steps[2].turns == -4  # type: ignore[union-attr]


def test_what_a_made_bar_has_to_tell_names_it() -> None:
    cold = twin()
    cold["bars"]["left"]["steps"][2]["temperature_c"] = 900
    cold["bars"]["right"]["steps"][0]["temperature_c"] = 1290
    told = {(n.code, n.where): n.text for n in plan(cold).report.notices}
    assert told["twist-cold", "bars.left.steps[2]"].startswith("Bar left, step 3 (twist) at 900")
    assert told["near-burning", "bars.right.steps[0]"].startswith("Bar right, step 1 (weld) at 1290")
    side = [text for (code, _), text in told.items() if code == "side-seams"]
    assert side == [
        "Stack: left, right and rim lie side by side; carbon across the seams between them is not computed, "
        "each is followed for itself, and what scale and grinding take off the sides is taken from all of "
        "them by their width"
    ]


def test_heats_left_open_in_a_made_bar_are_filled_in_and_told() -> None:
    found = twin()
    for step in found["bars"]["left"]["steps"]:
        step.pop("heats", None)
    read = load(found)
    assert read.bars["left"].steps[1].heats == 4  # type: ignore[union-attr]
    assert "bars.left.steps[1].heats = 4" in read.defaults_used


def test_what_rests_on_practice_and_own_construction_is_cited() -> None:
    used = {row.key: row.used_for for row in plan(twin()).report.sources}
    assert "how square, how tight and how hot a bar is twisted" in used["common-practice"]
    assert "bars side by side, each followed for itself" in used["own-construction"]
    assert "carbon of layers that reach every face alike" in used["own-construction"]


def test_a_sheet_of_each_bar_stands_before_that_of_the_whole() -> None:
    text = sheet_text(build_sheet(plan(twin()).report, "forge"))
    places = [
        text.index(word) for word in ("First bar left", "First bar right", "First bar rim", "Lay 1 course")
    ]
    assert places == sorted(places)
    assert "8 turns to the left, one in" in text and "8 turns to the right" in text
    assert "From the bottom up: side by side bars left, right and rim." in text


def test_other_analyses_move_through_all_bars() -> None:
    """A little more carbon in a made bar's steel comes out of the whole, and nowhere else but there."""
    found = plan(twin())
    changed = dict(found.metal.compositions)
    changed["edge"] = changed["edge"].with_carbon(changed["edge"]["C"] + 0.05)
    moved = diffused(found.recipe, found.forged, changed)
    before, after = found.metal.moved.steps[-1].carbon_wt, moved.moved.steps[-1].carbon_wt
    assert after["edge"] - before["edge"] == pytest.approx(0.05, abs=0.005)
    assert after["dark"] == pytest.approx(before["dark"], abs=1e-12)


def test_bent_bars_among_flat_plates_are_told() -> None:
    square = {"do": "draw", **FIRE, "height_mm": 12, "width_mm": 12.5}
    bars = {"cord": {"stack": layered()["stack"], "steps": [{**WELD, "height_mm": 12}, square, TWIST]}}
    plate = {"steel": "bright", "thickness_mm": 3}
    stack = {"width_mm": 12, "length_mm": 200, "plates": [{"bar": "cord"}, plate]}
    found = plan({**recipe({**WELD, "height_mm": 12}), "steels": STEELS, "bars": bars, "stack": stack})
    assert [n.where for n in found.report.notices if n.code == "bent-among-flat"] == ["stack.plates"]
    assert not found.forged.final.alike and books(found).open_share < CLOSE
