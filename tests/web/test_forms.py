"""A recipe becomes a form and the form becomes the recipe again; faults stand at their fields."""

import copy
from collections.abc import Iterator
from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from billet import ELEMENTS, Fault, RecipeError, parse_recipe
from web.form import fields
from web.form.known import known
from web.form.reading import read_form
from web.form.texts import name_faults
from web.form.view import Field, FormView, Group
from web.form.writing import Known, write_form
from web.http.links import Units

FEW = Known(steels=("1084",))


def groups_of(form: FormView) -> Iterator[Group]:
    """Every group of a form, inner ones too."""
    waiting = [
        form.general,
        *form.steels,
        *(group for bar in form.bars for group in (bar.general, bar.stack, *bar.steps)),
        form.stack,
        form.forge,
        *form.steps,
        form.blade,
        form.control,
        form.shop,
        form.sheet,
    ]
    while waiting:
        group = waiting.pop(0)
        yield group
        waiting = [*group.groups, *waiting]


def fields_of(form: FormView) -> list[Field]:
    return [field for group in groups_of(form) for field in group.fields]


def pairs_of(form: FormView) -> list[tuple[str, str]]:
    """What a browser would send."""
    return [(field.name, field.text) for field in fields_of(form) if field.kind != "flag" or field.text]


def there_and_back(draft: dict[str, Any], units: Units = "mm") -> dict[str, Any]:
    return read_form(pairs_of(write_form(draft, (), units, FEW)), units)


def field_at(form: FormView, name: str) -> Field:
    return next(field for field in fields_of(form) if field.name == name)


MM = st.integers(1, 40000).map(lambda tenths: tenths / 100) | st.integers(1, 400)
WORD = st.text("abcdefghij klm-.,[]\"'<>&é", min_size=1, max_size=12).map(str.strip).filter(bool)
FIRE = {"temperature_c": st.integers(600, 1600), "minutes": MM}
MORE_FIRE = {"heats": st.integers(1, 9), "atmosphere": st.sampled_from(["air", "reducing", "sealed"])}
SIZES = {"height_mm": MM, "width_mm": MM, "length_mm": MM}
COMMON = {"note": WORD, "measured": st.fixed_dictionaries({"height_mm": MM}, optional={"width_mm": MM})}
# one number for both ends, or two that differ: [10, 10] and 10 mean the same and come back as 10
ENDS = MM | st.lists(MM, min_size=2, max_size=2, unique=True)


def step(do: str, needed: dict[str, Any], more: dict[str, Any]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({"do": st.just(do), **needed}, optional={**more, **COMMON})


@st.composite
def drafts(draw: st.DrawFn) -> dict[str, Any]:
    """Recipes in every shape the contract knows; not all of them could be forged."""
    names = draw(st.lists(WORD, min_size=1, max_size=3, unique=True))
    steel = st.sampled_from(names)
    wt = st.dictionaries(st.sampled_from(ELEMENTS), MM, min_size=1, max_size=5)
    harden = st.lists(st.integers(700, 1100), min_size=2, max_size=2)
    more = {"melt": WORD, "wt": wt, "harden_c": harden, "role": st.just("cladding")}
    entry = (
        WORD
        | st.fixed_dictionaries({"like": WORD}, optional=more)
        | st.fixed_dictionaries({"name": WORD, "wt": wt}, optional={"melt": WORD, "harden_c": harden})
    )
    bars = draw(st.lists(WORD, max_size=2, unique=True))
    plate = st.fixed_dictionaries({"steel": steel, "thickness_mm": MM})
    if bars:
        bar = st.sampled_from(bars)
        plate |= st.fixed_dictionaries({"bar": bar}, optional={"turned": st.just(True)})
        plate |= st.fixed_dictionaries({"beside": st.lists(bar, min_size=1, max_size=3)})
    sizes = {"width_mm": MM, "length_mm": MM}
    pattern = st.fixed_dictionaries(
        {
            **sizes,
            "pattern": st.lists(steel, max_size=5),
            "count": st.integers(1, 400),
            "thickness_mm": st.dictionaries(steel, MM),
        }
    )
    plates = st.fixed_dictionaries({**sizes, "plates": st.lists(plate, max_size=5)})
    lay = st.lists(st.sampled_from(["piece", "turned"]) | plate, max_size=5)
    restack = {"pieces": st.integers(1, 9)}
    steps = st.lists(
        step("weld", FIRE, {**MORE_FIRE, "flux": st.just(False), "height_mm": MM, "width_mm": MM})
        | step("draw", {**FIRE, "height_mm": MM}, {**MORE_FIRE, "width_mm": MM})
        | step("grind", {"per_face_mm": MM}, {"side_mm": MM})
        | step(
            "restack",
            {**restack, "order": st.sampled_from(["same", "turned", "folded"])},
            {"trim_mm": ENDS, "kerf_mm": MM},
        )
        | step("restack", {**restack, "lay": lay}, {"trim_mm": ENDS})
        | step("crop", {}, {"end_mm": ENDS, "length_mm": MM})
        | step("upset", {**FIRE, "length_mm": MM}, MORE_FIRE)
        | step("turn", {}, {})
        | step("other", {**FIRE, "what": WORD}, MORE_FIRE),
        min_size=1,
        max_size=4,
    )
    made_first = st.fixed_dictionaries({"stack": pattern | plates}, optional={"steps": steps})
    made = {
        "made": st.sampled_from(["ground", "forged"]),
        "start": st.sampled_from(["normalised", "spheroidised"]),
    }
    blade = st.fixed_dictionaries(
        {"thickness_mm": MM},
        optional={
            **made,
            "edge_mm": MM,
            "bevel_half_angle_deg": MM,
            "edge_at": st.sampled_from(["middle", "face"]),
            **dict.fromkeys(("width_mm", "length_mm", "bevel_height_mm", "temper_to_hrc"), MM),
            "cladding": steel.map(lambda name: [name]),
        },
    )
    oil = st.fixed_dictionaries(
        {"name": WORD}, optional={"class": st.just("medium oil"), "nickel_ball_s": MM}
    )
    shop = st.fixed_dictionaries(
        {},
        optional={
            "fire": st.just("kiln_ordinary"),
            **dict.fromkeys(("half_width_k", "hot_length_mm", "tallest_mm", "lowest_cooling_k_h"), MM),
            "press": st.just(True),
            "controlled_cooling": st.just(True),
            "oils": st.lists(oil, min_size=1, max_size=3),
        },
    )
    control = st.fixed_dictionaries({"method": st.just("eye")}) | st.fixed_dictionaries({"half_width_k": MM})
    sheet = {"number": WORD, "maker": WORD, "forged_on": WORD, "share_recipe": st.just(True)}
    return draw(
        st.fixed_dictionaries(
            {
                "format": st.just(1),
                "title": WORD,
                "steels": st.fixed_dictionaries(dict.fromkeys(names, entry)),
                "stack": pattern | plates,
                **({"bars": st.fixed_dictionaries(dict.fromkeys(bars, made_first))} if bars else {}),
            },
            optional={
                "steps": steps,
                "blade": blade,
                "control": control,
                "shop": shop,
                "forge": st.fixed_dictionaries({"scale_factor": MM}),
                "sheet": st.fixed_dictionaries({}, optional=sheet).filter(bool),
            },
        )
    )


@given(drafts(), st.sampled_from(["mm", "inch"]))
@settings(max_examples=200, deadline=None)
def test_a_recipe_comes_back_from_its_form_unchanged(draft: dict[str, Any], units: Units) -> None:
    back = there_and_back(draft, units)
    assert back == draft
    assert list(back["steels"]) == list(draft["steels"])


def test_every_key_of_a_checked_recipe_has_its_field(recipe: dict[str, Any]) -> None:
    """The library fills in all defaults; the form must hold each of them."""
    filled = dict(parse_recipe(recipe).given)
    again = parse_recipe(there_and_back(filled))
    assert again.given == filled


@given(
    st.sampled_from(["title", "stack", "steels", "steps", "blade", "control", "forge", "sheet"]),
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(
                st.sampled_from(
                    [
                        "steel",
                        "do",
                        "lay",
                        "plates",
                        "pattern",
                        "thickness_mm",
                        "wt",
                        "like",
                        "trim_mm",
                        "measured",
                    ]
                )
                | st.text(max_size=4),
                inner,
                max_size=3,
            )
        ),
        max_leaves=8,
    ),
)
@settings(max_examples=300, deadline=None)
def test_any_draft_can_be_shown(key: str, value: Any) -> None:
    draft = {"format": 1, key: value}
    form = write_form(draft, (Fault(key, "wrong"),), "mm", FEW)
    told = [f for g in groups_of(form) for f in g.faults] + [f for x in fields_of(form) for f in x.faults]
    assert Fault(key, "wrong") in [*told, *form.faults]
    names = [field.name for field in fields_of(form)]
    assert len(names) == len(set(names))
    keys = [group.key for group in groups_of(form)]
    assert len(keys) == len(set(keys))


def test_a_text_that_is_no_length_stays_and_is_told_in_a_sentence(recipe: dict[str, Any]) -> None:
    form = write_form(recipe, (), "mm", FEW)
    pairs = [(n, "three fingers" if n == "stack.width_mm" else t) for n, t in pairs_of(form)]
    draft = read_form(pairs, "mm")
    assert draft["stack"]["width_mm"] == "three fingers"
    shown = field_at(write_form(draft, (), "mm", FEW), "stack.width_mm")
    assert shown.text == "three fingers"
    assert "is no length" in shown.faults[0].message


def faults_of(draft: dict[str, Any]) -> tuple[Fault, ...]:
    with pytest.raises(RecipeError) as refused:
        parse_recipe(draft)
    return refused.value.faults


def test_faults_stand_at_their_fields_in_the_words_of_the_library(recipe: dict[str, Any]) -> None:
    recipe["steps"][1]["height_mm"] = -4
    recipe["steels"]["bright"]["wt"]["C"] = 7
    recipe["stack"]["thickness_mm"]["dark"] = 4000
    recipe["steps"][3]["trim_mm"] = [-1, 2]
    recipe["stack"]["pattern"][1] = "brigth"
    faults = faults_of(recipe)
    form = write_form(recipe, faults, "mm", FEW)
    for name in (
        "steps[1].height_mm",
        "steels[1].wt.C",
        "stack.thickness_mm[0]",
        "steps[3].trim_mm[0]",
        "stack.pattern[1]",
    ):
        assert field_at(form, name).faults, name
    placed = [fault for field in fields_of(form) for fault in field.faults]
    assert sorted(map(str, placed)) == sorted(map(str, faults))
    assert form.faults == ()


def test_a_fault_of_a_whole_step_stands_at_the_step(recipe: dict[str, Any]) -> None:
    recipe["steps"][2] = {"do": "crop"}
    recipe["steps"][0]["quench"] = True
    form = write_form(recipe, faults_of(recipe), "mm", FEW)
    assert "end_mm" in form.steps[2].faults[0].message
    assert "unknown key" in form.steps[0].faults[0].message


def test_no_fault_is_lost(recipe: dict[str, Any]) -> None:
    broken = copy.deepcopy(recipe)
    broken["flavour"] = "sweet"
    broken["steels"]["odd"] = 1084
    del broken["title"]
    faults = faults_of(broken)
    form = write_form(broken, faults, "mm", FEW)
    placed = [f for g in groups_of(form) for f in g.faults] + [f for x in fields_of(form) for f in x.faults]
    assert sorted(map(str, [*placed, *form.faults])) == sorted(map(str, faults))


def test_a_renamed_steel_is_renamed_everywhere(recipe: dict[str, Any]) -> None:
    pairs = [
        (n, "black" if n == "steels[0].key" else t) for n, t in pairs_of(write_form(recipe, (), "mm", FEW))
    ]
    stack = read_form(pairs, "mm")["stack"]
    assert stack["pattern"] == ["black", "bright"]
    assert stack["thickness_mm"] == {"black": 3, "bright": 1.5}


def test_two_steels_of_one_name_are_kept_and_told(recipe: dict[str, Any]) -> None:
    pairs = [
        (n, "bright" if n == "steels[0].key" else t) for n, t in pairs_of(write_form(recipe, (), "mm", FEW))
    ]
    draft = read_form(pairs, "mm")
    assert [row["key"] for row in draft["steels"]] == ["bright", "bright"]
    form = write_form(draft, name_faults(draft["steels"], "steels", "steel"), "mm", FEW)
    assert len(form.steels) == 2
    assert field_at(form, "steels[1].key").faults
    assert not field_at(form, "steels[0].key").faults


def test_names_of_no_field_are_ignored() -> None:
    pairs = [
        ("evil", "1"),
        ("steps[999999].do", "weld"),
        ("a.b.c.d.e.f.g.h", "1"),
        ("[", "1"),
        ("title", "x"),
        ("title.deeper", "y"),
        ("__class__", "z"),
    ]
    assert read_form(pairs, "mm")["title"] == "x"


def test_the_library_is_offered() -> None:
    assert "1084" in known().steels
    assert len(fields.one("control", "method").choices) > 3


def test_a_temperature_is_asked_for_in_the_unit_that_a_bare_number_has(recipe: dict[str, Any]) -> None:
    for units, hint, unit in (("mm", "1150, or 2100 F", "°C"), ("inch", "2100, or 1150 C", "°F")):
        field = field_at(write_form(recipe, (), cast(Units, units), FEW), "steps[0].temperature_c")
        assert (field.hint, field.unit) == (hint, unit)
