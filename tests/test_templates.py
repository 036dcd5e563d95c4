"""What every page owes to readers who do not see it, and to the strict policy it is sent under."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from drawn_report import APART, REPORT, SOFT

from billet import (
    austenitised_state,
    build_sheet,
    computation_methods,
    control_methods,
    find_steel,
    glossary,
    load_recipe_text,
    parse_recipe,
    plain_line_points,
    plan,
    practice_groups,
    steels,
    study,
)
from web import pages
from web.anvil import forging_heats, treatment_heats
from web.anvil_pages import Anvil, Lan
from web.bench_pages import Design
from web.faces import NO_FACES, Faces
from web.form.actions import new_draft
from web.form.known import known
from web.form.starts import NAMES
from web.form.writing import write_form
from web.http.links import Links
from web.qr import qr_svg
from web.rendering import make_environment, page_names
from web.state_question import curve_of

ROOT = Path(__file__).resolve().parent.parent
STATIC = ROOT / "web" / "static"
TEMPLATES = ROOT / "web" / "templates"
VOID = {"input", "meta", "link", "br", "img", "hr"}


@dataclass
class Tag:
    name: str
    attributes: dict[str, str]
    inside: tuple[str, ...]
    words: str = ""


@dataclass
class Page(HTMLParser):
    """The elements of a page in order, each with the names of what it stands in."""

    tags: list[Tag] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self.open: list[Tag] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = Tag(tag, {k: v or "" for k, v in attrs}, tuple(t.name for t in self.open))
        self.tags.append(found)
        if tag not in VOID:
            self.open.append(found)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(Tag(tag, {k: v or "" for k, v in attrs}, tuple(t.name for t in self.open)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open[-1].name == tag, f"</{tag}> closes <{self.open[-1].name}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        for tag in self.open:
            tag.words += data

    def named(self, *names: str) -> list[Tag]:
        return [tag for tag in self.tags if tag.name in names]


def read(text: str) -> Page:
    page = Page()
    page.feed(text)
    assert not page.open, [tag.name for tag in page.open]
    return page


def links(here: str, address: str | None = None, units: Any = "mm") -> Links:
    return Links(here=here, units=units, address=address)


def rendered(page: pages.Page) -> str:
    return make_environment().get_template(page.template).render(page_names(page))


def recipe(name: str) -> Any:
    return parse_recipe(load_recipe_text((ROOT / "recipes" / f"{name}.toml").read_text()))


def plan_page(report: Any, address: str | None = "abc", units: Any = "mm") -> pages.Plan:
    return pages.Plan(
        links=links("/plan", address, units), version="1", report=report, recipe_text="{}", public_link=None,
        faces=Faces(()),
    )  # fmt: skip


def anvil_page(report: Any) -> Anvil:
    return Anvil(
        links=links("/anvil", "abc"), version="1", report=report, forging=forging_heats(report),
        treatment=treatment_heats(report), recipe_text="{}",
    )  # fmt: skip


def sheet_page(kind: Any, report: Any) -> pages.Page:
    context = pages.LabelPage if kind == "label" else pages.SheetPage
    return context(
        links=links(f"/sheet/{kind}", "abc"), version="1", kind=kind, sheet=build_sheet(report, kind, "mm"),
        report=report, public_link=None, qr_svg=None,
    )  # fmt: skip


def every_page() -> Iterator[tuple[str, pages.Page]]:
    reed, apart = plan(recipe("reed_bed_kitchen")).report, plan(recipe("no_shared_window")).report
    for name, report in (("plan", reed), ("none", apart), ("drawn", REPORT), ("gap", APART), ("soft", SOFT)):
        yield name, plan_page(report)
    for name in ("reed_bed_kitchen", "no_shared_window"):
        told = study(recipe(name))
        yield (
            f"study of {name}",
            pages.StudyPage(links=links("/study", "abc"), version="1", study=told, recipe_text="{}"),
        )
    yield "plan with a range of its own", plan_page(plan(recipe("rope_walk_twist")).report)
    yield "plan in inches, posted", plan_page(reed, None, "inch")
    for name, report in (("anvil", reed), ("anvil without a window", apart)):
        yield name, anvil_page(report)
    yield "lan", Lan(links=links("/lan"), version="1")
    link = "http://192.0.2.7:8000/"
    yield (
        "lan with its code",
        Lan(links=links("/lan"), version="1", home=link, link=link, qr_svg=qr_svg(link)),
    )
    for kind in ("forge", "harden", "buyer", "label"):
        yield f"sheet {kind}", sheet_page(kind, reed)
        yield f"sheet {kind} without a window", sheet_page(kind, apart)
    card = pages.RecipeCard("reed", "Reed bed", "The plain case.", face=None)
    yield "home", pages.Home(links=links("/"), version="1", recipes=[card])
    form = write_form(new_draft(), (), "mm", known())
    common: dict[str, Any] = {
        "version": "1",
        "form": form,
        "recipe_text": "{}",
        "too_long": False,
        "draft_text": "",
    }
    common |= {"made": links("/design", "abc"), "starts": NAMES, "faces": NO_FACES}
    yield "design", Design(links=links("/design"), report=None, faults=(), **common)
    yield "design with answer", Design(links=links("/design", "abc"), report=reed, faults=(), **common)
    yield "steels", pages.Steels(links=links("/steels"), version="1", search="", steels=steels())
    yield "steel", pages.SteelPage(links=links("/steels/O1"), version="1", steel=find_steel("O1"))
    yield "glossary", pages.Glossary(links=links("/glossary"), version="1", terms=glossary())
    yield (
        "methods",
        pages.Methods(
            links=links("/methods"),
            version="1",
            methods=control_methods(),
            formulas=computation_methods(),
            rules=practice_groups(),
            plain_line=plain_line_points(),
        ),
    )
    question = pages.StateQuestion("1084", {"C": "", "Mn": ""}, "800", "normalised")
    state = austenitised_state(find_steel("1084").nominal, 800.0)
    for name, found in (("state", state), ("state unasked", None)):
        curve = curve_of(question) if found else None
        yield (
            name,
            pages.StatePage(
                links=links("/state"),
                version="1",
                question=question,
                state=found,
                told=(),
                curve=curve,
                faults=(),
            ),
        )
    asked = pages.PyrometerQuestion("820", "0.9", "0.8", "one", "")
    for name, answer in (("pyrometer", 840.0), ("pyrometer unasked", None)):
        yield (
            name,
            pages.Pyrometer(
                links=links("/pyrometer"),
                version="1",
                question=asked,
                bands=("one",),
                answer=answer,
                faults=(),
            ),
        )
    yield (
        "error",
        pages.ErrorPage(links=links("/x"), version="1", status=404, heading="Not here", detail="", faults=()),
    )


@pytest.fixture(scope="module")
def texts() -> dict[str, str]:
    return {name: rendered(page) for name, page in every_page()}


@pytest.fixture(scope="module")
def read_pages(texts: dict[str, str]) -> dict[str, Page]:
    return {name: read(text) for name, text in texts.items()}


def test_nothing_the_policy_forbids(read_pages: dict[str, Page]) -> None:
    """No inline style or script, no handler in an attribute, nothing from another host."""
    for name, page in read_pages.items():
        for tag in page.tags:
            assert "style" not in tag.attributes, (name, tag)
            assert tag.name != "style", name
            assert not any(key.startswith("on") for key in tag.attributes), (name, tag)
            source = tag.attributes.get("src", tag.attributes.get("href", ""))
            if tag.name in ("script", "link", "img"):
                assert not urlsplit(source).netloc and not source.startswith("/"), (name, source)
        assert all("src" in tag.attributes for tag in page.named("script")), name


def test_headings_go_down_one_by_one(read_pages: dict[str, Page]) -> None:
    for name, page in read_pages.items():
        levels = [int(tag.name[1]) for tag in page.named("h1", "h2", "h3", "h4")]
        assert levels.count(1) == 1 and levels[0] == 1, (name, levels)
        jumps = [b - a for a, b in pairwise(levels)]
        assert max(jumps, default=0) <= 1, (name, levels)


def test_ids_stand_once_and_what_is_referred_to_is_there(read_pages: dict[str, Page]) -> None:
    for name, page in read_pages.items():
        ids = [tag.attributes["id"] for tag in page.tags if "id" in tag.attributes]
        assert len(ids) == len(set(ids)), (name, {i for i in ids if ids.count(i) > 1})
        for tag in page.tags:
            for key in ("aria-labelledby", "aria-describedby", "for"):
                for wanted in tag.attributes.get(key, "").split():
                    assert wanted in ids, (name, key, wanted)


def test_every_field_has_a_label(read_pages: dict[str, Page]) -> None:
    for name, page in read_pages.items():
        labelled = {tag.attributes.get("for") for tag in page.named("label")}
        for tag in page.named("input", "select", "textarea"):
            if tag.attributes.get("type") != "hidden":
                assert tag.attributes.get("id") in labelled, (name, tag)


def test_every_table_has_a_caption_and_scopes(read_pages: dict[str, Page]) -> None:
    for name, page in read_pages.items():
        assert len(page.named("caption")) == len(page.named("table")), name
        assert all(tag.attributes.get("scope") in ("col", "row") for tag in page.named("th")), name


def test_landmarks_a_language_and_a_way_past_the_links(read_pages: dict[str, Page]) -> None:
    for name, page in read_pages.items():
        assert page.named("html")[0].attributes["lang"] == "en"
        assert len(page.named("main")) == 1, name
        assert any(tag.attributes.get("href") == "#content" for tag in page.named("a")), name
        assert all(tag.words.strip() for tag in page.named("button", "summary", "title", "h1", "h2", "h3")), (
            name
        )


def test_words_of_the_glossary_are_where_the_links_lead(
    texts: dict[str, str], read_pages: dict[str, Page]
) -> None:
    there = {tag.attributes.get("id") for tag in read_pages["glossary"].named("dt")}
    led = {
        word
        for text in texts.values()
        for word in re.findall(r'class="word" href="glossary[^"#]*#([^"]+)"', text)
    }
    assert led and led <= there, led - there


def test_every_class_of_a_drawing_has_its_pen(read_pages: dict[str, Page]) -> None:
    css = "".join((STATIC / name).read_text() for name in ("drawing.css", "sheet.css", "paper.css"))
    drawn = {"svg", "g", "line", "rect", "polyline", "polygon", "circle", "text", "path"}
    classes = {
        word
        for page in read_pages.values()
        for tag in page.tags
        if tag.name in drawn
        for word in tag.attributes.get("class", "").split()
    }
    assert classes, "nothing was drawn"
    assert {word for word in classes if not re.search(rf"\.{re.escape(word)}\b", css)} <= UNSTYLED


UNSTYLED = {
    "drawing", "set-point", "label", "dimension-label", "curve-after", "dash-0",
    *(f"ground-{index}" for index in range(8)),
}  # fmt: skip
"""Classes that only name what a thing is: it is drawn as everything is."""


def test_templates_trust_nothing() -> None:
    for path in TEMPLATES.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"\|\s*safe\b|autoescape\s+false", text), path.name


def colours(css: str, dark: bool) -> dict[str, str]:
    """The colours of the sheet, light or dark."""
    blocks = re.findall(r":root \{(.*?)\}", css, flags=re.S)
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", blocks[1 if dark else 0]))


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    shares = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("dark", (False, True))
@pytest.mark.parametrize("ground", ("paper", "desk"))
@pytest.mark.parametrize("ink", ("ink", "ink-soft", "heat", "cold"))
def test_text_stands_out_from_the_paper(ink: str, ground: str, dark: bool) -> None:
    """4.5 : 1 at least, on the light and on the dark sheet (WCAG 2.2, 1.4.3)."""
    found = colours((STATIC / "sheet.css").read_text(), dark)
    light, deep = sorted((luminance(found[ink]), luminance(found[ground])), reverse=True)
    assert (light + 0.05) / (deep + 0.05) >= 4.5


def test_paper_names_no_size_and_keeps_its_margin() -> None:
    css = (STATIC / "print.css").read_text()
    assert re.search(r"@page \{ margin: 12mm; \}", css)
    assert "size:" not in css.replace("font-size:", "")
