"""Whatever a recipe holds, the answer is a recipe or a readable refusal: never another error."""

import copy
import math
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from recipe_samples import good, two_bars

from billet.errors import RecipeError
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.parse import canonical_json, parse_recipe
from billet.recipe.file import load_recipe_text, recipe_to_toml
from billet.recipe.reading import read_recipe

KEYS = [
    "format",
    "title",
    "steels",
    "stack",
    "steps",
    "blade",
    "do",
    "lay",
    "wt",
    "like",
    "C",
    "dark",
    "end_mm",
    "bars",
    "bar",
    "left",
]
leaves = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**30), 10**30),
    st.integers(0, 60),
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(0.0, 1500.0),
    st.text(max_size=50),
    st.sampled_from(
        [
            "dark",
            "bright",
            "weld",
            "draw",
            "restack",
            "turn",
            "other",
            "piece",
            "turned",
            "1095",
            "left",
            "core",
        ]
    ),
)
values = st.recursive(
    leaves,
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(st.one_of(st.sampled_from(KEYS), st.text(max_size=8)), inner, max_size=4),
    ),
    max_leaves=12,
)


def places(value: Any, way: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place of a nested value."""
    found = [way] if way else []
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        found += places(inner, (*way, key))
    return found


def put(recipe: Any, way: tuple[Any, ...], value: Any) -> None:
    """Set one place, where it is still there."""
    for key in way[:-1]:
        try:
            recipe = recipe[key]
        except (KeyError, IndexError, TypeError):
            return
    if isinstance(recipe, dict) or (isinstance(recipe, list) and way[-1] < len(recipe)):
        recipe[way[-1]] = value


def check_readable(error: RecipeError) -> None:
    assert 1 <= len(error.faults) <= 20
    for fault in error.faults:
        assert fault.message.isprintable() and len(fault.message) < 700
        assert fault.where.isprintable() and len(fault.where) < 200


def check(recipe: Any) -> None:
    try:
        parsed = parse_recipe(recipe)
    except RecipeError as error:
        check_readable(error)
        return
    made = forge(parsed, build_stack(parsed))
    assert all(math.isfinite(row.mass_kg) and row.mass_kg > 0.0 for row in made.rows)
    assert canonical_json(parsed.given)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_any_change_of_a_good_recipe(data: st.DataObject) -> None:
    recipe = copy.deepcopy(good())
    for _ in range(data.draw(st.integers(1, 4))):
        put(recipe, data.draw(st.sampled_from(places(recipe))), data.draw(values))
    check(recipe)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_any_change_of_a_recipe_with_bars(data: st.DataObject) -> None:
    recipe = two_bars()
    for _ in range(data.draw(st.integers(0, 3))):
        put(recipe, data.draw(st.sampled_from(places(recipe))), data.draw(values))
    try:
        read = read_recipe(recipe)
    except RecipeError as error:
        check_readable(error)
        return
    assert read_recipe(load_recipe_text(recipe_to_toml(read.given))) == read
    check(recipe)


@settings(max_examples=150, deadline=None)
@given(value=values)
def test_anything_at_all(value: Any) -> None:
    check(value)


numbers = st.one_of(st.floats(0.0, 60.0), st.floats(0.0, 3000.0))
fire = {
    "temperature_c": st.floats(600.0, 1300.0),
    "minutes": st.floats(0.0, 600.0),
    "heats": st.integers(1, 50),
}
steps = st.one_of(
    st.fixed_dictionaries(
        {"do": st.just("weld"), **fire}, optional={"height_mm": numbers, "width_mm": numbers}
    ),
    st.fixed_dictionaries(
        {"do": st.just("draw"), **fire, "height_mm": numbers}, optional={"width_mm": numbers}
    ),
    st.fixed_dictionaries({"do": st.just("upset"), **fire, "length_mm": numbers}),
    st.fixed_dictionaries({"do": st.just("other"), **fire, "what": st.just("bend")}),
    st.fixed_dictionaries({"do": st.just("grind"), "per_face_mm": numbers}, optional={"side_mm": numbers}),
    st.fixed_dictionaries({"do": st.just("crop"), "end_mm": st.lists(numbers, min_size=2, max_size=2)}),
    st.fixed_dictionaries(
        {
            "do": st.just("restack"),
            "pieces": st.integers(1, 8),
            "order": st.sampled_from(["same", "turned", "folded"]),
        },
        optional={"trim_mm": numbers, "kerf_mm": numbers},
    ),
    st.just({"do": "turn"}),
)


@settings(max_examples=300, deadline=None)
@given(listed=st.lists(steps, max_size=5), atmosphere=st.sampled_from(["air", "reducing", "sealed"]))
def test_any_steps(listed: list[dict[str, Any]], atmosphere: str) -> None:
    recipe = good()
    del recipe["blade"]
    weld = {"do": "weld", "temperature_c": 1100, "minutes": 8, "atmosphere": atmosphere}
    listed = [{**s, "atmosphere": atmosphere} if "minutes" in s else s for s in listed]
    with_welds = [s for step in listed for s in ([step, weld] if step["do"] == "restack" else [step])]
    recipe["steps"] = [weld, *with_welds]
    check(recipe)
