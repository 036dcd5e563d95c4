"""Every declared field is read, bounded, defaulted, written back, in the schema and in the form."""

import copy
from dataclasses import fields, is_dataclass
from typing import Any

import pytest
from jsonschema_rs import Draft202012Validator
from recipe_samples import good

from billet import recipe_help, recipe_tables
from billet.errors import Fault, RecipeError
from billet.recipe.reading import read_recipe
from billet.recipe.schema import recipe_schema
from billet.recipe.spec import DefaultIf, FieldSpec
from web.form.proposing import recipe_of
from web.form.reading import read_form
from web.form.view import FormView, Group
from web.form.writing import Known, write_form

WELD = {"do": "weld", "temperature_c": 1100, "minutes": 6}
FLAT = {"do": "draw", "temperature_c": 1100, "minutes": 6, "height_mm": 10}
NEEDED: dict[str, dict[str, Any]] = {
    "steps.weld": WELD,
    "steps.draw": {"do": "draw", "temperature_c": 1100, "minutes": 6, "height_mm": 20},
    "steps.upset": {"do": "upset", "temperature_c": 1100, "minutes": 6, "length_mm": 100},
    "steps.other": {"do": "other", "temperature_c": 1100, "minutes": 6, "what": "bend"},
    "steps.grind": {"do": "grind", "per_face_mm": 0.5},
    "steps.restack": {"do": "restack", "pieces": 3, "order": "same"},
    "steps.crop": {"do": "crop", "length_mm": 100},
    "steps.turn": {"do": "turn"},
    "steps.twist": {"do": "twist", "temperature_c": 1100, "minutes": 6, "turns": 4},
    "steps.groove": {"do": "groove", "pitch_mm": 250, "depth_mm": 3, "width_mm": 0.5},
    "steps.dimple": {"do": "dimple", "pitch_mm": 250, "diameter_mm": 1, "depth_mm": 0.1},
    "steps.press": {
        "do": "press",
        "temperature_c": 1100,
        "minutes": 6,
        "pitch_mm": 250,
        "depth_mm": 3,
        "width_mm": 0.5,
    },
    "steps.stand": {"do": "stand"},
    "steps.split": {"do": "split", "temperature_c": 1100, "minutes": 6, "drag_mm": 20, "width_mm": 5},
    "blade": {"thickness_mm": 3},
    "control": {"method": "kiln_good"},
    "shop": {},
    "oils": {"name": "tank", "class": "slow oil"},
    "forge": {},
    "sheet": {},
    "measured": {},
    "steels": {"like": "1084", "wt": {"C": 0.8}},
    "wt": {"C": 0.8},
    "stack": good()["stack"],
    "plates": {"steel": "dark", "thickness_mm": 3},
    "bar": {"bar": "left", "turned": True},
    "beside": {"beside": ["left", "left"]},
    "": {},
}
"""The least that stands in each table."""
DECLARED = """
top: title! 1 120
steels: like 1 40; name 1 40; melt 1 40; wt; harden_c 650 1300 C; role
stack: width_mm! 5 500 mm; length_mm! 10 5000 mm; pattern 1 400; count 1 400; thickness_mm 0.02 100 mm;
    plates 1 400
plates: steel!; thickness_mm! 0.02 100 mm
bar: bar!; turned = False
beside: beside! 2 8
measured: height_mm 0.1 20000 mm; width_mm 0.1 20000 mm; length_mm 0.1 20000 mm; cut_away_mm 0.1 20000 mm
oils: name! 1 40; class; nickel_ball_s 1 60 s
forge: scale_factor 0 5 = 1.0
blade: thickness_mm! 0.3 30 mm; edge_mm 0.05 30 mm = 1.0; made = ground; start = normalised;
    bevel_half_angle_deg 0.5 45 degrees; edge_at = middle; width_mm 2 500 mm; length_mm 10 5000 mm;
    bevel_height_mm 1 500 mm; temper_to_hrc 30 68 HRC; cladding 0 12
control: method; half_width_k 0.5 200 K
shop: fire; half_width_k 0.5 200 K; press = False; hot_length_mm 20 5000 mm; tallest_mm 5 1000 mm; oils 0
    12; controlled_cooling = False; lowest_cooling_k_h 1 1000 K/h
sheet: number 1 40; maker 1 120; forged_on 1 40; share_recipe = False
steps.weld: temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere = reducing; flux =
    True; height_mm 0.3 400 mm; width_mm 5 500 mm; note 1 300; measured; proposed 0 5
steps.draw: temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere = reducing;
    height_mm! 0.3 400 mm; width_mm 5 500 mm; note 1 300; measured; proposed 0 5
steps.upset: temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere = reducing;
    length_mm! 10 20000 mm; note 1 300; measured; proposed 0 4
steps.grind: per_face_mm! 0 100 mm; side_mm 0 100 mm = 0.0; note 1 300; measured; proposed 0 2
steps.restack: pieces! 1 60; trim_mm 0 2000 mm = 0.0; kerf_mm 0 10 mm = 2.0; order; lay 2 400; note 1 300;
    measured; proposed 0 3
steps.crop: end_mm 0 2000 mm; length_mm 10 20000 mm; note 1 300; measured; proposed 0 2
steps.turn: note 1 300; measured
steps.twist: temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere = reducing; turns!
    -200 200; rounded = False; note 1 300; measured; proposed 0 4
steps.groove: pitch_mm! 2 500 mm; depth_mm! 0.1 50 mm; width_mm! 0.5 250 mm; faces = both; offset = True;
    note 1 300; measured; proposed 0 3
steps.dimple: pitch_mm! 2 500 mm; diameter_mm! 0.5 250 mm; depth_mm! 0.1 50 mm; staggered = True; faces =
    both; note 1 300; measured; proposed 0 3
steps.press: temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere = reducing;
    pitch_mm! 2 500 mm; depth_mm! 0.1 50 mm; width_mm! 0.5 250 mm; faces = both; note 1 300; measured;
    proposed 0 6
steps.stand: note 1 300; measured
steps.split: temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere = reducing;
    drag_mm! 0.5 500 mm; width_mm! 0.5 250 mm; note 1 300; measured; proposed 0 5
steps.other: what! 1 120; temperature_c! 600 3000 C; minutes! 0 600 min; heats 1 50 = 1; atmosphere =
    reducing; note 1 300; measured; proposed 0 3
"""
"""Every field with its bounds, unit and default; ! stands where it must be given."""
INSTEAD = {"half_width_k": "method", "lay": "order", "end_mm": "length_mm", "plates": "pattern"}
"""Fields that are given in place of another."""
FIELDS = [(name, field) for name, spec in recipe_tables().items() for field in spec.fields]
every_field = pytest.mark.parametrize(
    ("name", "field"), FIELDS, ids=[f"{name or 'top'}.{field.key}" for name, field in FIELDS]
)


def at_place(name: str, table: dict[str, Any]) -> tuple[dict[str, Any], str]:
    """The good recipe with a table put where it belongs, and the place of that table."""
    recipe = good()
    if name.startswith("steps.") or name == "measured":
        step = table if name != "measured" else {**WELD, "measured": table}
        after = {"restack": [WELD], "groove": [FLAT], "dimple": [FLAT]}
        before = [WELD, {"do": "stand"}] if step["do"] == "split" else [WELD]
        recipe["steps"] = [step] if step["do"] == "weld" else [*before, step, *after.get(step["do"], [])]
        del recipe["blade"]
        where = f"steps[{0 if step['do'] == 'weld' else len(before)}]"
        return recipe, f"{where}.measured" if name == "measured" else where
    if name == "":
        return {**recipe, **table}, ""
    inner: dict[str, tuple[dict[str, Any], str]] = {
        "oils": ({"shop": {"oils": [table]}}, "shop.oils[0]"),
        "wt": ({"steels": {"dark": {"like": "1084", "wt": table}, "bright": "75Ni8"}}, "steels.dark.wt"),
        "steels": ({"steels": {"dark": table, "bright": "75Ni8"}}, "steels.dark"),
        "plates": (
            {"stack": {"width_mm": 40, "length_mm": 150, "plates": [table] * 9}},
            "stack.plates[0]",
        ),
        "beside": (
            {
                "bars": {"left": {"stack": good()["stack"], "steps": [WELD]}},
                "stack": {"width_mm": 40, "length_mm": 150, "plates": [table, *[{"bar": "left"}] * 8]},
            },
            "stack.plates[0]",
        ),
        "bar": (
            {
                "bars": {"left": {"stack": good()["stack"], "steps": [WELD]}},
                "stack": {"width_mm": 40, "length_mm": 150, "plates": [table, *[{"bar": "left"}] * 8]},
            },
            "stack.plates[0]",
        ),
    }
    put, where = inner.get(name, ({name: table}, name))
    return {**recipe, **put}, where


def samples(field: FieldSpec) -> list[Any]:
    """Values that the field takes; the ends of its bounds where it has them."""
    low, high = field.bounds
    plate = {"steel": "dark", "thickness_mm": 3}
    word = ["1084"] if field.key == "like" else ["w" * int(high), "word"]
    listed: dict[str, list[Any]] = {
        "number": [low, high, (low + high) / 2],
        "whole": [int(low), int(high)],
        "flag": [True, False],
        "text": word,
        "day": word,
        "choice": list(field.words),
        "ends": [low, [low, low + 1]],
        "range": [[low, high]],
        "steel": ["dark"],
        "bar": ["left"],
        "bars": [["left", "left"]],
        "steels": [["dark", "bright"]],
        "some": [["bright"]],
        "keys": [list(field.words)],
        "each": [{"dark": 3, "bright": 2}],
        "lay": [["piece", plate, "turned"]],
        "plates": [[plate] * 9],
        "rows": [[{"name": "tank", "class": "slow oil"}]],
        "table": [{"height_mm": 3}] if field.key == "measured" else [{"C": 0.8}],
    }
    return listed[field.kind]


def wrong(field: FieldSpec) -> list[Any]:
    """Values that no field of this kind takes."""
    low, high = field.bounds
    beyond = {"number": [low - 1, high + 1, "3", True], "ends": [low - 1, high + 1, [low, low, low]],
              "whole": [low - 1, high + 1, low + 0.5], "flag": ["yes", 1],
              "text": ["", "w" * (int(high) + 1), 3], "day": [""], "choice": ["nothing of the kind"],
              "range": [[high, low], [low - 1, high], low], "steel": ["nobody"], "some": [["nobody"]],
              "keys": [["nothing of the kind"], "minutes"], "bar": ["nobody"],
              "steels": [["nobody"]], "each": [3]}  # fmt: skip
    return [None, float("nan"), float("inf"), *beyond.get(field.kind, [])]


def with_value(name: str, field: FieldSpec, value: Any) -> tuple[dict[str, Any], str]:
    table = copy.deepcopy(NEEDED[name])
    instead = "fire" if name == "shop" else INSTEAD.get(field.key)
    if name == "steels" and field.key == "name":
        instead = "like"
    if name == "stack" and field.key == "plates":
        table = {"width_mm": 40, "length_mm": 150}
    if instead in table and instead != field.key:
        del table[instead]
    table[field.key] = value
    if field.key == "kerf_mm":
        table["order"] = "same"
    recipe, where = at_place(name, table)
    return recipe, f"{where}.{field.key}" if where else field.key


def value_at(mapping: Any, where: str) -> Any:
    for key in where.replace("[", ".[").split("."):
        mapping = mapping[int(key[1:-1])] if key.startswith("[") else mapping[key]
    return mapping


def faults_of(recipe: Any) -> tuple[Fault, ...]:
    with pytest.raises(RecipeError) as caught:
        read_recipe(recipe)
    return caught.value.faults


def read_or_faults(recipe: Any) -> Any:
    try:
        return read_recipe(recipe)
    except RecipeError as error:
        return error.faults


@every_field
def test_what_the_declaration_allows_is_read_written_back_and_in_the_schema(
    name: str, field: FieldSpec
) -> None:
    validator = Draft202012Validator(recipe_schema())
    read = 0
    for value in samples(field):
        recipe, where = with_value(name, field, value)
        found = read_or_faults(recipe)
        if isinstance(found, tuple):
            assert all(fault.where != where or "must be a" not in fault.message for fault in found), found
            continue
        read += 1
        assert validator.is_valid(recipe), (where, value)
        if field.key == "share_recipe" and value is False:
            continue
        written = value_at(found.given, where) if where not in ("steels.dark.like",) else value
        assert written == value
        again = read_recipe(found.given)
        assert again == found and again.recipe_id == found.recipe_id
    assert read, f"no value of {name}.{field.key} was read"


@every_field
def test_what_the_declaration_does_not_allow_is_refused_at_its_place(name: str, field: FieldSpec) -> None:
    validator = Draft202012Validator(recipe_schema())
    for value in wrong(field):
        recipe, where = with_value(name, field, value)
        faults = faults_of(recipe)
        assert any(fault.where.startswith(where) for fault in faults), (value, faults)
        if value == value and value not in (float("inf"), None) and field.key not in ("like", "steel", "bar"):
            known_to_schema = field.kind not in ("steels", "some", "range")
            assert not known_to_schema or not validator.is_valid(recipe), (where, value)


@every_field
def test_a_sentence_names_the_field_and_not_only_its_key(name: str, field: FieldSpec) -> None:
    assert field.help and field.label and field.noun
    if field.kind in ("number", "whole", "flag", "choice"):
        recipe, where = with_value(name, field, None)
        told = [fault.message for fault in faults_of(recipe) if fault.where == where]
        assert told and all(field.named in message for message in told)


@every_field
def test_a_default_is_filled_in_and_told_or_the_field_is_missing(name: str, field: FieldSpec) -> None:
    recipe, where = at_place(name, {k: v for k, v in NEEDED[name].items() if k != field.key})
    place = f"{where}.{field.key}" if where else field.key
    if name == "":
        recipe.pop(field.key)
    if field.required and name == "beside":
        assert any(fault.where == f"{where}.steel" for fault in faults_of(recipe)), "read as a plate"
    elif field.required:
        assert any(fault.where == place for fault in faults_of(recipe))
    elif field.default not in (None, ()) and name != "sheet":
        found = read_recipe(recipe)
        assert value_at(found.given, place) == field.default
        assert place in found.assumed


def fields_in(form: FormView) -> dict[str, str]:
    waiting: list[Group] = [form.general, *form.steels, form.stack, form.forge, *form.steps]
    waiting += [form.blade, form.control, form.shop, form.sheet]
    found: dict[str, str] = {}
    while waiting:
        group = waiting.pop()
        waiting += group.groups
        found |= {f.name: f.text for f in group.fields if f.kind != "flag" or f.text}
    return found


NOT_IN_THE_FORM = ("bar", "beside")
"""A recipe with bars that are made first is written as text."""


@pytest.mark.parametrize(("name", "field"), [pair for pair in FIELDS if pair[0] not in NOT_IN_THE_FORM])
def test_the_form_holds_every_field(name: str, field: FieldSpec) -> None:
    held = 0
    for value in samples(field):
        recipe, _ = with_value(name, field, value)
        found = read_or_faults(recipe)
        if isinstance(found, tuple):
            continue
        pairs = fields_in(write_form(found.given, (), "mm", Known(steels=()))).items()
        assert read_recipe(recipe_of(read_form(pairs, "mm"))).given == found.given
        held += 1
    assert held


def test_the_help_tells_every_field() -> None:
    told = recipe_help()
    for _, field in FIELDS:
        assert f"  {field.key}: {field.help}" in told
    assert "kerf_mm: lost in each cut; 0 for a fold; 0 to 10 mm; usually 2 (0 where order is folded)" in told


def told(field: FieldSpec) -> str:
    low, high = field.bounds
    bounds = f" {low:g} {high:g}" if (low, high) != (0.0, 0.0) else ""
    unit = f" {field.unit}" if field.unit else ""
    default = f" = {field.default}" if field.default not in (None, ()) else ""
    return f"{field.key}{'!' if field.required else ''}{bounds}{unit}{default}"


def test_bounds_units_and_defaults_are_these() -> None:
    tables = {name: spec for name, spec in recipe_tables().items() if name != "wt"}
    listed = [f"{name or 'top'}: {'; '.join(map(told, spec.fields))}" for name, spec in tables.items()]
    assert listed == DECLARED.strip().replace("\n    ", " ").split("\n")
    elements = recipe_tables()["wt"].fields
    assert {f.key: f.bounds for f in elements if f.key == "C"} == {"C": (0.0, 2.5)}
    assert {f.bounds for f in elements if f.key != "C"} == {(0.0, 100.0)}
    assert recipe_tables()["steps.restack"].field("kerf_mm").default_if == DefaultIf("order", "folded", 0.0)


def test_the_model_has_the_fields_of_the_declaration_and_no_others() -> None:
    for name, spec in recipe_tables().items():
        if not is_dataclass(spec.make):
            continue
        known = {"number", "do"} if name.startswith("steps.") else {"name", "clad_by_blade"}
        if name == "oils":
            known = set()
        assert {f.name for f in spec.fields} == {f.name for f in fields(spec.make)} - known, name
