"""The commands over many bars: text, JSON and CSV, and what is refused."""

import csv
import io
import json
from pathlib import Path

import pytest
from recipe_samples import good

from billet.cli import main

WISH = """\
format = 1
[steels]
dark = "1084"
bright = "75Ni8"
[want]
thickness_mm = 5
width_mm = 40
length_mm = 280
layers = 30
[stock]
width_mm = 40
thickness_mm = { dark = [2, 3], bright = [1.5, 2] }
price_kg = { dark = 4, bright = 12 }
[limits]
stack_mm = 60
bar_mm = 600
"""


@pytest.fixture
def recipe(tmp_path: Path) -> str:
    path = tmp_path / "bar.json"
    path.write_text(json.dumps(good()), encoding="utf-8")
    return str(path)


@pytest.fixture
def wish(tmp_path: Path) -> str:
    path = tmp_path / "wish.toml"
    path.write_text(WISH, encoding="utf-8")
    return str(path)


def said(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> str:
    assert main(arguments) == code
    told = capsys.readouterr()
    return told.err if code else told.out


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_sweep(recipe: str, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ("sweep", recipe, "--vary", "steps[0].minutes=6:18:6")
    assert "3 values" in said(capsys, *asked)
    table = rows(said(capsys, *asked, "--csv"))
    found = json.loads(said(capsys, *asked, "--json"))
    assert [float(row["value"]) for row in table] == [6, 12, 18] == [row["value"] for row in found["rows"]]
    assert float(table[0]["carbon_wt.dark"]) == found["rows"][0]["carbon_wt"]["dark"]
    assert "at most 400 values" in said(capsys, "sweep", recipe, "--vary", "a=1:2:0.0001", code=2)
    assert "--vary" in said(capsys, "sweep", recipe, code=2)


def test_partners(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "partners", "1084", "--sort", "contrast", "--oil", "9.5", "--fire", "kiln_ordinary")
    assert "75Ni8" in text and "hardens together" in text
    found = json.loads(said(capsys, "partners", "--wt", "C=1.25,Mn=0.3", "--json"))
    table = rows(said(capsys, "partners", "--wt", "C=1.25,Mn=0.3", "--csv", "--sort", "name"))
    assert [name for name in table[0] if "apart" in name] == ["ms.apart_k", "ms.apart_band_k"]
    assert len(found["rows"]) == len(table) > 60
    assert {"hardens.verdict", "hardens.because", "carbon_wt.own"} <= set(table[0])
    assert "not both" in said(capsys, "partners", "1084", "--wt", "C=1", code=2)
    assert "unobtainium" in said(capsys, "partners", "unobtainium", code=2)


def test_every_pair_as_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(said(capsys, "partners", "--json"))
    count = len(found["steels"])
    assert len(rows(said(capsys, "partners", "--csv"))) == count * (count - 1)
    assert "columns in the order of the rows" in said(capsys, "partners")


def test_wish(wish: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "Proposal 1" in said(capsys, "wish", wish)
    found = json.loads(said(capsys, "wish", wish, "--json"))
    table = rows(said(capsys, "wish", wish, "--csv"))
    assert sum(float(row["cost"]) for row in table if row["proposal"] == "1") == pytest.approx(
        found["proposals"][0]["cost"]
    )
    assert "leave out --units" in said(capsys, "wish", wish, "--json", "--units", "inch", code=2)


def test_a_wish_without_an_answer_names_what_is_in_the_way(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "short.toml"
    path.write_text(WISH.replace("bar_mm = 600", "bar_mm = 200"), encoding="utf-8")
    text = said(capsys, "wish", str(path))
    assert (
        "No schedule makes this bar" in text and "the longest bar in the fire" in text and "Nearest" in text
    )


def test_partners_are_asked_for_with_the_shop_of_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop = tmp_path / "shop.toml"
    shop.write_text(
        '[shop]\nfire = "kiln_ordinary"\noils = [{ name = "canola" }, { name = "b", nickel_ball_s = 9.5 }]\n'
    )
    assert main(["partners", "1084", "--shop", str(shop), "--json"]) == 0
    by_file = json.loads(capsys.readouterr().out)
    typed = ["--fire", "kiln_ordinary", "--oil", "vegetable oil", "--oil", "9.5"]
    assert main(["partners", "1084", *typed, "--json"]) == 0
    assert by_file == json.loads(capsys.readouterr().out)
    assert main(["partners", "1084", "--shop", str(shop), "--oil", "fast oil", "--json"]) == 0
    assert by_file != json.loads(capsys.readouterr().out), "what is typed comes before the shop"
    shop.write_text('[shop]\noils = [{ name = "of my own" }]\n')
    assert main(["partners", "1084", "--shop", str(shop)]) == 2
    assert "nickel-ball seconds" in capsys.readouterr().err
    shop.write_text("[steels]\n")
    assert main(["partners", "1084", "--shop", str(shop)]) == 2
