"""Carbon of bars whose layers reach every face alike: closed books, the skin, and the edge that sees all."""

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
    books,
    recipe,
)

from billet import plan
from billet.diffusion.alike_bar import resized, skins_of
from billet.diffusion.decarburised_skin import bar_skin_mm
from billet.planned import Planned

CLOSE = 1e-9
GRIND: dict[str, Any] = {"do": "grind", "per_face_mm": 0.5, "side_mm": 0.3}
WAYS: dict[str, tuple[dict[str, Any], ...]] = {
    "twist": (WELD, SQUARE, TWIST, FLAT, GRIND),
    "twist in air": (WELD, SQUARE, {**TWIST, "atmosphere": "air"}, {**FLAT, "atmosphere": "air"}),
    "groove": (WELD, SQUARE, GROOVE, FLAT, GRIND),
    "groove one face, after a twist": (WELD, SQUARE, TWIST, {**GROOVE, "faces": "top"}, FLAT),
    "dimple": (WELD, SQUARE, DIMPLE, FLAT),
    "press": (WELD, SQUARE, {**PRESS, "faces": "bottom"}, GRIND),
    "stand": (*BLOCK, GRIND),
    "split": (*PILLAR, SPLIT, {"do": "draw", **FIRE, "height_mm": 8, "width_mm": 20}, GRIND),
    "turned after a twist": (WELD, SQUARE, TWIST, {"do": "turn"}, FLAT),
    "twisted, cut and welded again": (
        WELD, SQUARE, TWIST, FLAT, {"do": "restack", "pieces": 3, "order": "turned"},
        {**WELD, "height_mm": 18}, FLAT,
    ),
}  # fmt: skip


@pytest.mark.parametrize("way", WAYS)
def test_carbon_adds_up(way: str) -> None:
    found = books(plan(recipe(*WAYS[way])))
    assert found.open_share < CLOSE and found.faces > 0.0 and found.metal > 0.0


def test_iron_without_carbon_is_twisted_like_any_other() -> None:
    iron = {name: {"name": "iron", "wt": {"C": 0.0}} for name in ("dark", "bright")}
    found = plan(recipe(WELD, SQUARE, TWIST, FLAT, steels=iron))
    assert books(found).laid == 0.0 and float(found.metal.bar.carbon_wt.max()) == 0.0


def test_sealed_fires_take_no_carbon_through_faces() -> None:
    steps = [{**step, "atmosphere": "sealed"} if "minutes" in step else step for step in WAYS["twist"]]
    found = books(plan(recipe(*steps)))
    assert found.faces == 0.0 and found.open_share < CLOSE


def blade_carbon(planned: Planned) -> dict[str, float]:
    return {name: spread.mean for name, spread in planned.treatment.spreads.items()}


def test_a_blade_ground_out_of_a_twisted_bar_has_the_carbon_of_one_out_of_a_flat_bar() -> None:
    """Its skin is ground off with the faces, so what the faces lost is not missing inside."""
    blade = {"blade": {"thickness_mm": 4.0}}
    flat = plan(recipe(WELD, SQUARE, {"do": "other", "what": "held", **FIRE}, FLAT, **blade))
    twisted = plan(recipe(WELD, SQUARE, TWIST, FLAT, **blade))
    assert blade_carbon(twisted) == pytest.approx(blade_carbon(flat), abs=0.012)
    skins = [max(bar_skin_mm(p.recipe, p.forged, p.metal)) for p in (flat, twisted)]
    assert skins[1] == pytest.approx(skins[0], rel=0.25) and skins[0] > 0.1


def test_the_edge_of_a_twisted_bar_sees_all_layers() -> None:
    """Nine layers with dark in the middle: flat, the zone of a thin edge is dark and a little bright."""
    blade = {"blade": {"thickness_mm": 4.0, "edge_mm": 0.3}}
    flat = plan(recipe(WELD, SQUARE, FLAT, **blade))
    twisted = plan(recipe(WELD, SQUARE, TWIST, FLAT, **blade))

    def edge(planned: Planned) -> dict[str, float]:
        return {layer.name: float(layer.edge.share.sum()) for layer in planned.treatment.undecided}

    whole = {layer.name: float(layer.blade.share.sum()) for layer in twisted.treatment.undecided}
    assert edge(twisted) == pytest.approx(whole) and edge(flat)["dark"] > edge(twisted)["dark"] + 0.02
    assert twisted.report.quench.edge is not None and twisted.report.quench.edge.layers == 9


def test_grinding_takes_the_skin_and_leaves_richer_metal() -> None:
    steps = (WELD, SQUARE, TWIST, FLAT)
    before, after = plan(recipe(*steps)), plan(recipe(*steps, {"do": "grind", "per_face_mm": 0.5}))
    assert max(bar_skin_mm(after.recipe, after.forged, after.metal)) == 0.0
    assert max(bar_skin_mm(before.recipe, before.forged, before.metal)) > 0.1
    assert after.metal.moved.steps[-1].mean_wt > before.metal.moved.steps[-1].mean_wt


def test_a_bar_on_end_loses_carbon_through_the_faces_it_has() -> None:
    """Half as high, it loses twice the share, however long it is: faces count, not the ends."""

    def share(height_mm: float) -> float:
        drawn = {"do": "draw", **SEALED, "height_mm": height_mm, "width_mm": 18}
        found = plan(recipe(*BLOCK, drawn, {"do": "other", "what": "held", **FIRE}))
        return sum(loss.faces_share for loss in found.metal.moved.losses if loss.step == 6)

    assert share(8.0) == pytest.approx(2.0 * share(16.0), rel=0.05) and share(16.0) > 0.005


def test_a_plate_grows_and_shrinks_in_its_middle() -> None:
    piece = plan(recipe(WELD, SQUARE)).metal.bar
    skin = skins_of(piece, piece.height_mm, True)["dark"].profile
    for height_mm in (7.0, 18.0, 40.0):
        other = resized(skin, height_mm)
        assert other.height_mm == pytest.approx(height_mm)
        assert other.ratio[0, 0] == skin.ratio[0, 0] and other.ratio[0, -1] == skin.ratio[0, -1]
    assert np.all(skin.ratio[0] <= skin.ratio[1] + 1e-12)
