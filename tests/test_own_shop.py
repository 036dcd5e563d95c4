"""One's own fire and oils count before what a recipe says; oils and scrap by the names people use."""

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from billet import (
    oil_by_name,
    oils_with_classes,
    own_oil_faults,
    parse_recipe,
    plan,
    scrap_by_name,
    scraps,
    soft_iron,
    soft_irons,
    steels,
    with_own_shop,
)
from billet.cli.command import main
from billet.errors import RecipeError, UnknownSteel
from billet.tables.steels import find_steel

BAR: dict[str, Any] = {
    "format": 1,
    "title": "A bar",
    "steels": {"1084": "1084", "15N20": "15N20"},
    "stack": {"width_mm": 40, "length_mm": 150, "pattern": ["1084", "15N20"], "count": 7,
              "thickness_mm": {"1084": 3, "15N20": 1.5}},
    "steps": [{"do": "weld", "temperature_c": 1130, "minutes": 10, "height_mm": 12}],
    "control": {"method": "kiln_surveyed"},
    "shop": {"press": True, "oils": [{"name": "tank of theirs", "class": "fast oil"}]},
}  # fmt: skip


def test_what_one_has_counts_before_what_the_recipe_says() -> None:
    mine = {"fire": "kiln_ordinary", "oils": [{"name": "tank 2", "class": "slow oil"}]}
    answered = with_own_shop(BAR, mine)
    assert answered["shop"] == {"press": True, **mine} and "control" not in answered
    assert "control" in BAR and BAR["shop"]["oils"][0]["name"] == "tank of theirs"
    report = plan(answered).report
    assert report.hardening.control is not None and report.hardening.control.half_width_k == 22
    assert report.headline.own_oil == "tank 2"
    assert parse_recipe(answered).steels == parse_recipe(BAR).steels


def test_who_has_told_nothing_gets_the_recipe_as_it_is() -> None:
    assert with_own_shop(BAR, {}) == BAR
    assert with_own_shop(BAR, {"oils": [], "fire": ""}) == BAR


@pytest.mark.parametrize("name", ["canola", "Rapeseed oil, tank 2", "Peanut oil", "frying oil", "soy"])
def test_plant_oils_are_found_by_name(name: str) -> None:
    assert oils_with_classes([{"name": name}]) == [{"name": name, "class": "vegetable oil"}]
    assert own_oil_faults(oils_with_classes([{"name": name}]), "shop.oils") == []


@pytest.mark.parametrize(
    "name", ["engine oil", "used motor oil", "ATF", "engine oil with canola", "diesel", "gasoline"]
)
def test_engine_oil_never_and_why(name: str) -> None:
    [fault] = own_oil_faults(oils_with_classes([{"name": name}]), "shop.oils")
    assert fault.where == "shop.oils[0].name"
    assert "never" in fault.message and "fire" in fault.message


@pytest.mark.parametrize("name", ["cold tank", "cold oil", "platform tank"])
def test_a_word_inside_another_tells_nothing(name: str) -> None:
    assert oil_by_name(name) is None


@pytest.mark.parametrize("speed", [{"nickel_ball_s": 11}, {"class": "fast oil"}])
def test_a_recipe_never_quenches_in_it_either(speed: dict[str, object]) -> None:
    with pytest.raises(RecipeError) as refused:
        plan({**BAR, "shop": {"oils": [{"name": "old motor oil", **speed}]}})
    [fault] = refused.value.faults
    assert fault.where == "shop.oils[0].name" and fault.message.count("never quench in old motor oil") == 1


def test_a_name_that_tells_nothing_asks_for_a_class() -> None:
    assert oil_by_name("the black barrel") is None
    [fault] = own_oil_faults(oils_with_classes([{"name": "the black barrel"}]), "shop.oils")
    assert "class" in fault.message
    told = [{"name": "canola", "class": "medium oil"}]
    assert oils_with_classes(told) == told


@pytest.mark.parametrize(
    ("name", "key"),
    [("leaf spring", "leaf-spring"), ("Old file", "file"), ("bandsaw", "bandsaw"),
     ("band-saw blade", "bandsaw"), ("truck leaf spring 1998", "leaf-spring"), ("wire rope", "cable")],
)  # fmt: skip
def test_scrap_is_known_by_what_it_was(name: str, key: str) -> None:
    found = scrap_by_name(name)
    assert found is not None and found.key == key
    assert found.often and found.why
    with pytest.raises(UnknownSteel, match="see /scrap") as refused:
        find_steel(name)
    assert found.often in str(refused.value)


def test_no_grade_is_taken_for_scrap_or_soft_iron() -> None:
    for steel in steels():
        for name in (steel.designation, *steel.aliases):
            assert scrap_by_name(name) is None and soft_iron(name) is None, name


@pytest.mark.parametrize("name", ["mild steel", "Mild Steel", "S235", "A36", "wrought iron", "puddled iron"])
def test_soft_iron_is_planned_as_cladding_with_a_band_of_carbon(name: str) -> None:
    iron = soft_iron(name)
    assert iron is not None
    with pytest.raises(UnknownSteel, match="see /scrap") as refused:
        find_steel(name)
    written = re.search(r"\{.*\}", str(refused.value))
    assert written is not None and tomllib.loads(f"a = {written[0]}")["a"] == iron.as_steel()
    low, high = iron.carbon_wt
    assert low < iron.wt["C"] < high <= 0.29
    assert iron.manganese_wt[0] < iron.wt["Mn"] < iron.manganese_wt[1]
    bar = {**BAR, "steels": {"1084": "1084", "15N20": iron.as_steel()}}
    report = plan(bar).report
    roles = {row.steel: row.role for row in report.hardening.per_steel}
    assert roles["15N20"] in ("soft", "cladding")
    told = next(n for n in report.notices if n.code == "soft-iron-usual")
    assert told.where == "steels.15N20" and f"{high:.2f}" in told.text


def test_structural_steels_have_the_printed_most_of_their_own() -> None:
    most = {
        name: (iron.carbon_wt[1], iron.manganese_wt[1])
        for name in ("S275", "S355JR", "a36")
        if (iron := soft_iron(name))
    }
    assert most == {"S275": (0.22, 1.5), "S355JR": (0.24, 1.6), "a36": (0.29, 1.35)}


def test_every_kind_is_told_once() -> None:
    words = [word for one in scraps() for word in one.words]
    assert len(words) == len(set(words))
    assert {iron.name for iron in soft_irons()} == {
        "mild steel",
        "S235 or S275",
        "S355",
        "A36",
        "wrought iron",
    }


def test_the_command_takes_a_shop_of_ones_own(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe = Path(__file__).parent.parent / "recipes" / "reed_bed_kitchen.toml"
    shop = tmp_path / "shop.toml"
    shop.write_text('[shop]\nhalf_width_k = 50\n[[shop.oils]]\nname = "canola, tank 2"\n', encoding="utf-8")
    assert main(["plan", str(recipe), "--shop", str(shop)]) == 0
    assert "canola, tank 2" in capsys.readouterr().out
    shop.write_text('[[shop.oils]]\nname = "engine oil"\n', encoding="utf-8")
    assert main(["sheet", str(recipe), "--kind", "harden", "--shop", str(shop)]) == 2
    assert "never quench in engine oil" in capsys.readouterr().err
    shop.write_text("title = 'no shop'\n", encoding="utf-8")
    assert main(["study", str(recipe), "--shop", str(shop)]) == 2
    assert "no table [shop]" in capsys.readouterr().err
