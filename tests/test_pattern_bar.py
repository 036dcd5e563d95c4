"""The solid of a bar against its books, and the pictures against what flat layers and turns must show."""

import math
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from figure_recipes import FIGURES, FLAT, GROOVES, SQUARE, TWIST, drawn_to, stacked
from pattern_recipes import FIRE

from billet import (
    BilletError,
    FaceAsked,
    OutOfDomain,
    Planned,
    face,
    face_bar,
    face_view,
    first_views,
    load,
    plan,
)
from billet.pattern.cost import pixel_ns
from billet.pattern.points import Points, at
from billet.pattern.solid import Flat, Pile, Plain, Solid, Worked, traced

Floats = npt.NDArray[np.float64]
RECIPES = Path(__file__).parent.parent / "recipes"
WORKED = tuple(FIGURES)


@cache
def planned(name: str) -> Planned:
    return plan(FIGURES[name] if name in FIGURES else load(RECIPES / f"{name}.toml"))


def scattered(bar: Planned, count: int = 30_000) -> Points:
    """Points even over the whole volume."""
    size, lots = bar.solid.size, np.random.default_rng(11).random((3, count))
    return at(size.width_mm * (lots[0] - 0.5), size.height_mm * lots[1], size.length_mm * lots[2])


def bright_at(solid: Solid, points: Points) -> Floats:
    """1 where the metal at a point is bright, 0 where it is dark, without the hand."""
    match solid:
        case Plain(grey):
            return np.full(points.x.shape, float(grey > 0.5))
        case Worked(maps, inner):
            return bright_at(inner, traced(maps, points))
        case Flat(grey, _):
            index = np.clip(points.y / grey.height_mm * len(grey.cells), 0, len(grey.cells) - 1)
            found: Floats = (grey.cells[index.astype(np.intp)] + grey.mean > 0.5).astype(np.float64)
            return found
        case Pile(boxes):
            bright = np.full(points.x.shape, np.nan)
            for box in boxes:
                inside = (points.x >= box.left_mm) & (points.x <= box.right_mm)
                inside &= (points.y >= box.bottom_mm - 1e-9) & (points.y <= box.top_mm + 1e-9)
                here = Points(*(np.broadcast_to(each, inside.shape)[inside] for each in points))
                bright[inside] = bright_at(box.inner, traced(box.into, here))
            return bright


@pytest.mark.parametrize("name", WORKED)
def test_the_share_of_each_steel_is_that_of_the_books(name: str) -> None:
    """At random points of the volume. What is cropped off a bar that stands on end, or ground off above the
    marks of a die, is a few of its layers, and the books take all alike: the shares are a little apart."""
    apart = {"feather": 0.03, "pressed": 0.015}.get(name, 0.01)
    bar = planned(name)
    told = bar.forged.rows[-1].mass_share["bright"]
    found = bright_at(bar.solid.solid, scattered(bar))
    assert np.all(np.isfinite(found))
    assert float(np.mean(found)) == pytest.approx(told, abs=apart)


@pytest.mark.parametrize("name", [n for n in WORKED if n != "side by side"])
def test_the_whole_chain_keeps_volume(name: str) -> None:
    bar = planned(name)
    solid = bar.solid.solid
    if isinstance(solid, Flat):
        assert bar.solid.size.height_mm == pytest.approx(solid.grey.height_mm)
        return
    assert isinstance(solid, Worked)
    points = scattered(bar, 3000)
    columns = []
    for axis in range(3):
        ahead, behind = list(points), list(points)
        ahead[axis], behind[axis] = ahead[axis] + 0.02, behind[axis] - 0.02
        there, back = traced(solid.maps, Points(*ahead)), traced(solid.maps, Points(*behind))
        columns.append(
            np.stack([np.broadcast_to(a - b, points.x.shape) for a, b in zip(there, back, strict=True)])
        )
    off = np.abs(np.linalg.det(np.moveaxis(np.stack(columns) / 0.04, 2, 0)) - 1.0)
    assert np.median(off) < 0.01 and np.quantile(off, 0.9) < 0.06


@pytest.mark.parametrize("name", ["twist", "ladder", "raindrop", "pressed"])
def test_the_length_of_the_books_is_that_of_the_map(name: str) -> None:
    """Both ends lead back to the ends of the bar as it last lay flat, but for what scale took of them, and
    for the part of a mark by which the cell of a relief is out of step with an end."""
    bar = planned(name)
    solid = bar.solid.solid
    assert isinstance(solid, Worked) and isinstance(solid.inner, Flat)
    length = bar.solid.size.length_mm
    ends = traced(solid.maps, at([0.0, 0.0], 0.5 * bar.solid.size.height_mm, [0.0, length]))
    before = bar.forged.rows[2].length_mm
    assert -0.2 < ends.z[0] < 0.5 and before - 0.8 < ends.z[1] < before + 0.2


def runs(line: Floats) -> int:
    """How many stretches of bright and dark a line of pixels shows."""
    bright = line > 0.5
    return 1 + int(np.sum(bright[1:] != bright[:-1]))


@pytest.mark.parametrize("name", ["flat", "reed_bed_kitchen", "doorstep_folded"])
def test_layers_along_a_line_are_those_of_the_report(name: str) -> None:
    """Stacked, restacked, folded: the edge of an even bar shows every layer once."""
    bar = planned(name)
    picture = face(bar, FaceAsked("edge", width_px=3000, length_mm=16.0, hand=False))
    assert {runs(column) for column in picture.grey[:, ::500].T} == {bar.forged.rows[-1].layers_visible}


@pytest.mark.parametrize("half_angle", [3.0, 8.0])
def test_lines_on_a_bevel_lie_t_over_sin_a_apart(half_angle: float) -> None:
    bar = planned("flat")
    size = bar.solid.size
    asked = FaceAsked("bevel", 1000, ground_mm=0.5, hand=False, half_angle_deg=half_angle, length_mm=10.0)
    picture = face(bar, asked)
    sine = math.sin(math.radians(half_angle))
    thickness = size.height_mm - 1.0
    middle = 0.5 * size.height_mm
    edges = np.cumsum([layer.thickness_mm for layer in bar.forged.final.layers])[:-1]
    flank_mm = picture.facts.high_mm
    reach = min(0.5 * thickness, flank_mm * sine)
    expected = [flank_mm - (y - middle) / sine for y in edges if 0.02 < y - middle < reach - 0.02]
    line = picture.grey[:, 500] > 0.5
    bevel_from = flank_mm - reach / sine + 0.02 / sine
    changes = np.flatnonzero(line[1:] != line[:-1]) + 1
    found = [c * picture.facts.mm_per_px for c in changes if c * picture.facts.mm_per_px > bevel_from]
    assert len(expected) > 2
    assert sorted(found) == pytest.approx(sorted(expected), abs=0.12)


def test_a_flat_bar_without_the_hand_is_one_plate() -> None:
    picture = face(planned("flat"), FaceAsked("face", 300, hand=False))
    assert float(np.ptp(picture.grey)) < 1e-9
    assert "even plate" in picture.alt and "perfectly even" in picture.alt


def test_the_hand_is_that_of_the_recipe() -> None:
    bar = planned("flat")
    first, again = (face(bar, FaceAsked("face", 200)).grey for _ in range(2))
    other = face(plan(bar.recipe.with_("stack.length_mm", 141.0)), FaceAsked("face", 200)).grey
    assert np.array_equal(first, again)
    assert np.mean(np.abs(first - other)) > 0.1
    assert float(np.ptp(first)) > 0.5


def test_a_twist_repeats_after_half_a_turn() -> None:
    """Fifteen plates alike from both sides: half a turn on the face is itself again."""
    bar = planned("twist")
    repeat = bar.solid.figure.repeat_mm
    assert repeat is not None
    length = 3.0 * repeat
    picture = face(bar, FaceAsked("face", 1200, ground_mm=1.5, hand=False, length_mm=length))
    half = 1200 // 6
    assert np.mean(np.abs(picture.grey[:, :-half] - picture.grey[:, half:])) < 0.02
    quarter = half // 2
    assert np.mean(np.abs(picture.grey[:, :-quarter] - picture.grey[:, quarter:])) > 0.2


def test_turns_to_the_left_are_the_mirror_of_turns_to_the_right() -> None:
    right = planned("twist")
    left = plan(stacked(13, SQUARE, {**TWIST, "turns": -12}, FLAT))
    seen = [face(bar, FaceAsked("face", 600, hand=False, from_mm=0.0)).grey for bar in (right, left)]
    assert np.mean(np.abs(seen[0] - seen[1][::-1])) < 0.02 < np.mean(np.abs(seen[0] - seen[1]))


def test_grooves_come_again_after_their_pitch() -> None:
    bar = planned("ladder")
    repeat = bar.solid.figure.repeat_mm
    assert repeat is not None
    grey = face(bar, FaceAsked("face", 1000, hand=False, length_mm=4.0 * repeat)).grey
    assert np.mean(np.abs(grey[:, :750] - grey[:, 250:])) < 0.02
    assert float(np.ptp(grey.mean(axis=0))) > 0.5, "rungs lie right across the bar"
    assert float(np.max(np.ptp(grey, axis=0))) < 1e-6


def test_more_ground_off_is_another_figure_and_grinding_through_is_refused() -> None:
    bar = planned("twist")
    near, deep = (face(bar, FaceAsked("face", 400, ground_mm=mm)) for mm in (0.3, 3.0))
    assert np.mean(np.abs(near.grey - deep.grey)) > 0.2
    assert "bands" in near.alt and "stars" in deep.alt
    for wrong in (6.5, -0.1, float("nan")):
        with pytest.raises(OutOfDomain, match="ground off"):
            face_view(bar, FaceAsked("face", ground_mm=wrong))


@pytest.mark.parametrize(
    "asked",
    [
        FaceAsked(width_px=5),
        FaceAsked(width_px=100_000),
        FaceAsked("end", 6000, ground_mm=0.0),
        FaceAsked("side"),  # type: ignore[arg-type]
        FaceAsked("bevel", half_angle_deg=0.0),
        FaceAsked("bevel", blade_width_mm=400.0),
        FaceAsked(from_mm=-1.0),
        FaceAsked(length_mm=0.0),
    ],
)
def test_what_cannot_be_drawn_is_refused_before_work(asked: FaceAsked) -> None:
    bar = plan(stacked(13, SQUARE))
    with pytest.raises(OutOfDomain):
        face_view(bar, asked)


def between(bar: Planned) -> float:
    """Share of the metal whose grey lies between those of the two steels."""
    solid = bar.solid.solid
    while isinstance(solid, Worked):
        solid = solid.inner
    assert isinstance(solid, Flat)
    cells = solid.grey.cells
    low, high = float(np.min(cells)), float(np.max(cells))
    return float(np.mean((cells > low + 0.2 * (high - low)) & (cells < high - 0.2 * (high - low))))


def test_what_a_fire_after_the_twist_spreads_is_seen() -> None:
    short, long = (plan(stacked(13, SQUARE, TWIST, dict(FLAT, minutes=m))) for m in (4, 400))
    assert between(long) > 2.0 * between(short) > 0.0


def test_more_cuts_than_are_drawn_are_refused() -> None:
    again = []
    for cut in range(12):
        again += [dict(GROOVES, depth_mm=0.2), drawn_to(19.2 - 0.8 * cut, 34.0)]
    with pytest.raises(OutOfDomain, match="at most 10, got 12"):
        face(stacked(15, drawn_to(20.0, 34.0), *again))


def test_what_a_pixel_costs_grows_with_the_work() -> None:
    flat, groove, twist = (pixel_ns(planned(name).solid.solid) for name in ("flat", "ladder", "twist"))
    beside = pixel_ns(planned("side by side").solid.solid)
    assert flat < groove < twist < beside < 10.0 * flat


def test_a_disturbed_bar_is_told_and_not_drawn() -> None:
    other = {"do": "other", "what": "struck with a texture hammer", "temperature_c": 1000, "minutes": 2}
    with pytest.raises(BilletError, match="step 3 disturbs"):
        first_views(plan(stacked(13, SQUARE, other)))


@pytest.mark.parametrize("name", WORKED)
def test_every_first_view_is_true_to_scale_and_told_in_words(name: str) -> None:
    bar = planned(name)
    for asked in first_views(bar):
        view = face_view(bar, asked)
        facts = view.facts
        assert facts.high_mm / facts.rows == pytest.approx(facts.mm_per_px, rel=0.01)
        assert view.alt.count("ground off") == 1 and view.alt.endswith(".")
        inch = face_view(bar, asked, "inch").alt
        assert "\u202fin" in inch and "\u202fmm" not in inch


def test_the_words_name_the_figure() -> None:
    words = {
        "flat": "map", "twist": "bands", "ladder": "ladder", "raindrop": "raindrops", "pressed": "ladder",
        "feather": "feather", "side by side": "3 side by side",
    }  # fmt: skip
    assert words.keys() == FIGURES.keys()
    for name, word in words.items():
        assert word in face_view(planned(name), "face").alt


def test_a_plain_edge_lies_where_it_was_laid() -> None:
    """To the right, which is down in the picture of the face: one dark strip."""
    bar = planned("side by side")
    grey = face(bar, FaceAsked("face", 800, ground_mm=3.0)).grey
    third = len(grey) // 4
    assert float(np.ptp(grey[-third:])) < 0.1 < 0.5 < float(np.ptp(grey[:third]))


def test_a_picture_needs_no_plan_and_is_the_same() -> None:
    asked = FaceAsked("bevel", 120)
    bar = face_bar(FIGURES["ladder"])
    assert np.array_equal(face(bar, asked).grey, face(planned("ladder"), asked).grey)
    assert first_views(bar) == first_views(planned("ladder"))


def test_the_solid_is_made_once() -> None:
    bar = planned("ladder")
    assert bar.solid is bar.solid


def test_a_tall_bar_is_first_shown_as_wide_as_may_be_drawn() -> None:
    steps = [{"do": "crop", "length_mm": 70}, {"do": "stand"}, {"do": "draw", **FIRE, "height_mm": 60}]
    bar = face_bar(stacked(13, SQUARE, *steps))
    shown = [face_view(bar, asked).png_size for asked in first_views(bar)]
    assert min(columns for columns, _ in shown) < 1200 == max(columns for columns, _ in shown)
