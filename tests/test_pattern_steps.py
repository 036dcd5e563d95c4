"""Steps that make a pattern: volumes, lengths and marks from closed forms; layers by volume; refusals."""

import itertools
import math
from typing import Any

import numpy as np
import pytest
from pattern_recipes import (
    BLOCK,
    DIMPLE,
    FIRE,
    FLAT,
    GROOVE,
    PILLAR,
    PRESS,
    SEALED,
    SPLIT,
    SQUARE,
    TWIST,
    WELD,
    forged,
    recipe,
)

from billet import load, plan
from billet.errors import RecipeError
from billet.forging.cut_shapes import Cut, carved_mm
from billet.forging.model import ForgedRow
from billet.forging.solid import Carved, Dragged, Pressed, Stood, Taken, Twisted

CLOSE = 1e-9
STEEL_KG_MM3 = 7.85e-6


def volume_mm3(row: ForgedRow) -> float:
    return row.solid_height_mm * row.width_mm * row.length_mm


def marks(row: ForgedRow, face: str) -> list[float]:
    return [mm for line in row.marks if line.face == face for mm in line.along_mm]


def test_a_twist_keeps_the_size_but_for_scale() -> None:
    rows = forged(WELD, SQUARE, {**TWIST, **SEALED}).rows
    for size in ("height_mm", "width_mm", "length_mm", "mass_kg"):
        assert getattr(rows[3], size) == pytest.approx(getattr(rows[2], size), rel=CLOSE)
    assert rows[3].layers_visible == rows[2].layers_visible == 9
    change = forged(WELD, SQUARE, {**TWIST, "turns": -6}).changes[-1]
    assert isinstance(change, Twisted) and change.turns == -6.0


def test_scale_and_grinding_after_a_twist_take_all_layers_in_proportion() -> None:
    """1 mm off each face of 18 mm: every layer keeps 8 / 9 of its volume, none vanishes."""
    steps = (WELD, SQUARE, {**TWIST, **SEALED})
    made, ground = forged(*steps), forged(*steps, {"do": "grind", "per_face_mm": 1.0})
    before, after = made.final.layers, ground.final.layers
    assert len(before) == len(after) == 9 and ground.rows[-1].alike and ground.rows[-1].layers == ()
    for thick, thin in zip(before, after, strict=True):
        assert thin.steel == thick.steel and thin.thickness_mm == pytest.approx(
            thick.thickness_mm * 16.0 / 18.0
        )
    assert ground.rows[-1].mass_share == pytest.approx(made.rows[-1].mass_share)
    flat = forged(WELD, SQUARE, {"do": "grind", "per_face_mm": 1.0}).rows
    assert flat[3].layers[0][1] == pytest.approx(flat[2].layers[0][1] - 1.0)


def test_scale_comes_off_both_sides_alike_once_the_layers_are_twisted() -> None:
    draw = {"do": "draw", "temperature_c": 1050, "minutes": 6, "heats": 2, "height_mm": 12, "width_mm": 20}
    changes = forged(WELD, SQUARE, TWIST, draw).changes
    turned = next(place for place, change in enumerate(changes) if isinstance(change, Twisted))
    scaled = [change for change in changes[turned + 1 :] if isinstance(change, Taken)]
    assert scaled
    for change in scaled:
        before, after = (
            np.array([size.width_mm, size.height_mm, size.length_mm])
            for size in (change.before, change.after)
        )
        assert np.array(change.low_mm) == pytest.approx(0.5 * (before - after), rel=1e-12)


def test_the_volume_of_grooves_is_half_of_depth_times_width() -> None:
    """A raised cosine; 28 above and 27 between them below on 349.65 mm at a pitch of 12 mm."""
    rows = forged(WELD, SQUARE, GROOVE, FLAT).rows
    top, bottom = marks(rows[3], "top"), marks(rows[3], "bottom")
    count = math.floor((rows[2].length_mm - 8.0) / 12.0) + 1
    assert (len(top), len(bottom)) == (count, count - 1)
    gone_mm3 = (len(top) + len(bottom)) * 0.5 * 4.0 * 8.0 * 18.0
    assert rows[3].lost_kg.cut == pytest.approx(gone_mm3 * STEEL_KG_MM3, rel=CLOSE)
    assert volume_mm3(rows[2]) - volume_mm3(rows[3]) == pytest.approx(gone_mm3, rel=CLOSE)
    assert rows[3].height_mm == pytest.approx(18.0, rel=CLOSE) and rows[3].layers_visible == 9
    assert rows[4].solid_height_mm == pytest.approx(rows[4].height_mm, rel=CLOSE)


def test_grooves_lie_even_about_the_middle_and_those_below_between_them() -> None:
    row = forged(WELD, SQUARE, GROOVE, FLAT).rows[3]
    top, bottom = marks(row, "top"), marks(row, "bottom")
    assert top[0] - 4.0 == pytest.approx(row.length_mm - (top[-1] + 4.0)) and top[0] >= 4.0
    assert [b - a for a, b in itertools.pairwise(top)] == pytest.approx([12.0] * (len(top) - 1))
    assert bottom == pytest.approx([mm + 6.0 for mm in top[:-1]])
    alike = forged(WELD, SQUARE, {**GROOVE, "offset": False}, FLAT).rows[3]
    assert marks(alike, "bottom") == marks(alike, "top")
    one = forged(WELD, SQUARE, {**GROOVE, "faces": "bottom"}, FLAT).rows[3]
    assert marks(one, "top") == [] and len(marks(one, "bottom")) == len(top)


def test_the_volume_of_dimples_is_that_of_caps_of_a_ball() -> None:
    """pi d (3 a^2 + d^2) / 6 for each; each a pitch away from its neighbours."""
    rows = forged(WELD, SQUARE, DIMPLE, FLAT).rows
    lines = rows[3].marks
    count = sum(len(line.along_mm) for line in lines)
    cap_mm3 = math.pi * 2.0 * (3.0 * 3.0**2 + 2.0**2) / 6.0
    assert rows[3].lost_kg.cut == pytest.approx(count * cap_mm3 * STEEL_KG_MM3, rel=CLOSE)
    top = [(line.across_mm, mm) for line in lines if line.face == "top" for mm in line.along_mm]
    apart = [math.dist(a, b) for a, b in itertools.combinations(top, 2)]  # type: ignore[arg-type]
    assert min(apart) == pytest.approx(8.0)
    for across_mm, along_mm in top:
        assert across_mm is not None and 3.0 <= across_mm <= 15.0
        assert 3.0 <= along_mm <= rows[3].length_mm - 3.0
    square = forged(WELD, SQUARE, {**DIMPLE, "staggered": False}, FLAT).rows[3]
    assert len({line.along_mm for line in square.marks}) == 1


@pytest.mark.parametrize(("step", "round_"), [(GROOVE, False), (DIMPLE, True)])
def test_each_layer_loses_what_lies_in_its_depth(step: dict[str, Any], round_: bool) -> None:
    """The metal that each layer loses against the shape of a mark, added up over the face at many places."""
    made = forged(WELD, SQUARE, {**step, "faces": "top"}, FLAT)
    before, after = made.rows[2], made.rows[3]
    cut = next(change.top for change in made.changes if isinstance(change, Carved))
    assert cut is not None and cut.round is round_
    even = (np.arange(400_000) + 0.5) / 400_000
    depth_mm = cut.depth_at_mm(0.5 * cut.width_mm * (np.sqrt(even) if round_ else even))
    kept_mm, top_mm = {"dark": 0.0, "bright": 0.0}, 0.0
    for name, thickness_mm in reversed(before.layers):
        kept_mm[name] += thickness_mm - cut.share * np.clip(depth_mm - top_mm, 0.0, thickness_mm).mean()
        top_mm += thickness_mm
    assert after.solid_height_mm == pytest.approx(sum(kept_mm.values()), abs=2e-5)
    for name, left_mm in kept_mm.items():
        assert after.mass_share[name] == pytest.approx(left_mm / sum(kept_mm.values()), abs=2e-6)


def test_cuts_of_both_faces_add_up() -> None:
    cut = Cut(3.0, 10.0, 0.7, False)
    layers = np.array([1.0, 2.0, 4.0, 3.0, 0.5])
    kept = carved_mm(layers, cut, cut)
    assert layers.sum() - kept.sum() == pytest.approx(2.0 * cut.mean_mm, rel=1e-12)
    assert cut.mean_mm == pytest.approx(0.7 * 3.0 / 2.0, rel=1e-12)
    assert kept[2] == pytest.approx(4.0) and np.all(kept < layers + 1e-12)


def test_a_later_draw_flattens_what_was_cut_in() -> None:
    rows = forged(WELD, SQUARE, GROOVE, {**FLAT, **SEALED, "heats": 3}).rows
    assert rows[4].each_heat[0].height_mm <= rows[3].solid_height_mm < rows[3].height_mm
    assert volume_mm3(rows[4]) == pytest.approx(volume_mm3(rows[3]), rel=CLOSE)
    assert rows[4].length_mm == pytest.approx(volume_mm3(rows[3]) / (7.0 * 20.0), rel=CLOSE)


def test_a_die_makes_the_bar_longer_by_what_it_displaces() -> None:
    """The height between the marks stays: L' = L + n w d / (2 H), and then d goes off each face."""
    rows = forged(WELD, SQUARE, {**PRESS, **SEALED}).rows
    count = sum(len(line.along_mm) for line in rows[3].marks)
    length_mm = rows[2].length_mm + count * 8.0 * 3.0 / (2.0 * 18.0)
    assert rows[3].length_mm == pytest.approx(length_mm, rel=CLOSE)
    assert rows[3].height_mm == pytest.approx(18.0 - 2.0 * 3.0, rel=CLOSE)
    ground_mm3 = volume_mm3(rows[2]) - 12.0 * 18.0 * length_mm
    assert rows[3].lost_kg.grind == pytest.approx(ground_mm3 * STEEL_KG_MM3, rel=1e-6)
    change = next(c for c in forged(WELD, SQUARE, PRESS).changes if isinstance(c, Pressed))
    assert (
        change.pressed.height_mm == change.before.height_mm
        and change.pressed.length_mm > change.before.length_mm
    )


def test_a_bar_stood_on_end_exchanges_height_and_length() -> None:
    made = forged(*BLOCK)
    before, after = made.rows[3], made.rows[4]
    assert (after.height_mm, after.length_mm) == (before.length_mm, before.height_mm)
    assert (after.width_mm, after.mass_kg) == (before.width_mm, pytest.approx(before.mass_kg))
    assert isinstance(made.changes[-1], Stood) and made.final.alike and made.final.through == "length"
    twice = forged(*BLOCK, {"do": "stand"}).final
    assert twice.through == "height" and twice.height_mm == pytest.approx(before.height_mm)


def test_a_draw_of_a_bar_on_end_makes_its_layers_thicker() -> None:
    rows = forged(*BLOCK, {"do": "draw", **SEALED, "height_mm": 20, "width_mm": 18}).rows
    stretched = rows[5].length_mm / rows[4].length_mm
    assert stretched == pytest.approx(60.0 / 20.0, rel=CLOSE)
    assert rows[5].layer_um.mean == pytest.approx(rows[4].layer_um.mean * stretched, rel=CLOSE)


def test_a_split_crops_the_drag_off_the_ends() -> None:
    steps = (*BLOCK, {"do": "draw", **SEALED, "height_mm": 20, "width_mm": 18}, {**SPLIT, **SEALED})
    made = forged(*steps)
    before, after = made.rows[5], made.rows[6]
    assert after.length_mm == pytest.approx(before.length_mm - 15.0, rel=CLOSE)
    assert after.lost_kg.trim == pytest.approx(before.mass_kg * 15.0 / before.length_mm, rel=CLOSE)
    assert isinstance(made.changes[-1], Dragged) and after.layers_visible == before.layers_visible


def test_changes_fit_together_and_end_as_the_rows_do() -> None:
    for steps in (
        (WELD, SQUARE, TWIST, FLAT),
        (WELD, SQUARE, GROOVE, FLAT),
        (*PILLAR, SPLIT),
        (WELD, SQUARE, PRESS),
    ):
        made = forged(*steps)
        for one, after in itertools.pairwise(made.changes):
            assert after.before is not None
            for size in ("width_mm", "height_mm", "length_mm"):
                assert getattr(one.after, size) == pytest.approx(getattr(after.before, size), rel=1e-12)
        last = made.changes[-1].after
        row = made.rows[-1]
        told = (last.width_mm, last.height_mm, last.length_mm)
        assert told == pytest.approx((row.width_mm, row.height_mm, row.length_mm), rel=1e-12)


def test_mass_closes_with_every_loss_named() -> None:
    for steps in (
        (WELD, SQUARE, TWIST, FLAT),
        (WELD, SQUARE, DIMPLE, FLAT),
        (*PILLAR, SPLIT),
        (WELD, SQUARE, PRESS),
    ):
        for before, after in itertools.pairwise(forged(*steps).rows):
            gone = sum(vars(after.lost_kg).values()) - after.added_kg
            assert before.mass_kg - gone == pytest.approx(after.mass_kg, rel=CLOSE)


REFUSED: list[tuple[str, list[dict[str, Any]], str, str]] = [
    ("a flat bar twisted", [WELD, {**SQUARE, "width_mm": 25}, TWIST], "steps[2].turns",
     "Step 3 (twist): the bar is 18 mm high and 25 mm wide: a twist wants it square within 10 %"),
    ("no turn", [WELD, SQUARE, {**TWIST, "turns": 0}], "steps[2].turns", "no turn makes no twist"),
    ("a groove to the half", [WELD, SQUARE, {**GROOVE, "depth_mm": 9.0}, FLAT], "steps[2].depth_mm",
     "Step 3 (groove): deeper than the half of the bar, 9 mm, got 9 mm"),
    ("grooves wider than the pitch", [WELD, SQUARE, {**GROOVE, "width_mm": 13}, FLAT], "steps[2].width_mm",
     "Step 3 (groove): no wider than the pitch, 12 mm, got 13"),
    ("a die wider than the pitch", [WELD, SQUARE, {**PRESS, "width_mm": 13}], "steps[2].width_mm",
     "Step 3 (press): no wider than the pitch"),
    ("a die through the bar", [WELD, SQUARE, {**PRESS, "depth_mm": 9.5}], "steps[2].depth_mm",
     "Step 3 (press): deeper than the half of the bar"),
    ("dimples that meet", [WELD, SQUARE, {**DIMPLE, "diameter_mm": 9}, FLAT], "steps[2].diameter_mm",
     "Step 3 (dimple): a dimple 9 mm wide meets its neighbour: the pitch is 8 mm"),
    ("a dimple like a hole", [WELD, SQUARE, {**DIMPLE, "depth_mm": 3.5}, FLAT], "steps[2].depth_mm",
     "Step 3 (dimple): a dimple is at most half as deep as it is wide"),
    ("too many marks", [WELD, SQUARE, {**DIMPLE, "pitch_mm": 2, "diameter_mm": 1, "depth_mm": 0.4}, FLAT],
     "steps[2].pitch_mm", "Step 3 (dimple): more than 2000 marks are not computed"),
    ("ground while open", [WELD, SQUARE, GROOVE, {"do": "grind", "per_face_mm": 1}], "steps[3]",
     "Step 4 (grind): the grooves lie open; forge the bar flat first (draw)"),
    ("open at the end", [WELD, SQUARE, DIMPLE], "steps[2]",
     "Step 3 (dimple): the dimples lie open at the end; forge the bar flat in a step after it (draw)"),
    ("grooves not closed", [WELD, SQUARE, GROOVE, {**FLAT, "height_mm": 17}], "steps[3].height_mm",
     "Step 4 (draw): the metal fills 15"),
    ("split while flat", [WELD, SQUARE, SPLIT], "steps[2]",
     "Step 3 (split): the layers must lie across the bar first: stand it on end (stand)"),
    ("split too far", [*BLOCK, {**SPLIT, "drag_mm": 30}], "steps[4].drag_mm",
     "Step 5 (split): the drag must be less than half of the length"),
    ("restacked on end", [*BLOCK, {"do": "restack", "pieces": 2, "order": "same"}, WELD], "steps[4]",
     "Step 5 (restack): the bar was stood on end; mosaic stacks are not computed"),
    ("too long to stand", [WELD, {**SQUARE, "height_mm": 14, "width_mm": 14}, {"do": "stand"}], "steps[2].do",
     "Step 3 (stand): a bar of 5"),
    ("loose", [TWIST], "steps[0]", "Step 1 (twist): the stack lies loose; weld the stack first"),
    ("melted", [WELD, SQUARE, {**TWIST, "temperature_c": 1500}], "steps[2].temperature_c", "1500 C melts it"),
]  # fmt: skip


@pytest.mark.parametrize(("steps", "where", "words"), [c[1:] for c in REFUSED], ids=[c[0] for c in REFUSED])
def test_what_no_hand_does_is_refused_with_its_reason(
    steps: list[dict[str, Any]], where: str, words: str
) -> None:
    with pytest.raises(RecipeError) as caught:
        load(recipe(*steps))
    found = [(fault.where, fault.message) for fault in caught.value.faults]
    assert any(at == where and words in told for at, told in found), found


def test_a_mark_that_finds_no_room_is_refused() -> None:
    short = {"do": "crop", "length_mm": 30}
    for step in ({**GROOVE, "pitch_mm": 60, "width_mm": 40}, {**DIMPLE, "pitch_mm": 40, "diameter_mm": 25}):
        with pytest.raises(RecipeError, match="not one finds room"):
            load(recipe(WELD, SQUARE, short, step, FLAT))


def test_a_tight_a_cold_and_a_sharp_twist_are_told() -> None:
    def codes(**more: Any) -> set[str]:
        return {f.reason.code for f in forged(WELD, SQUARE, {**TWIST, **more}).findings}

    assert not {"twist-tight", "twist-cold", "twist-corners"} & codes()
    assert "twist-tight" in codes(turns=-20)
    assert "twist-cold" in codes(temperature_c=900)
    assert "twist-corners" in codes(rounded=False)


@pytest.mark.parametrize(
    ("cut", "closes_mm"),
    [(GROOVE, 14.0), ({**GROOVE, "offset": False}, 10.0), ({**GROOVE, "offset": False, "faces": "top"}, 14.0),
     (DIMPLE, 14.0), ({**DIMPLE, "faces": "bottom"}, 16.0)],
)  # fmt: skip
def test_hollows_that_may_stay_are_told(cut: dict[str, Any], closes_mm: float) -> None:
    """Forged down to the metal that is left at the deepest place, they close all over."""
    for height_mm, told in ((closes_mm - 0.01, False), (closes_mm + 0.1, True)):
        draw = {"do": "draw", **SEALED, "height_mm": height_mm, "width_mm": 14}
        found = forged(WELD, SQUARE, cut, draw).findings
        assert ("hollows-may-stay" in {f.reason.code for f in found}) is told


def test_the_doubt_is_told_once_and_in_words() -> None:
    report = plan(recipe(WELD, SQUARE, TWIST, GROOVE, {**FLAT, **FIRE})).report
    told = [n for n in report.notices if n.code == "layers-alike"]
    assert [n.where for n in told] == ["steps[2]"] and "by volume" in told[0].text
    stood = [n.code for n in plan(recipe(*PILLAR, SPLIT)).report.notices]
    assert stood.count("stood-on-end") == 1 and "layers-alike" not in stood


def test_recipes_without_such_steps_forge_as_before() -> None:
    """Sizes of a plain recipe as they were before these steps came; its carbon as the fires give it since."""
    found = plan("recipes/doorstep_folded.toml")
    last = found.forged.rows[-1]
    assert (last.height_mm, last.width_mm) == (pytest.approx(7.0), pytest.approx(OLD["width_mm"], rel=1e-9))
    assert last.length_mm == pytest.approx(OLD["length_mm"], rel=1e-9)
    assert last.mass_kg == pytest.approx(OLD["mass_kg"], rel=1e-9)
    assert found.metal.moved.steps[-1].mean_wt == pytest.approx(OLD["carbon_wt"], rel=1e-7)


OLD = {
    "width_mm": 35.0, "length_mm": 323.7273501113501, "mass_kg": 0.6226086261016537,
    "carbon_wt": 0.7183317839558794,
}  # fmt: skip
