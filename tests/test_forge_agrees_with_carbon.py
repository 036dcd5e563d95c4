"""Two independent books of one bar: forging's layers and the layers of the carbon profile."""

import math
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from recipe_samples import with_steps

from billet.diffusion.simulation import ColumnMetal, simulate_diffusion
from billet.errors import RecipeError
from billet.forging.forge import forge
from billet.forging.model import Column
from billet.forging.stack import build_stack
from billet.hardening.blade import profile_layers
from billet.parse import load, parse_recipe
from billet.recipe.model import Recipe

FILES = sorted((Path(__file__).parent.parent / "recipes").glob("*.toml"))


def check(recipe: Recipe) -> None:
    forged = forge(recipe, build_stack(recipe))
    metal = simulate_diffusion(recipe, forged, 1)
    for name, bar in (*forged.bars.items(), (None, forged)):
        columns = metal.columns if name is None else metal.bars[name].columns
        for column, own in zip(bar.columns, columns, strict=True):
            check_column(column, own)


def check_column(column: Column, own: ColumnMetal) -> None:
    layers = profile_layers(own.bar)
    assert [layer.steel for layer in layers] == [layer.steel for layer in column.final.layers]
    for mine, theirs in zip(column.final.layers, layers, strict=True):
        assert math.isclose(mine.thickness_mm, theirs.thickness_mm, rel_tol=1e-7, abs_tol=1e-9)
    assert [step.step for step in own.moved.steps] == [row.step for row in column.rows]
    across_mm = sum(layer.thickness_mm for layer in layers)
    assert across_mm == pytest.approx(getattr(column.final, f"{column.final.through}_mm"), rel=1e-9)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_layers_agree_in_every_recipe(path: Path) -> None:
    check(load(path))


@settings(max_examples=25, deadline=None)
@given(
    per_face_mm=st.floats(0.0, 4.0),
    pieces=st.integers(2, 4),
    order=st.sampled_from(["same", "turned", "folded"]),
    core=st.booleans(),
    atmosphere=st.sampled_from(["air", "reducing", "sealed"]),
    height_mm=st.floats(3.0, 12.0),
)
def test_layers_agree_whatever_is_cut_and_laid(
    per_face_mm: float, pieces: int, order: str, core: bool, atmosphere: str, height_mm: float
) -> None:
    heat = {"minutes": 6, "atmosphere": atmosphere}
    restack = {"do": "restack", "pieces": pieces, "order": order}
    if core:
        lay = ["piece", {"steel": "bright", "thickness_mm": 2.0}, "turned"]
        restack = {"do": "restack", "pieces": pieces, "lay": lay}
    steps = [
        {"do": "weld", "temperature_c": 1100, **heat},
        {"do": "draw", "temperature_c": 1100, "heats": 2, "height_mm": 12, **heat},
        {"do": "grind", "per_face_mm": per_face_mm},
        restack,
        {"do": "weld", "temperature_c": 1100, **heat},
        {"do": "draw", "temperature_c": 1050, "heats": 3, "height_mm": height_mm, **heat},
    ]
    try:
        recipe = parse_recipe(with_steps(*steps))
    except RecipeError:
        assume(False)
        return
    check(recipe)
