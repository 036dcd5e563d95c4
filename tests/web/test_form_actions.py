"""Every button of the form changes the draft as its label says."""

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_forms import FEW, drafts, groups_of

from billet import find_steel, parse_recipe, plan
from web.form.actions import ACTIONS, UnknownAction, act, new_draft
from web.form.fields import step_words
from web.form.proposing import completed, proposed_in, recipe_of
from web.form.starts import NAMES, start
from web.form.view import FormView
from web.form.writing import write_form
from web.routes.design import answered


def buttons_of(form: FormView) -> list[str]:
    inner = [button.action for group in groups_of(form) for button in group.buttons]
    return [
        *inner,
        form.plan.action,
        form.check.action,
        form.add_steel.action,
        *(b.action for b in form.first_inserts),
        *(b.action for step in form.steps for b in step.inserts),
        form.add_bar.action,
        *(told.button.action for told in [form.theirs] if told and told.button),
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
    several = start("several")
    laid_there, _ = act({**several, "steps": [*several["steps"], *laid["steps"]]}, "use_lay:5")
    mine = {**recipe, "mine": {"fire": "eye"}}
    theirs, _ = act(mine, "use_theirs")
    for draft in (recipe, mine, theirs, laid, plates, bladeless, own, shop, several, laid_there, new_draft()):
        shown = buttons_of(write_form(draft, (), "mm", FEW))
        seen |= {action.partition(":")[0].rpartition("/")[2] for action in shown}
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
    assert list(draft["steels"])[:2] == ["dark", "bright"] and len(set(draft["steels"])) == 6
    assert all(find_steel(grade) for grade in list(draft["steels"].values())[2:])
    assert anchor == "steel-6"
    fewer, _ = act(draft, "remove_steel:3")
    assert list(act(fewer, "add_steel")[0]["steels"])[-1] not in fewer["steels"]


def test_a_steel_taken_out_takes_its_thickness_along(recipe: dict[str, Any]) -> None:
    assert act(recipe, "remove_steel:1")[0]["stack"]["thickness_mm"] == {"dark": 3}


def test_the_page_opens_with_a_good_bar_of_two_steels() -> None:
    form = write_form(new_draft(), (), "mm", FEW)
    assert len(form.steels) == 2
    report = plan(recipe_of(new_draft())).report
    assert report.hardening.verdict == "shared" and report.quench.grade == "good"
    assert not [n for n in report.notices if n.level == "limit"]


@pytest.mark.parametrize("name", NAMES)
def test_every_start_can_be_forged_and_says_what_it_proposes(name: str) -> None:
    draft = start(name)
    report = plan(recipe_of(draft)).report
    assert not [n for n in report.notices if n.level == "limit"], name
    fires = [s for s in draft["steps"] if "temperature_c" in s]
    assert fires and all("temperature_c" in proposed_in(s) for s in fires)
    assert parse_recipe(recipe_of(draft)).assumed.count("steps[0].heats") == 0


AT_THE_END = ("turn", "stand")


@pytest.mark.parametrize("do", [do for do in step_words() if do != "split"])
def test_a_new_step_is_not_born_red(do: str) -> None:
    """Where it may stand, a new step comes filled in with what it cannot do without; the bar is whole."""
    draft = new_draft()
    place = 6 if do in AT_THE_END else 2
    changed, anchor = act(draft, f"add_step:{do}.{place}")
    assert changed["steps"][int(anchor.removeprefix("step-")) - 1]["do"] == do
    assert plan(recipe_of(completed(changed))).report.schedule[-1].layers_laid >= 15


def test_cut_weld_and_draw_again_in_one_press(recipe: dict[str, Any]) -> None:
    again, anchor = act(recipe, "again:6")
    assert [s["do"] for s in again["steps"][6:]] == ["grind", "restack", "weld", "draw"]
    assert again["steps"][7]["pieces"] == 4 and anchor == "step-7"
    before, after = (plan(recipe_of(completed(d))).report.schedule[-1] for d in (recipe, again))
    assert after.layers_laid > 3 * before.layers_laid


def test_a_step_is_copied_and_a_proposal_accepted() -> None:
    draft = new_draft()
    copied, anchor = act(draft, "copy_step:1")
    assert copied["steps"][1] == copied["steps"][2] and anchor == "step-3"
    accepted, _ = act(draft, "accept:0")
    assert proposed_in(draft["steps"][0]) and not proposed_in(accepted["steps"][0])
    told, before = parse_recipe(recipe_of(accepted)), parse_recipe(recipe_of(draft))
    assert told.bar_id == before.bar_id and told.steps[1:] == before.steps[1:]
    assert "temperature_c" in before.steps[0].proposed and told.steps[0].proposed == ()
    assert proposed_in(recipe_of(draft)["steps"][0]) == before.steps[0].proposed


def test_the_fire_and_oils_of_a_link_are_told_as_whose_they_are(recipe: dict[str, Any]) -> None:
    """One's own beat them until one press; nothing of that goes into the recipe."""
    shop = {"fire": "eye", "oils": [{"name": "tank 9", "class": "fast oil"}]}
    link = {key: value for key, value in recipe.items() if key != "control"}
    link |= {"shop": shop, "sheet": {"maker": "Reed Forge"}}
    alone = write_form(link, (), "mm", FEW)
    assert alone.theirs and alone.theirs.count and alone.theirs.button is None and not alone.fire_is_mine
    draft = {**link, "mine": {"fire": "kiln_ordinary"}}
    both = write_form(draft, (), "mm", FEW)
    assert both.theirs and not both.theirs.count and both.fire_is_mine and both.theirs.maker == "Reed Forge"
    assert "tank 9" in both.theirs.told and "eye" not in both.theirs.told.split(", ")
    assert answered(draft)["shop"]["fire"] == "kiln_ordinary"
    pressed, _ = act(draft, "use_theirs")
    assert answered(pressed) == recipe_of(pressed) == link
    back, _ = act(pressed, "use_mine")
    assert back == draft
