"""Every button of the form changes the draft as its label says."""

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_forms import FEW, drafts, groups_of

from billet import parse_recipe
from web.form.actions import ACTIONS, UnknownAction, act, new_draft
from web.form.view import FormView
from web.form.writing import write_form


def buttons_of(form: FormView) -> list[str]:
    inner = [button.action for group in groups_of(form) for button in group.buttons]
    return [
        *inner,
        form.plan.action,
        form.check.action,
        form.add_steel.action,
        *(b.action for b in form.add_step),
    ]


def plates_of(draft: dict[str, Any]) -> list[tuple[str, float]]:
    return [(plate.steel, plate.thickness_mm) for plate in parse_recipe(draft).stack.plates]


@given(drafts(), st.data())
@settings(max_examples=100, deadline=None)
def test_every_button_that_is_shown_works_and_spares_the_draft(
    draft: dict[str, Any], data: st.DataObject
) -> None:
    before = copy.deepcopy(draft)
    action = data.draw(st.sampled_from(buttons_of(write_form(draft, (), "mm", FEW))))
    changed, anchor = act(draft, action)
    assert draft == before
    form = write_form(changed, (), "mm", FEW)
    if action not in ("plan", "check"):
        assert anchor in {group.key for group in groups_of(form)} or not (
            changed.get("steps") and form.steels
        )


def test_every_action_has_a_button_somewhere(recipe: dict[str, Any]) -> None:
    seen: set[str] = set()
    laid, _ = act(recipe, "use_lay:3")
    plates, _ = act(recipe, "use_plates")
    bladeless, _ = act(recipe, "remove_blade")
    own, _ = act(recipe, "steel_own:1")
    shop, _ = act(recipe, "add_oil")
    for draft in (recipe, laid, plates, bladeless, own, shop):
        seen |= {action.partition(":")[0] for action in buttons_of(write_form(draft, (), "mm", FEW))}
    assert seen == set(ACTIONS)


@pytest.mark.parametrize(
    "action",
    [
        "",
        "explode",
        "remove_step",
        "remove_step:99",
        "remove_step:-1",
        "move_up:x",
        "add_step:fly",
        "plan; rm",
        "remove_lay:0.0",
        "steel_own:7",
        "remove_plate:0",
        "add_piece:77",
        "Plan",
        "plan\n",
    ],
)
def test_other_buttons_are_refused(recipe: dict[str, Any], action: str) -> None:
    with pytest.raises(UnknownAction):
        act(recipe, action)


def test_steps_move_and_stay_at_the_ends(recipe: dict[str, Any]) -> None:
    moved, anchor = act(recipe, "move_up:2")
    assert [step["do"] for step in moved["steps"]][:3] == ["weld", "grind", "draw"]
    assert anchor == "step-2"
    assert act(recipe, "move_up:0")[0] == recipe
    assert act(recipe, "move_down:5")[0] == recipe


def test_an_order_written_out_is_the_same_stack(recipe: dict[str, Any]) -> None:
    plates, _ = act(recipe, "use_plates")
    assert plates_of(plates) == plates_of(recipe)
    assert act(plates, "use_pattern")[0]["stack"] == recipe["stack"]


def test_a_lay_written_out_is_the_same_bar(recipe: dict[str, Any]) -> None:
    recipe["steps"][3]["order"] = "turned"
    laid, _ = act(recipe, "use_lay:3")
    assert laid["steps"][3]["lay"] == ["piece", "turned", "piece", "turned"]
    parse_recipe(laid)


def test_a_steel_changes_its_form_and_keeps_its_analysis(recipe: dict[str, Any]) -> None:
    own, _ = act(recipe, "steel_own:1")
    assert own["steels"]["bright"]["name"] == "75Ni8"
    assert own["steels"]["bright"]["wt"] == recipe["steels"]["bright"]["wt"]
    assert act(own, "steel_like:1")[0] == recipe
    assert act(own, "steel_library:1")[0]["steels"]["bright"] == "75Ni8"
    assert act(recipe, "steel_like:0")[0]["steels"]["dark"] == {"like": "1084"}


def test_an_added_steel_has_a_name_of_its_own(recipe: dict[str, Any]) -> None:
    draft = recipe
    for _ in range(4):
        draft, anchor = act(draft, "add_steel")
    assert list(draft["steels"]) == ["dark", "bright", "steel 3", "steel 4", "steel 5", "steel 6"]
    assert anchor == "steel-6"
    fewer, _ = act(draft, "remove_steel:3")
    assert list(act(fewer, "add_steel")[0]["steels"])[-1] not in fewer["steels"]


def test_a_steel_taken_out_takes_its_thickness_along(recipe: dict[str, Any]) -> None:
    assert act(recipe, "remove_steel:1")[0]["stack"]["thickness_mm"] == {"dark": 3}


def test_the_empty_form_has_room_for_two_steels_and_a_weld() -> None:
    form = write_form(new_draft(), (), "mm", FEW)
    assert len(form.steels) == 2
    assert [group.kind for group in form.steps] == ["step:weld"]
