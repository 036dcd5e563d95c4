"""In an inch shop every worded line of a page reads as its figures do: Fahrenheit first, no kelvin."""

import html
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from billet import fahrenheit_first, load_recipe_text
from web.http.address import encode

RECIPES = Path(__file__).resolve().parents[2] / "recipes"
PHRASING = re.compile(r"</?(?:a|b|em|i|small|span|sub|sup|tspan)\b[^>]*>")
KELVIN = re.compile(r"\d\s?K\b|\bK/s\b")
CELSIUS_FIRST = re.compile(r"°C\s?(?:/|\()")


def told(page: str) -> list[str]:
    """The words between the tags that break a line, drawings and their titles too."""
    parts = re.split(r"<[^>]+>", PHRASING.sub("", page))
    return [re.sub(r"\s+", " ", html.unescape(part)) for part in parts if part.strip()]


@pytest.mark.parametrize("page", ["plan", "anvil", "design", "study", "uncertainty"])
@pytest.mark.parametrize(
    "name", ["reed_bed_kitchen", "first_rain", "no_shared_window", "twin_cord_composite"]
)
def test_a_page_of_a_bar_in_inches(name: str, page: str, client: TestClient) -> None:
    coded = encode(load_recipe_text((RECIPES / f"{name}.toml").read_text(encoding="utf-8")))
    words = told(client.get(f"/{page}?r={coded}&units=inch").text)
    counted_without_heat = (name, page) == ("no_shared_window", "uncertainty")
    assert counted_without_heat or any("°F /" in part or "°F (" in part for part in words)
    assert [part for part in words if KELVIN.search(part)] == []
    turned = [re.sub(r"°F\s?/ .*?°C", "", part) for part in words]
    assert [part for part in turned if CELSIUS_FIRST.search(part)] == []


@pytest.mark.parametrize("page", ["/", "/partners?steel=1084"])
def test_the_other_pages_in_inches(page: str, client: TestClient) -> None:
    words = told(client.get(page + ("&" if "?" in page else "?") + "units=inch").text)
    assert [part for part in words if KELVIN.search(part) or CELSIUS_FIRST.search(part)] == []


def test_a_millimetre_page_keeps_its_words(client: TestClient) -> None:
    coded = encode(load_recipe_text((RECIPES / "reed_bed_kitchen.toml").read_text(encoding="utf-8")))
    words = " ".join(told(client.get(f"/plan?r={coded}").text))
    assert KELVIN.search(words)
    assert CELSIUS_FIRST.search(words)


def test_a_rate_is_turned_with_its_band() -> None:
    rate = "must cool at 130\u202fK/s (67 to 240) or faster, 5.7\u202fK/s at the least"
    turned = "must cool at 230\u202f°F/s (120 to 430) or faster, 10\u202f°F/s at the least"
    assert fahrenheit_first(rate) == turned
    assert fahrenheit_first(turned) == turned


def keypads(page: str) -> dict[str, str]:
    """What a telephone is told to offer for every field that is typed in, by its id."""
    fields = (dict(re.findall(r'([\w-]+)="([^"]*)"', tag)) for tag in re.findall(r"<input ([^>]*)>", page))
    typed = (field for field in fields if field.get("type", "text") == "text")
    return {field["id"]: field.get("inputmode", "text") for field in typed}


@pytest.mark.parametrize(("units", "length"), [("mm", "decimal"), ("inch", "text")])
def test_a_telephone_offers_the_slash_where_inches_are_written_as_fractions(
    units: str, length: str, client: TestClient
) -> None:
    coded = encode(load_recipe_text((RECIPES / "rope_walk_twist.toml").read_text(encoding="utf-8")))
    pages = {
        name: client.get(f"/{name}?r={coded}&units={units}").text for name in ("design", "plan", "anvil")
    }
    design, plan, anvil = (keypads(page) for page in pages.values())
    lengths = [name for name in design if re.search(r"_mm(\[|$)", name)]
    assert len(lengths) > 10 and {design[name] for name in lengths} == {length}
    assert {design[name] for name in design if name.endswith((".minutes", ".temperature_c"))} == {"decimal"}
    assert design["stack.count"] == "numeric"
    assert {design[name] for name in design if name.endswith(".turns")} == {"text"}, "to the left is below 0"
    assert plan["midway-height_mm"] == plan["cut-ground"] == length and plan["cut-angle"] == "decimal"
    came = [name for name in anvil if re.fullmatch(r"came-\d+", name) and anvil[name] != "text"]
    assert bool(came) == (length == "decimal")
