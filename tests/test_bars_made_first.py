"""Bars that are made first: read, held, written and numbered; refused where they do not fit."""

from collections.abc import Callable
from typing import Any

import pytest
from jsonschema_rs import Draft202012Validator
from recipe_samples import good, laid, pair, two_bars

from billet import load, plan, recipe_help
from billet.errors import Fault, RecipeError
from billet.parse import canonical_json, check_forging, parse_recipe
from billet.recipe.file import load_recipe_text, recipe_to_toml
from billet.recipe.laid_bars import making_order
from billet.recipe.model import BarPiece, BarPlan, Draw, Layer, Restack, Weld
from billet.recipe.reading import read_recipe
from billet.recipe.schema import recipe_schema
from web.form.reading import read_form
from web.form.view import FormView, Group
from web.form.writing import Known, write_form

WELD: dict[str, Any] = {"do": "weld", "temperature_c": 1100, "minutes": 6}
DRAW: dict[str, Any] = {"do": "draw", "temperature_c": 1100, "minutes": 10, "height_mm": 10}
Change = Callable[[dict[str, Any]], Any]


def changed(change: Change) -> dict[str, Any]:
    recipe = two_bars()
    change(recipe)
    return recipe


def faults_of(recipe: dict[str, Any]) -> tuple[Fault, ...]:
    with pytest.raises(RecipeError) as caught:
        read_recipe(recipe)
    return caught.value.faults


def test_bars_are_held_with_their_stack_and_steps() -> None:
    recipe = read_recipe(two_bars())
    assert list(recipe.bars) == ["left", "core"]
    left = recipe.bars["left"]
    assert isinstance(left, BarPlan)
    assert left.stack.plates[:2] == (Layer("dark", 3.0), Layer("bright", 2.0)) and len(left.stack.plates) == 7
    weld, draw = left.steps
    assert isinstance(weld, Weld) and weld.flux and (weld.number, weld.heats) == (1, 1)
    assert isinstance(draw, Draw) and (draw.number, draw.height_mm, draw.atmosphere) == (2, 10.0, "reducing")
    assert recipe.stack.plates == (
        BarPiece("left", True),
        Layer("dark", 4.0),
        BarPiece("core", False),
        BarPiece("left", False),
    )
    assert [name for name, _ in recipe.parts] == ["left", "core", None]


def test_a_step_lays_a_bar_made_first() -> None:
    restack = {"do": "restack", "pieces": 2, "lay": ["piece", {"bar": "core", "turned": True}, "turned"]}
    recipe = read_recipe(changed(lambda r: r.update(stack=laid({"bar": "left"}), steps=[restack, WELD])))
    step = recipe.steps[0]
    assert isinstance(step, Restack) and step.lay == ("piece", BarPiece("core", True), "turned")
    assert recipe.given["steps"][0]["lay"] == ["piece", {"bar": "core", "turned": True}, "turned"]


def test_every_way_of_writing_gives_the_same_recipe() -> None:
    recipe = read_recipe(two_bars())
    texts = recipe_to_toml(recipe.given), canonical_json(recipe.given)
    assert "\n[bars.left.stack]\n" in texts[0] and texts[0].count("\n[[bars.left.steps]]\n") == 2
    assert '{ bar = "left", turned = true }' in texts[0]
    for text in texts:
        again = read_recipe(load_recipe_text(text))
        assert again == recipe and list(again.bars) == ["left", "core"]
        assert (again.recipe_id, again.bar_id) == (recipe.recipe_id, recipe.bar_id)
    validator = Draft202012Validator(recipe_schema())
    assert validator.is_valid(two_bars()) and validator.is_valid(recipe.given)


def test_a_name_of_a_bar_may_hold_dots_and_spaces() -> None:
    recipe = two_bars()
    recipe["bars"]["a. b[0]"] = recipe["bars"].pop("core")
    recipe["stack"]["plates"][2] = {"bar": "a. b[0]"}
    read = read_recipe(recipe)
    assert read_recipe(load_recipe_text(recipe_to_toml(read.given))) == read
    other = read.with_("bars.a. b[0].stack.thickness_mm.bright", 2.5)
    assert other.bars["a. b[0]"].stack.plates[0] == Layer("bright", 2.5)


def test_a_space_that_cannot_be_printed_is_marked_in_faults() -> None:
    recipe = two_bars()
    recipe["bars"]["a\u00a0b"] = recipe["bars"].pop("core")
    recipe["stack"]["plates"][2] = {"bar": "a\u00a0b"}
    recipe["bars"]["a\u00a0b"]["steps"][0]["temperature_c"] = 1500
    (fault,) = faults_of(recipe)
    assert fault.where == 'bars."a?b".steps[0].temperature_c'
    assert fault.message.startswith('Bar "a?b", step 1 (weld): 1500 C melts it')


def test_both_numbers_follow_the_bars() -> None:
    recipe = read_recipe(two_bars())
    for place, value in (
        ("bars.left.steps[1].height_mm", 11),
        ("bars.core.stack.count", 9),
        ("stack.plates[2].turned", True),
    ):
        other = recipe.with_(place, value)
        assert other.recipe_id != recipe.recipe_id and other.bar_id != recipe.bar_id, place
    measured = recipe.with_("bars.left.steps[1].measured", {"height_mm": 10.1})
    assert measured.recipe_id != recipe.recipe_id and measured.bar_id == recipe.bar_id
    assert measured.bars["left"].steps[1].measured is not None


def test_a_recipe_without_bars_does_not_speak_of_them() -> None:
    recipe = parse_recipe(good())
    assert recipe.bars == {} and "bars" not in recipe.given
    assert "bars" not in canonical_json(recipe.given) and "bars" not in recipe_to_toml(recipe.given)
    assert recipe.recipe_id == "45789b5d2c" and recipe.bar_id == "5da24883ef"


def test_defaults_of_bars_are_told_and_left_out_again() -> None:
    recipe = read_recipe(two_bars())
    for told in (
        "bars.left.steps[0].flux = true",
        "bars.core.steps[1].heats = 1",
        "stack.plates[2].turned = false",
    ):
        assert told in recipe.defaults_used
    assert "stack.plates[0].turned = true" not in recipe.defaults_used
    sealed = recipe.with_("bars.left.steps[0].atmosphere", "sealed")
    assert sealed.bars["left"].steps[0].atmosphere == "sealed"  # type: ignore[union-attr]
    assert 'bars.left.steps[0].atmosphere = "reducing"' not in sealed.defaults_used
    assert "bars.left.steps[0].flux = true" in sealed.defaults_used


def test_a_bar_may_be_laid_into_another_bar() -> None:
    inside = [{"bar": "core"}, {"steel": "dark", "thickness_mm": 3}]
    recipe = read_recipe(changed(lambda r: r["bars"]["left"].update(stack=laid(*inside))))
    assert making_order(recipe.bars) == ["core", "left"]
    alone = changed(lambda r: r["bars"]["left"].update(stack=laid(*inside)))
    alone["stack"] = laid({"bar": "left"})
    assert list(read_recipe(alone).bars) == ["left", "core"]


def put(place: str, value: Any) -> Change:
    """Sets one key of the recipe, or takes it away with `...`; the place as a fault tells it."""

    def change(recipe: dict[str, Any]) -> None:
        node: Any = recipe
        *way, last = (
            int(k) if k.isdigit() else k for k in place.replace("[", ".").replace("]", "").split(".")
        )
        for key in way:
            node = node[key]
        if value is ...:
            del node[last]
        else:
            node[last] = value

    return change


MELTING = {**WELD, "temperature_c": 1480}
RESTACKED = [WELD, {"do": "restack", "pieces": 60, "order": "same"}, WELD]
REFUSED: list[tuple[str, Change, str, str]] = [
    ("too high", put("bars.left.steps[1].height_mm", 900), "bars.left.steps[1].height_mm",
     "Bar left, step 2 (draw): height after the step (height_mm) must be"),
    ("unknown key of a step", put("bars.left.steps[0].flix", 1), "bars.left.steps[0].flix",
     'Bar left, step 1 (weld): unknown key "flix"'),
    ("unknown step", put("bars.left.steps[1].do", "drow"), "bars.left.steps[1].do",
     'Bar left, step 2: no step is called "drow"; did you mean "draw"?'),
    ("stack", put("bars.core.stack.width_mm", 0), "bars.core.stack.width_mm",
     "Bar core, stack: width of the plates (width_mm) must be"),
    ("no stack", put("bars.core.stack", ...), "bars.core.stack", "Bar core: stack is missing"),
    ("strange steel", put("bars.core.stack.pattern", ["brihgt"]), "bars.core.stack.pattern[0]",
     'Bar core, stack: [steels] has no "brihgt"; did you mean "bright"?'),
    ("a table of the recipe in a bar", put("bars.left.blade", {"thickness_mm": 3}), "bars.left.blade",
     'Bar left: unknown key "blade"'),
    ("no table", put("bars.left", 3), "bars.left", "Bar left: a table belongs here, got 3"),
    ("bars a list", put("bars", []), "bars", "Bars: a table belongs here, got a list"),
    ("no bars", put("bars", {}), "bars", "Bars: name 1 to 12 bars, got 0"),
    ("named as a steel", lambda r: r["bars"].update(dark=r["bars"]["left"]), "bars.dark",
     'Bars: a steel is called "dark"; the bar needs a name of its own'),
    ("long name", lambda r: r["bars"].update({"x" * 41: r["bars"]["left"]}), f"bars.{'x' * 41}",
     "Bars: a name must not be longer than 40 characters"),
    ("empty name", lambda r: r["bars"].update({" ": r["bars"]["left"]}), 'bars." "',
     "Bars: a name must be printable text and not empty"),
    ("unknown bar in the stack", put("stack.plates[0].bar", "lefd"), "stack.plates[0].bar",
     'Stack: laid bar 1: [bars] has no "lefd"; did you mean "left"?'),
    ("bar by number", put("stack.plates[0].bar", 1), "stack.plates[0].bar",
     "Stack: laid bar 1: the name of a bar belongs here: put it in quotes, got 1"),
    ("a bar with a thickness", put("stack.plates[0].thickness_mm", 3), "stack.plates[0].thickness_mm",
     'Stack: laid bar 1: unknown key "thickness_mm"'),
    ("turned a word", put("stack.plates[0].turned", "yes"), "stack.plates[0].turned", "true or false"),
    ("unused", lambda r: r["bars"].update(spare=r["bars"]["left"]), "bars.spare",
     "Bar spare: nothing lays it; lay it in a stack or step, or leave it out"),
    ("in itself", put("bars.core.stack", laid({"bar": "core"}, {"bar": "left"})), "bars.core.stack",
     'Bar core: a bar cannot be laid into itself (core into core)'),
    ("side by side, not in a course", put("stack.beside", ["left", "core"]), "stack.beside",
     'Stack: unknown key "beside"'),
    ("one bar side by side", put("stack.plates[0]", {"beside": ["left"]}), "stack.plates[0].beside",
     "Stack: course of bars 1: bars side by side (beside) must hold 2 to 8, got 1"),
    ("unknown bar side by side", put("stack.plates[0]", {"beside": ["left", "cure"]}),
     "stack.plates[0].beside[1]", 'Stack: course of bars 1: [bars] has no "cure"; did you mean "core"?'),
    ("side by side and on edge", lambda r: (put("bars.core.steps", [WELD, {"do": "turn"}])(r),
                                            put("stack.plates[0]", {"beside": ["left", "core"]})(r)),
     "stack.plates[0].beside[1]", 'bar "core" was turned on edge'),
    ("loose at the end", put("bars.core.steps", ...), "bars.core.steps",
     "Bar core, stack: 7 plates lie loose at the end; weld them in a step"),
    ("drawn while loose", put("bars.left.steps", [DRAW]), "bars.left.steps[0]",
     "Bar left, step 1 (draw): the stack lies loose; weld the stack first"),
    ("laid loose at the end", put("bars.left.steps", RESTACKED[:2]), "bars.left.steps[1]",
     "Bar left, step 2 (restack): the pieces still lie loose at the end"),
    ("melts", put("bars.left.steps[0].temperature_c", 1500), "bars.left.steps[0].temperature_c",
     "Bar left, step 1 (weld): 1500 C melts it; did you mean 1500 F, 815 C?"),
    ("melts what is laid inside",
     lambda r: r.update(bars={"core": r["bars"]["core"]}, stack=laid({"bar": "core"}), steps=[MELTING]),
     "steps[0].temperature_c", 'did you mean 1480 F, 804 C? ("bright" begins to melt'),
    ("on edge", put("bars.core.steps", [WELD, {"do": "turn"}]), "stack.plates[2].bar",
     'Stack: bar "core" was turned on edge; mosaic stacks are not computed'),
    ("layers of the whole", lambda r: (put("bars.left.steps", RESTACKED)(r),
                                       put("stack", laid(*[{"bar": "left"}] * 24, {"bar": "core"}))(r)),
     "stack.plates", "Stack: more than 10000 layers are not computed, got 10087"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "where", "words"), [c[1:] for c in REFUSED], ids=[c[0] for c in REFUSED])
def test_what_a_bar_cannot_be_is_refused_at_its_place(change: Change, where: str, words: str) -> None:
    faults = faults_of(changed(change))
    told = [fault.message for fault in faults if fault.where == where]
    assert told and any(words in message for message in told), faults


def test_bars_laid_into_each_other_are_told_with_the_way_round() -> None:
    recipe = two_bars()
    recipe["bars"]["left"]["stack"] = laid({"bar": "core"}, {"steel": "dark", "thickness_mm": 3})
    recipe["bars"]["core"]["stack"] = laid({"bar": "left"}, {"steel": "dark", "thickness_mm": 3})
    told = {fault.where: fault.message for fault in faults_of(recipe)}
    assert set(told) == {"bars.left.stack", "bars.core.stack"}
    way = "Bar left: a bar cannot be laid into itself (left into core into left)"
    assert told["bars.left.stack"] == way


def test_a_bar_used_only_by_an_unused_bar_is_unused() -> None:
    recipe = two_bars()
    recipe["stack"] = laid({"bar": "core"})
    recipe["bars"]["spare"] = {"stack": laid({"bar": "left"})}
    assert {fault.where for fault in faults_of(recipe)} == {"bars.left", "bars.spare"}


def test_layers_of_laid_bars_count_where_a_step_lays_them() -> None:
    """24 bars of 420 layers and a piece of 7."""
    recipe = two_bars()
    recipe["bars"]["left"]["steps"] = RESTACKED
    recipe["stack"] = laid({"bar": "core"})
    lay = ["piece", *[{"bar": "left"}] * 24]
    recipe["steps"] = [{"do": "restack", "pieces": 1, "lay": lay}, WELD]
    told = [fault for fault in faults_of(recipe) if fault.where == "steps[0].pieces"]
    assert told and "got 10087" in told[0].message


def test_a_bar_that_does_not_fit_is_refused_where_it_is_laid() -> None:
    """A recipe is read; load, plan and every change to it ask whether its bars fit."""
    for ask in (load, plan, parse_recipe):
        with pytest.raises(RecipeError) as caught:
            ask(two_bars())
        assert [fault.where for fault in caught.value.faults] == ["stack.plates[0]"]
        told = caught.value.faults[0].message
        assert told.startswith('Stack, laid bar 1: bar "left" is 264.56') and told.endswith(
            "300 mm are to be covered"
        )
    held = read_recipe(two_bars())
    for refuse in (plan, check_forging):
        with pytest.raises(RecipeError):
            refuse(held)
    assert load(changed(put("stack.length_mm", 200))).stack.length_mm == 200


def test_a_bar_that_does_not_fit_on_pieces_is_refused_there() -> None:
    restack = {"do": "restack", "pieces": 2, "lay": ["piece", {"bar": "core"}, {"bar": "left"}]}
    wide = {**pair(), "width_mm": 60}
    recipe = changed(lambda r: r.update(stack=wide, steps=[WELD, restack, WELD]))
    assert read_recipe(recipe).steps[1].number == 2
    with pytest.raises(RecipeError) as caught:
        plan(recipe)
    assert [fault.where for fault in caught.value.faults] == ["steps[1].lay[1]"]
    assert caught.value.faults[0].message.startswith(
        'Step 2 (restack): bar "core" is 39.91 mm wide, and 59.89'
    )


def test_a_fault_found_in_forging_a_bar_names_it() -> None:
    with pytest.raises(RecipeError) as caught:
        load(changed(put("bars.core.steps[1].height_mm", 30)))
    assert caught.value.faults[0].where == "bars.core.steps[1].height_mm"
    assert caught.value.faults[0].message.startswith("Bar core, step 2 (draw): the length would fall")


def test_a_cold_weld_of_a_bar_is_refused_at_its_place() -> None:
    recipe = changed(put("bars.left.steps[0].temperature_c", 800))
    with pytest.raises(RecipeError) as caught:
        load(recipe)
    assert caught.value.faults[0].where == "bars.left.steps[0].temperature_c"
    assert caught.value.faults[0].message.startswith("Bar left, step 1 (weld): 800 C is too cold to weld")


def test_the_help_tells_of_bars() -> None:
    told = recipe_help()
    assert "[bars.NAME.stack] and [[bars.NAME.steps]]: bars that are made first" in told
    assert "A laid bar: in place of a plate" in told and "  turned: the bar lies upside down" in told


@pytest.mark.parametrize("laid_by", ["stack", "step"])
def test_the_form_never_makes_another_bar_of_it(laid_by: str) -> None:
    """Where the fields of the bars are lost on the way, the places that lay them are refused."""
    recipe = two_bars()
    gap = "stack.plates[0].bar"
    if laid_by == "step":
        lay = ["piece", {"bar": "left", "turned": True}, {"bar": "core"}]
        recipe["stack"] = pair()
        recipe["steps"] = [WELD, {"do": "restack", "pieces": 2, "lay": lay}, WELD]
        gap = "steps[1].lay[1].bar"
    form = write_form(recipe, (), "mm", Known(steels=()))
    shown = fields_of(form)
    with pytest.raises(RecipeError) as caught:
        parse_recipe(read_form(shown, "mm"))
    assert gap in [fault.where for fault in caught.value.faults]


def fields_of(form: FormView) -> list[tuple[str, str]]:
    waiting: list[Group] = [form.general, *form.steels, form.stack, *form.steps]
    found: list[tuple[str, str]] = []
    while waiting:
        group = waiting.pop()
        waiting += group.groups
        found += [(f.name, f.text) for f in group.fields if f.kind != "flag" or f.text]
    return found
