"""The bar wanted as a form of fields: numbers as people write them, faults in place, lines on the way."""

import json
from dataclasses import replace
from html.parser import HTMLParser
from typing import Any

import pytest
from starlette.testclient import TestClient

from billet import EXAMPLE_WISH, load_recipe_text, propose
from web.app import create_app
from web.form.wish_fields import by_roles, wish_groups, wish_of_form
from web.http.links import Units
from web.settings import Settings

SMALL = {
    "from": "fields", "steels.dark": "1084", "steels.bright": "75Ni8", "want.thickness_mm": "5 mm",
    "want.width_mm": "4 cm", "want.length_mm": "200", "want.layers": "11", "stock.width_mm": "40",
    "stock.thickness_mm.dark": "3", "stock.thickness_mm.bright": "2", "limits.stack_mm": "30",
    "limits.bar_mm": "400", "limits.heats": "9", "stock.price_kg.dark": "4,5", "stock.price_kg.bright": "12",
}  # fmt: skip


class Fields(HTMLParser):
    """The fields of the form with what stands in them, and the ids of all that is said of faults."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.told: dict[str, str] = {}
        self.ids: set[str] = set()
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.ids.add(found.get("id") or "")
        if tag == "input" and found.get("name"):
            self.told[str(found["name"])] = found.get("value") or ""


def test_the_form_opens_with_the_example_and_says_it_again(client: TestClient) -> None:
    fields = Fields(client.get("/wish").text).told
    assert fields["want.thickness_mm"] == "5" and fields["stock.thickness_mm.dark"] == "1.5; 2; 3"
    example = load_recipe_text(EXAMPLE_WISH)
    example["stock"]["width_mm"] = [example["stock"]["width_mm"]]
    assert wish_of_form(fields.items(), "mm") == example


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_fields_give_back_the_wish_that_they_show(units: Units) -> None:
    wish = {**by_roles(load_recipe_text(EXAMPLE_WISH))}
    wish["want"] = {**wish["want"], "core_mm": 1.25, "grind_mm": 0.4, "core": "core"}
    wish["steels"] = {**wish["steels"], "core": "1095"}
    wish["stock"] = {
        "width_mm": [40, 50.8], "thickness_mm": {"dark": [1.5, 3.175], "bright": [2], "core": [3, 4]},
        "price_kg": {"core": 6.5},
    }  # fmt: skip
    shown = [(f.name, f.text) for group in wish_groups(wish, (), units) for f in group.fields]
    assert wish_of_form(shown, units) == wish


def test_numbers_are_read_as_people_write_them() -> None:
    texts = {**SMALL, "stock.thickness_mm.dark": "1,5; 1/8 and 3 mm", "stock.thickness_mm.bright": "2, 2,5"}
    read = wish_of_form(texts.items(), "mm")
    assert read["stock"]["thickness_mm"] == {"dark": [1.5, 3.175, 3], "bright": [2, 2.5]}
    assert read["want"]["width_mm"] == 40 and read["stock"]["price_kg"] == {"dark": 4.5, "bright": 12}
    assert wish_of_form({**SMALL, "want.thickness_mm": "1/4"}.items(), "inch")["want"]["thickness_mm"] == 6.35


def test_fields_are_answered_with_cards(client: TestClient) -> None:
    page = client.post("/wish", data=SMALL)
    assert page.status_code == 200
    first = propose(wish_of_form(SMALL.items(), "mm")).proposals[0]
    assert f"{first.cost:.2f} to pay" in page.text and "Steel to cut" in page.text
    for path in ("plan", "design", "sheet/forge"):
        link = page.text.split(f'href="{path}?r=')[1].split('"')[0].replace("&amp;", "&")
        assert client.get(f"/{path}?r={link}").status_code == 200
    assert Fields(page.text).told["want.layers"] == "11"
    assert 'src="face.png?r=' in page.text


def test_what_is_wrong_stands_at_its_field(client: TestClient) -> None:
    wrong = {"want.thickness_mm": "thick", "stock.thickness_mm.dark": "2; some", "steels.bright": "nosuch"}
    page = client.post("/wish", data={**SMALL, **wrong})
    found = Fields(page.text)
    assert page.status_code == 422
    assert {"want.thickness_mm-fault", "stock.thickness_mm.dark-fault", "steels.bright-fault"} <= found.ids
    assert found.told["want.thickness_mm"] == "thick" and found.told["stock.thickness_mm.dark"] == "2; some"


def test_lines_tell_how_far_it_is_and_end_with_the_page(settings: Settings, client: TestClient) -> None:
    patient = replace(settings, workers=1, answer_s=120.0, wait_for_a_place_s=120.0)
    with TestClient(create_app(patient), follow_redirects=False) as started:
        answer = started.post("/wish/progress", data=SMALL)
        again = started.post("/wish/progress", data=SMALL)
        refused = started.post("/wish/progress", data={**SMALL, "want.layers": "1"})
    lines: list[dict[str, Any]] = [json.loads(line) for line in answer.text.splitlines()]
    told = [line["far"] for line in lines[:-1]]
    assert answer.headers["content-type"] == "application/x-ndjson" and len(told) >= 4
    assert [far["share"] for far in told] == sorted(far["share"] for far in told)
    assert told[-1]["planned"] == told[-1]["chosen"] - 1
    sized, forged, planned, chosen = (told[-1][key] for key in ("sized", "forged", "planned", "chosen"))
    assert lines[-2]["words"] == f"Sized {sized}, forged {forged}, planned {planned} of {chosen}"
    assert lines[-1]["page"] == client.post("/wish", data=SMALL).text
    assert json.loads(again.text) == lines[-1]
    assert refused.status_code == 422 and "want.layers-fault" in json.loads(refused.text)["page"]
