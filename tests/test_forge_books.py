"""Mass and volume close through every step, whatever the recipe; sizes reach what the recipe says."""

import itertools
import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from recipe_samples import changed, good

from billet.errors import RecipeError
from billet.forging.events import Done, Forge, Heat, HeatLoose, Join, Lay, Remove
from billet.forging.forge import forge
from billet.forging.model import Forged, ForgedRow
from billet.forging.stack import build_stack
from billet.formulas.scaling import metal_loss_mm
from billet.parse import parse_recipe
from billet.recipe.model import Recipe

CLOSE = 1e-9


def run(mapping: dict[str, Any]) -> tuple[Recipe, Forged]:
    recipe = parse_recipe(mapping)
    return recipe, forge(recipe, build_stack(recipe))


def weigh(row: ForgedRow, recipe: Recipe) -> float:
    """Mass of a row from its own sizes, layer by layer: no figure of the books is used."""
    on_edge = not math.isclose(sum(t for _, t in row.layers), row.height_mm, rel_tol=1e-9)
    side_mm = row.height_mm if on_edge else row.width_mm
    density = {name: steel.density_g_cm3 for name, steel in recipe.steels.items()}
    return sum(density[n] * t for n, t in row.layers) * side_mm * row.length_mm * 1e-6


def lost(row: ForgedRow) -> float:
    books = row.lost_kg
    return books.scale + books.grind + books.trim + books.kerf + books.left_over


fires = {
    "temperature_c": st.floats(900.0, 1200.0),
    "minutes": st.floats(0.0, 25.0),
    "heats": st.integers(1, 6),
    "atmosphere": st.sampled_from(["air", "reducing", "sealed"]),
}
draws = st.fixed_dictionaries({"do": st.just("draw"), **fires, "height_mm": st.floats(4.0, 20.0)})
wide_draws = st.fixed_dictionaries(
    {
        "do": st.just("draw"),
        **fires,
        "height_mm": st.floats(4.0, 20.0),
        "width_mm": st.floats(20.0, 60.0),
    }
)
grinds = st.fixed_dictionaries(
    {"do": st.just("grind"), "per_face_mm": st.floats(0.0, 2.0), "side_mm": st.floats(0.0, 2.0)}
)
crops = st.fixed_dictionaries(
    {"do": st.just("crop"), "end_mm": st.lists(st.floats(0.0, 30.0), min_size=2, max_size=2)}
)
upsets = st.fixed_dictionaries({"do": st.just("upset"), **fires, "length_mm": st.floats(60.0, 400.0)})
others = st.fixed_dictionaries({"do": st.just("other"), **fires, "what": st.just("straighten")})
turns = st.just({"do": "turn"})
lays = st.lists(
    st.one_of(
        st.sampled_from(["piece", "turned"]),
        st.fixed_dictionaries({"steel": st.just("third"), "thickness_mm": st.floats(0.5, 5.0)}),
    ),
    min_size=2,
    max_size=5,
)
orders = st.fixed_dictionaries(
    {
        "do": st.just("restack"),
        "pieces": st.integers(2, 4),
        "trim_mm": st.floats(0.0, 8.0),
        "order": st.sampled_from(["same", "turned", "folded"]),
    }
)
laid = st.fixed_dictionaries(
    {"do": st.just("restack"), "pieces": st.integers(5, 7), "kerf_mm": st.floats(0.0, 3.0), "lay": lays}
)
joined_again = st.tuples(
    st.one_of(orders, laid), st.just({"do": "weld", "temperature_c": 1100.0, "minutes": 8.0})
)
singles = st.one_of(draws, wide_draws, grinds, crops, upsets, others, turns).map(lambda step: (step,))
sequences = st.lists(st.one_of(singles, joined_again), max_size=6).map(
    lambda parts: [s for p in parts for s in p]
)


@settings(max_examples=150, deadline=None)
@given(
    steps=sequences,
    plates=st.lists(
        st.fixed_dictionaries(
            {
                "steel": st.sampled_from(["dark", "bright", "third"]),
                "thickness_mm": st.floats(0.3, 6.0),
            }
        ),
        min_size=2,
        max_size=9,
    ),
    scale_factor=st.floats(0.0, 2.0),
)
def test_books_close(steps: list[dict[str, Any]], plates: list[dict[str, Any]], scale_factor: float) -> None:
    first = {"do": "weld", "temperature_c": 1100.0, "minutes": 10.0, "heats": 2}
    mapping = {
        **good(),
        "steels": {"dark": "1084", "bright": "75Ni8", "third": "X5CrNi18-10"},
        "stack": {"width_mm": 40, "length_mm": 150, "plates": plates},
        "forge": {"scale_factor": scale_factor},
        "steps": [first, *steps],
    }
    del mapping["blade"]
    try:
        recipe, forged = run(mapping)
    except RecipeError:
        assume(False)
        return
    before: ForgedRow | None = None
    for row in forged.rows:
        if row.layers:
            assert weigh(row, recipe) == pytest.approx(row.mass_kg, rel=CLOSE, abs=0.0)
            assert min(t for _, t in row.layers) > 0.0
        assert sum(row.mass_share.values()) == pytest.approx(1.0, abs=CLOSE)
        assert min(row.lost_kg.scale, row.lost_kg.grind, row.lost_kg.trim, row.lost_kg.kerf) >= -1e-12
        if before is not None:
            books = before.mass_kg + row.added_kg - lost(row)
            assert row.mass_kg == pytest.approx(books, rel=CLOSE, abs=0.0)
        before = row
    all_laid = forged.rows[0].mass_kg + sum(row.added_kg for row in forged.rows)
    assert forged.rows[-1].yield_ == pytest.approx(forged.rows[-1].mass_kg / all_laid, rel=CLOSE)
    assert forged.final.mass_kg == pytest.approx(sum(forged.final.steel_kg.values()), rel=CLOSE)


def test_sizes_reach_the_recipe() -> None:
    _, forged = run(changed("steps.5.width_mm", 44))
    heights = [row.height_mm for row in forged.rows]
    assert heights[0] == pytest.approx(8 * 3.0 + 7 * 1.5)
    assert heights[1] == pytest.approx(28.0, rel=CLOSE)
    assert heights[2] == pytest.approx(12.0, rel=CLOSE)
    assert heights[3] == pytest.approx(11.2, rel=CLOSE)
    assert heights[4] == pytest.approx(44.8, rel=CLOSE)
    assert heights[6] == pytest.approx(5.5, rel=CLOSE)
    assert forged.rows[2].width_mm == pytest.approx(40.0, rel=CLOSE)
    assert forged.rows[6].width_mm == pytest.approx(44.0, rel=CLOSE)


def test_without_scale_the_length_takes_the_volume() -> None:
    """30 x 50 x 150 mm drawn to 6 x 40 mm without loss is 937.5 mm long (constant volume)."""
    mapping = {
        "format": 1,
        "title": "one plate",
        "steels": {"a": "1084"},
        "stack": {"width_mm": 50, "length_mm": 150, "plates": [{"steel": "a", "thickness_mm": 30}]},
        "forge": {"scale_factor": 0},
        "steps": [
            {
                "do": "draw",
                "temperature_c": 1100,
                "minutes": 20,
                "heats": 5,
                "height_mm": 6,
                "width_mm": 40,
            }
        ],
    }
    _, forged = run(mapping)
    assert forged.rows[1].length_mm == pytest.approx(937.5, rel=CLOSE)
    assert forged.rows[1].lost_kg.scale == 0.0
    assert forged.rows[0].mass_kg == pytest.approx(30 * 50 * 150 * 7.85e-6, rel=CLOSE)


def test_one_fire_in_air_takes_what_the_square_root_law_says() -> None:
    """30 x 50 x 150 mm, 10 minutes at 1150 C in air: about 2.4 % of the mass."""
    mapping = {
        "format": 1,
        "title": "one plate",
        "steels": {"a": "1084"},
        "stack": {"width_mm": 50, "length_mm": 150, "plates": [{"steel": "a", "thickness_mm": 30}]},
        "steps": [{"do": "other", "what": "soak", "temperature_c": 1150, "minutes": 10, "atmosphere": "air"}],
    }
    _, forged = run(mapping)
    share = forged.rows[1].lost_kg.scale / forged.rows[0].mass_kg
    assert share == pytest.approx(0.0237, abs=0.0005)


@pytest.mark.parametrize(
    ("steel", "atmosphere", "rate"),
    [
        ("1084", "air", 1.0),
        ("1084", "reducing", 0.5),
        ("75Ni8", "air", 0.8),
        ("440C", "air", 0.05),
        ("Ni99.2", "reducing", 0.025),
        ("1084", "sealed", 0.0),
    ],
)
def test_each_face_scales_by_its_own_steel(steel: str, atmosphere: str, rate: float) -> None:
    mapping = changed("steels.dark", steel)
    del mapping["blade"]
    weld = {"do": "weld", "temperature_c": 1100, "minutes": 12, "heats": 3, "atmosphere": atmosphere}
    mapping["steps"] = [weld]
    _, forged = run(mapping)
    heats = [event for event in forged.events if isinstance(event, Heat)]
    assert len(heats) == 3
    for heat in heats:
        assert heat.minutes == pytest.approx(4.0)
        assert heat.scale_mm == pytest.approx((rate * metal_loss_mm(1100.0, 4.0),) * 2, rel=CLOSE)


def test_scale_goes_on_into_the_next_layer_by_the_same_law() -> None:
    """A thin nickel-steel face over plain steel: x^2 grows by rate^2 of the steel that lies open."""
    plates = [
        {"steel": "bright", "thickness_mm": 0.05},
        {"steel": "dark", "thickness_mm": 20.0},
        {"steel": "bright", "thickness_mm": 4.0},
    ]
    mapping = changed("stack", {"width_mm": 40, "length_mm": 150, "plates": plates})
    del mapping["blade"]
    mapping["steps"] = [{"do": "weld", "temperature_c": 1150, "minutes": 30, "atmosphere": "air"}]
    _, forged = run(mapping)
    plain_mm = metal_loss_mm(1150.0, 30.0)
    bottom_mm, top_mm = next(e.scale_mm for e in forged.events if isinstance(e, Heat))
    assert top_mm == pytest.approx(0.8 * plain_mm, rel=CLOSE)
    expected = math.sqrt(0.05**2 + plain_mm**2 - (0.05 / 0.8) ** 2)
    assert bottom_mm == pytest.approx(expected, rel=CLOSE)
    assert forged.final.layers[0].steel == "dark"
    assert [f.reason.code for f in forged.findings if f.reason.code == "outer-layer-gone"] == [
        "outer-layer-gone"
    ]


def test_events_replay_to_the_same_layers() -> None:
    """The events alone lead to the final layers: what carbon replays is what forging did."""
    mapping = changed("steps.3", {"do": "restack", "pieces": 4, "trim_mm": 10, "order": "turned"})
    _, forged = run(mapping)
    bar: list[tuple[str, float]] = []
    pile: list[list[tuple[str, float]]] = []
    for event in forged.events:
        match event:
            case Lay(items=items):
                fresh = [i for i in items if hasattr(i, "steel")]
                pile = [[(i.steel, i.thickness_mm)] for i in fresh] if fresh else []
                pile = pile or [bar[::-1] if i.turned else list(bar) for i in items]
            case Join():
                bar = []
                for name, mm in (layer for piece in pile for layer in piece):
                    if bar and bar[-1][0] == name:
                        bar[-1] = (name, bar[-1][1] + mm)
                    else:
                        bar.append((name, mm))
            case Heat(scale_mm=(bottom, top)):
                bar = peel(peel(bar, bottom)[::-1], top)[::-1]
            case Remove(bottom_mm=bottom, top_mm=top):
                bar = peel(peel(bar, bottom)[::-1], top)[::-1]
            case Forge(ratio=ratio):
                bar = [(name, mm * ratio) for name, mm in bar]
    assert [name for name, _ in bar] == [layer.steel for layer in forged.final.layers]
    assert [mm for _, mm in bar] == pytest.approx(
        [layer.thickness_mm for layer in forged.final.layers], rel=1e-7
    )


def peel(bar: list[tuple[str, float]], mm: float) -> list[tuple[str, float]]:
    while mm >= bar[0][1]:
        mm -= bar[0][1]
        bar = bar[1:]
    return [(bar[0][0], bar[0][1] - mm), *bar[1:]]


def test_a_pile_warms_up_loose_before_it_joins() -> None:
    _, forged = run(good())
    kinds = [type(event) for event in forged.events]
    assert kinds[:5] == [Lay, Done, HeatLoose, Join, Heat]
    loose = next(event for event in forged.events if isinstance(event, HeatLoose))
    assert 0.0 < loose.minutes < forged.rows[1].fire_min - 12.0


def test_fire_time_holds_heating_through() -> None:
    """20 mm takes some 0.4 minutes a millimetre to weld heat when both faces see the fire."""
    mapping = {
        "format": 1,
        "title": "one plate",
        "steels": {"a": "1084"},
        "stack": {"width_mm": 500, "length_mm": 150, "plates": [{"steel": "a", "thickness_mm": 20}]},
        "steps": [{"do": "other", "what": "soak", "temperature_c": 1150, "minutes": 10}],
    }
    _, forged = run(mapping)
    assert forged.rows[1].fire_min == pytest.approx(17.5, abs=0.7)


def test_on_edge_height_and_width_change_places() -> None:
    mapping = changed(
        "steps",
        [
            {"do": "weld", "temperature_c": 1100, "minutes": 10, "height_mm": 30},
            {"do": "turn"},
            {
                "do": "draw",
                "temperature_c": 1100,
                "minutes": 10,
                "heats": 2,
                "height_mm": 20,
                "width_mm": 25,
            },
            {"do": "grind", "per_face_mm": 1.0},
        ],
    )
    _, forged = run(mapping)
    assert (forged.rows[2].height_mm, forged.rows[2].width_mm) == pytest.approx((40.0, 30.0))
    assert sum(t for _, t in forged.rows[3].layers) == pytest.approx(25.0, rel=CLOSE)
    assert forged.rows[4].height_mm == pytest.approx(18.0, rel=CLOSE)
    assert forged.final.on_edge


def test_upset_keeps_the_proportion_of_the_section() -> None:
    mapping = changed(
        "steps",
        [
            {"do": "weld", "temperature_c": 1100, "minutes": 10, "atmosphere": "sealed"},
            {
                "do": "upset",
                "temperature_c": 1100,
                "minutes": 10,
                "heats": 2,
                "length_mm": 120,
                "atmosphere": "sealed",
            },
        ],
    )
    _, forged = run(mapping)
    cold, last = forged.rows[0], forged.rows[2]
    assert last.length_mm == pytest.approx(120.0)
    assert last.height_mm / last.width_mm == pytest.approx(cold.height_mm / cold.width_mm, rel=CLOSE)
    assert last.reduction is not None and last.reduction < 0.0


def test_height_falls_by_the_same_ratio_each_heat() -> None:
    _, forged = run(good())
    heights = [forged.rows[1].height_mm, *(h.height_mm for h in forged.rows[2].each_heat)]
    ratios = [b / a for a, b in itertools.pairwise(heights)]
    assert ratios == pytest.approx([(12.0 / 28.0) ** 0.2] * 5, rel=CLOSE)


def test_cut_marks_leave_equal_pieces() -> None:
    _, forged = run(good())
    row, before = forged.rows[4], forged.rows[3]
    marks = row.cut_marks_mm
    assert row.piece_mm is not None
    starts = [10.0, *(mark + 2.0 for mark in marks[1:-1])]
    lengths = [end - start for start, end in zip(starts, marks[1:], strict=True)]
    assert lengths == pytest.approx([row.piece_mm] * 4, rel=CLOSE)
    assert marks[-1] == pytest.approx(before.length_mm - 10.0)
    assert row.length_mm == pytest.approx(row.piece_mm)
