"""Every kind of bad recipe is refused with its place and a sentence that says what to do."""

import math
from typing import Any

import pytest
from recipe_samples import changed, good

from billet.errors import Fault, RecipeError
from billet.workflow.recipe import parse_recipe

HUGE = int("9" * 4000) * 10**2000
ONE_PLATE = {"width_mm": 40, "length_mm": 150, "plates": [{"steel": "dark", "thickness_mm": 8}]}
WELD: dict[str, Any] = {"do": "weld", "temperature_c": 1100, "minutes": 5}
DRAW: dict[str, Any] = {"do": "draw", "temperature_c": 1100, "minutes": 5, "height_mm": 20}


def steps(*listed: dict[str, Any]) -> dict[str, Any]:
    """The good stack with these steps and no blade."""
    recipe = good()
    del recipe["blade"]
    return {**recipe, "steps": list(listed)}


def with_own_wt(wt: Any, **more: Any) -> dict[str, Any]:
    return changed("steels.bright", {"name": "strip", "wt": wt, **more})


CASES: list[tuple[str, dict[str, Any], str, str]] = [
    # what is wrong, recipe, where, words that must stand in the message
    ("no format", changed("format", ...), "format", "format is missing"),
    ("unknown format", changed("format", 2), "format", "must be a whole number of 1 to 1, got 2"),
    ("format true", changed("format", True), "format", "got true"),
    ("no title", changed("title", ...), "title", "title is missing"),
    ("title is a number", changed("title", 12), "title", "put it in quotes, got 12"),
    ("title empty", changed("title", "  "), "title", "must not be empty"),
    ("title too long", changed("title", "x" * 121), "title", "longer than 120 characters, got 121"),
    ("title of two lines", changed("title", "a\nb"), "title", "one line of printable characters"),
    ("title half a character", changed("title", "a\ud800"), "title", "printable characters"),
    ("unknown table", changed("stak", {}), "stak", 'did you mean "stack"?'),
    ("no steels", changed("steels", ...), "steels", "steels is missing"),
    ("steels empty", changed("steels", {}), "steels", "Steels: name 1 to 12 steels, got 0"),
    ("steels a list", changed("steels", []), "steels", "a table belongs here, got a list"),
    ("number for a designation", changed("steels.dark", 1084), "steels.dark", "put it in quotes"),
    ("boolean for a designation", changed("steels.dark", True), "steels.dark", "in quotes belongs here"),
    ("unknown grade", changed("steels.dark", "75Ni9"), "steels.dark", "75Ni8"),
    ("ambiguous grade", changed("steels.dark", "1074/1075"), "steels.dark", "may be any of 1074, 1075"),
    ("steel of no kind", changed("steels.dark", {}), "steels.dark", "give like"),
    ("like and name", changed("steels.dark", {"like": "1084", "name": "x"}), "steels.dark.name", "not both"),
    ("name without wt", changed("steels.dark", {"name": "x"}), "steels.dark.wt", "needs its analysis"),
    ("wt without carbon", with_own_wt({"Mn": 0.5}), "steels.bright.wt.C", "write C = 0.0"),
    ("unknown element", with_own_wt({"C": 0.8, "NI": 2}), "steels.bright.wt.NI", 'did you mean "Ni"?'),
    ("iron given", with_own_wt({"C": 0.8, "Fe": 98}), "steels.bright.wt.Fe", "iron is the rest"),
    ("cast iron", with_own_wt({"C": 3.4}), "steels.bright.wt.C", "0 to 2.5 wt%, got 3.4"),
    ("negative content", with_own_wt({"C": 0.8, "Mn": -1}), "steels.bright.wt.Mn", "got -1"),
    ("more than all", with_own_wt({"C": 0.8, "Ni": 60, "Cr": 50}), "steels.bright.wt", "100 wt%, got 110.8"),
    ("content as text", with_own_wt({"C": "0.8"}), "steels.bright.wt.C", 'without quotes, got "0.8"'),
    (
        "window upside down",
        with_own_wt({"C": 0.8}, harden_c=[830, 800]),
        "steels.bright.harden_c",
        "rise from low to high",
    ),
    (
        "window of one",
        with_own_wt({"C": 0.8}, harden_c=[830]),
        "steels.bright.harden_c",
        "two temperatures, [low, high]",
    ),
    ("no stack", changed("stack", ...), "stack", "stack is missing"),
    ("no width", changed("stack.width_mm", ...), "stack.width_mm", "Stack: width_mm is missing"),
    ("width in metres", changed("stack.width_mm", 0.04), "stack.width_mm", "5 to 500 mm, got 0.04"),
    ("width as text", changed("stack.width_mm", "40"), "stack.width_mm", 'without quotes, got "40"'),
    ("width true", changed("stack.width_mm", True), "stack.width_mm", "got true"),
    ("width nan", changed("stack.width_mm", math.nan), "stack.width_mm", "got nan"),
    ("width infinite", changed("stack.width_mm", math.inf), "stack.width_mm", "got inf"),
    ("width of 6000 digits", changed("stack.width_mm", HUGE), "stack.width_mm", "of about 6000 digits"),
    ("width null", changed("stack.width_mm", None), "stack.width_mm", "got nothing"),
    ("count half", changed("stack.count", 7.5), "stack.count", "whole number of 1 to 400, got 7.5"),
    ("count huge", changed("stack.count", 10**9), "stack.count", "got 1000000000"),
    ("no pattern", changed("stack.pattern", ...), "stack.pattern", "give pattern, count"),
    ("pattern empty", changed("stack.pattern", []), "stack.pattern", "hold 1 to 400"),
    (
        "pattern names a stranger",
        changed("stack.pattern", ["dark", "brigth"]),
        "stack.pattern[1]",
        'did you mean "bright"?',
    ),
    ("pattern of numbers", changed("stack.pattern", ["dark", 1084]), "stack.pattern[1]", "put it in quotes"),
    (
        "one thickness for all",
        changed("stack.thickness_mm", 3),
        "stack.thickness_mm",
        "a thickness for each steel",
    ),
    (
        "thickness missing",
        changed("stack.thickness_mm.bright", ...),
        "stack.thickness_mm.bright",
        "bright is missing",
    ),
    (
        "thickness of a stranger",
        changed("stack.thickness_mm.core", 3),
        "stack.thickness_mm.core",
        'unknown key "core"',
    ),
    (
        "plates and pattern",
        changed("stack.plates", [{"steel": "dark", "thickness_mm": 3}]),
        "stack.pattern",
        "give plates, or pattern",
    ),
    ("stack too high", changed("stack.thickness_mm.dark", 90), "stack", "not lie higher than 400 mm"),
    ("forge factor", changed("forge.scale_factor", -1), "forge.scale_factor", "Forge: scale_factor"),
    ("steps a table", changed("steps", {}), "steps", "must be a list of steps"),
    ("too many steps", changed("steps", [WELD] * 61), "steps", "hold 0 to 60 steps, got 61"),
    ("step a text", changed("steps.2", "grind"), "steps[2]", "Step 3: a table belongs here"),
    ("step without do", changed("steps.2", {"per_face_mm": 1}), "steps[2].do", "Step 3: do is missing"),
    ("unknown step", changed("steps.2.do", "grimd"), "steps[2].do", 'did you mean "grind"?'),
    ("unknown key", changed("steps.3.kerf", 2), "steps[3].kerf", 'Step 4 (restack): unknown key "kerf"; did'),
    ("no temperature", changed("steps.0.temperature_c", ...), "steps[0].temperature_c", "is missing"),
    ("no minutes", changed("steps.1.minutes", ...), "steps[1].minutes", "Step 2 (draw): minutes is missing"),
    ("draw to nothing", changed("steps.1.height_mm", ...), "steps[1].height_mm", "height_mm is missing"),
    ("heats none", changed("steps.1.heats", 0), "steps[1].heats", "whole number of 1 to 50, got 0"),
    ("heats true", changed("steps.1.heats", True), "steps[1].heats", "got true"),
    ("strange atmosphere", changed("steps.1.atmosphere", "argon"), "steps[1].atmosphere", '"sealed", got'),
    ("flux as text", changed("steps.0.flux", "yes"), "steps[0].flux", "must be true or false"),
    (
        "fahrenheit",
        changed("steps.0.temperature_c", 1500),
        "steps[0].temperature_c",
        "1500 C melts it; did you mean 1500 F, 815 C?",
    ),
    ("molten", changed("steps.0.temperature_c", 1590), "steps[0].temperature_c", "1590 C melts it"),
    ("cold forging", changed("steps.0.temperature_c", 300), "steps[0].temperature_c", "600 to 3000 C, got 300"),
    ("measured odd", changed("steps.0.measured", {"mm": 3}), "steps[0].measured.mm", "unknown key"),
    ("draw the loose pile", steps(DRAW), "steps[0]", "Step 1 (draw): the stack lies loose; weld the stack first"),
    ("grind the loose pile", steps({"do": "grind", "per_face_mm": 1}), "steps[0]", "weld the stack first"),
    (
        "restack the loose pile",
        steps({"do": "restack", "pieces": 2, "order": "same"}),
        "steps[0]",
        "weld the stack first",
    ),
    ("crop the loose pile", steps({"do": "crop", "end_mm": 5}), "steps[0]", "weld the stack first"),
    ("loose at the end, no step", steps(), "steps", "15 plates lie loose at the end"),
    ("loose at the end", changed("steps", good()["steps"][:4]), "steps[3]", "still lie loose at the end"),
    ("order and lay", changed("steps.3.lay", ["piece", "piece"]), "steps[3].order", "order or lay"),
    ("neither order nor lay", changed("steps.3.order", ...), "steps[3].order", "order or lay"),
    ("one piece", changed("steps.3.pieces", 1), "steps[3].pieces", "one piece makes no stack"),
    ("fold with a saw", changed("steps.3", {"do": "restack", "pieces": 3, "order": "folded", "kerf_mm": 2}),
     "steps[3].kerf_mm", "kerf_mm must be 0, got 2"),
    ("fold of five", changed("steps.3", {"do": "restack", "pieces": 5, "order": "folded"}),
     "steps[3].pieces", "folded into 2 to 4 pieces, got 5"),
    ("lay more than is cut", changed("steps.3", {"do": "restack", "pieces": 2, "lay": ["piece"] * 3}),
     "steps[3].lay", "3 pieces are laid, but the bar is cut into 2"),
    ("lay no piece", changed("steps.3", {"do": "restack", "pieces": 2,
     "lay": [{"steel": "dark", "thickness_mm": 2}] * 2}), "steps[3].lay", "at least one piece"),
    ("lay a word", changed("steps.3", {"do": "restack", "pieces": 2, "lay": ["piece", "flipped"]}),
     "steps[3].lay[1]", '"piece", "turned" or a plate'),
    ("lay a strange steel", changed("steps.3", {"do": "restack", "pieces": 2,
     "lay": ["piece", {"steel": "core", "thickness_mm": 2}]}), "steps[3].lay[1].steel", 'no "core"'),
    ("trim of three", changed("steps.3.trim_mm", [1, 2, 3]), "steps[3].trim_mm", "one number or two"),
    ("trim negative", changed("steps.3.trim_mm", [1, -2]), "steps[3].trim_mm", "trim_mm, far end, must be"),
    ("too many layers", changed("steps", [*good()["steps"][:3], {"do": "restack", "pieces": 60, "order": "same"},
     WELD, {"do": "restack", "pieces": 60, "order": "same"}, WELD]), "steps[5].pieces",
     "more than 10000 layers are not computed, got 54000"),
    ("cut through", changed("steps.3.trim_mm", 300), "steps[3].pieces", "leaves nothing of a bar"),
    ("grind through", changed("steps.2.per_face_mm", 6), "steps[2].per_face_mm", "goes through 12 mm"),
    ("grind the width away", changed("steps.2.side_mm", 20), "steps[2].side_mm", "goes through a bar 40 mm wide"),
    ("crop all", changed("steps.2", {"do": "crop", "end_mm": [300, 300]}), "steps[2].end_mm", "leaves nothing"),
    ("crop to more", changed("steps.2", {"do": "crop", "length_mm": 900}), "steps[2].length_mm", "cannot stay of it"),
    ("crop both ways", changed("steps.2", {"do": "crop", "length_mm": 90, "end_mm": 2}), "steps[2].length_mm", "not both"),
    ("crop nothing said", changed("steps.2", {"do": "crop"}), "steps[2]", "give end_mm"),
    ("draw shorter", changed("steps.1", {**DRAW, "height_mm": 27.9}), "steps[1].height_mm", "that is upset"),
    ("upset longer", changed("steps.1", {"do": "upset", "temperature_c": 1100, "minutes": 5, "length_mm": 400}),
     "steps[1].length_mm", "an upset makes the bar shorter"),
    ("weld higher", changed("steps.0.height_mm", 60), "steps[0].height_mm", "a weld presses the bar flatter"),
    ("weld into the scale", changed("steps.0", {**WELD, "minutes": 600, "height_mm": 34}),
     "steps[0].height_mm", "scale alone takes it below 34 mm"),
    ("burnt away", {**steps({**WELD, "temperature_c": 1250, "minutes": 600, "heats": 50}),
     "forge": {"scale_factor": 5}}, "steps[0].minutes", "scale would eat the whole bar"),
    ("restack on edge", changed("steps.2", {"do": "turn"}), "steps[3]", "mosaic stacks are not computed"),
    ("weld on edge", steps(WELD, {"do": "turn"}, WELD), "steps[2]", "mosaic stacks are not computed"),
    ("other without what", changed("steps.2", {"do": "other", "temperature_c": 1000, "minutes": 2}),
     "steps[2].what", "what is missing"),
    ("blade of a number", changed("blade", 3), "blade", "Blade: a table belongs here, got 3"),
    ("no thickness", changed("blade.thickness_mm", ...), "blade.thickness_mm", "thickness_mm is missing"),
    ("edge over back", changed("blade.edge_mm", 4), "blade.edge_mm", "not be more than thickness_mm, 3 mm"),
    ("blade over bar", changed("blade.thickness_mm", 6), "blade.thickness_mm", "cannot be ground from a bar of 5.5"),
    ("not forged to it", changed("blade.made", "forged"), "blade.thickness_mm", "a step must reach it"),
    ("made how", changed("blade.made", "cast"), "blade.made", '"ground", "forged", got "cast"'),
    ("strange method", changed("control.method", "kiln_ordinari"), "control.method", '"kiln_ordinary"'),
    ("method and width", changed("control.half_width_k", 20), "control.half_width_k", "not both"),
    ("empty control", changed("control", {}), "control", "give method or half_width_k"),
    ("sheet shares text", changed("sheet.share_recipe", "yes"), "sheet.share_recipe", "true or false"),
    ("forged on a number", changed("sheet.forged_on", 2024), "sheet.forged_on", "put it in quotes"),
]  # fmt: skip


def faults_of(recipe: Any) -> tuple[Fault, ...]:
    with pytest.raises(RecipeError) as caught:
        parse_recipe(recipe)
    return caught.value.faults


@pytest.mark.parametrize(
    ("recipe", "where", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_refuses(recipe: dict[str, Any], where: str, words: str) -> None:
    faults = faults_of(recipe)
    assert [(f.where, f.message) for f in faults if f.where == where and words in f.message], faults


def test_sample_itself_is_good() -> None:
    assert parse_recipe(good()).title == "Sample bar"


@pytest.mark.parametrize("name", [c[0] for c in CASES])
def test_sentence_begins_with_the_number_on_the_sheet(name: str) -> None:
    recipe, where = next((c[1], c[2]) for c in CASES if c[0] == name)
    if not where.startswith("steps["):
        return
    number = int(where.removeprefix("steps[").split("]")[0]) + 1
    assert all(f.message.startswith(f"Step {number}") for f in faults_of(recipe) if f.where == where)


def test_one_mistake_is_one_fault() -> None:
    assert len(faults_of(changed("stack.width_mm", "40"))) == 1
    assert len(faults_of(changed("steps.3.kerf", 2))) == 1
    assert len(faults_of(changed("steels.dark", 1084))) == 1


def test_tells_all_mistakes_at_once() -> None:
    recipe = changed("stack.width_mm", "40")
    recipe["steps"][0]["temperature_c"] = None
    recipe["blade"]["made"] = "cast"
    assert [f.where for f in faults_of(recipe)] == [
        "stack.width_mm",
        "steps[0].temperature_c",
        "blade.made",
    ]


def test_stops_at_twenty_faults() -> None:
    assert len(faults_of(changed("steps", [{"do": "weld"}] * 60))) == 20


@pytest.mark.parametrize("value", [None, 3, "x", [], math.nan])
def test_refuses_what_is_no_table(value: Any) -> None:
    assert "a table belongs here" in faults_of(value)[0].message


@pytest.mark.parametrize(
    "key", ["title", "steels", "stack", "steps", "blade", "control", "sheet", "forge"]
)
def test_deep_nesting_is_refused_without_recursion(key: str) -> None:
    deep: Any = []
    for _ in range(50_000):
        deep = [deep]
    assert faults_of({**good(), key: deep})
    table: Any = {}
    for _ in range(50_000):
        table = {"title": table}
    assert faults_of({**good(), key: table})


def test_keys_that_are_no_text_are_refused() -> None:
    assert faults_of({**good(), 3: 4, None: 5})


def test_a_single_plate_needs_no_steps() -> None:
    recipe = {**steps(), "stack": ONE_PLATE}
    del recipe["steps"]
    assert parse_recipe(recipe).steps == ()


def test_integers_serve_as_floats_and_whole_floats_as_counts() -> None:
    assert parse_recipe(changed("stack.count", 15.0)).recipe_id == parse_recipe(good()).recipe_id
    assert parse_recipe(changed("stack.width_mm", 40.0)).recipe_id == parse_recipe(good()).recipe_id


def test_offers_fahrenheit_for_every_forging_heat_in_fahrenheit() -> None:
    assert (
        "did you mean 2100 F, 1148 C?" in faults_of(changed("steps.0.temperature_c", 2100))[0].message
    )
    assert "did you mean" not in faults_of(changed("steps.0.temperature_c", 2900))[0].message
