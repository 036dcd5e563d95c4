"""Rules return codes with values; the report's words alone make sentences, and no one reads them back."""

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from recipe_samples import good

from billet import Planned, build_sheet, load, plan
from billet.contract.report import Notice, Report
from billet.forging.burning import heat_findings
from billet.questions import uncertainty
from billet.recipe.model import Recipe
from billet.report.words.table import TOPICS, all_words
from billet.sheets.model import SHEET_KINDS, Sheet
from billet.sheets.safety import caution_section
from billet.variation.assumptions import assumptions

ROOT = Path(__file__).parent.parent
RECIPES = ("doorstep_folded", "no_shared_window", "frost_line_nickel_sheet")
MARKER = re.compile(r"«[a-z-]+»")
RULES = ("forging", "diffusion", "hardening", "variation", "wish")
TEXTS = {
    "text", "because", "low_because", "high_because", "role_because", "normalise_because", "soak_because",
    "arithmetic", "sentence", "contrast", "advice", "suffers", "why_not", "words", "begin",
}  # fmt: skip
"""Fields of report and study that hold sentences."""
WHOLE_ANSWER = "answer.text"
"""What a command prints: it may be asked whether its last line is closed."""
SEARCHES = {"split", "partition", "rpartition", "startswith", "endswith", "find", "index", "removeprefix"}


@pytest.fixture(scope="module", params=RECIPES)
def planned(request: pytest.FixtureRequest) -> Planned:
    return plan(load(ROOT / "recipes" / f"{request.param}.toml"))


@pytest.fixture
def marked(planned: Planned, monkeypatch: pytest.MonkeyPatch) -> Report:
    """The report of the same facts with every sentence replaced by the code it is made from."""
    _ = planned.report
    for code in all_words():
        monkeypatch.setitem(all_words(), code, lambda _, code=code: f"«{code}»")
    return Planned(planned.recipe, planned.forged, planned.metal, planned.treatment).report


def leaves(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        for key, entry in value.items():
            yield from leaves(entry, f"{path}.{key}")
    elif isinstance(value, list):
        yield f"{path}.length", len(value)
        for place, entry in enumerate(value):
            yield from leaves(entry, f"{path}[{place}]")
    else:
        yield path, value


def only_markers(text: str) -> bool:
    return MARKER.search(text) is not None and not re.search(r"[A-Za-z0-9]", MARKER.sub("", text))


def test_other_words_change_no_fact_of_the_report(planned: Planned, marked: Report) -> None:
    told, reworded = dict(leaves(planned.to_dict())), dict(leaves(marked.to_dict()))
    assert told.keys() == reworded.keys()
    changed = {path for path in told if told[path] != reworded[path]}
    assert changed and all(only_markers(reworded[path]) for path in changed)


def test_every_notice_is_worded_by_its_code_alone(marked: Report) -> None:
    """The cautions of the shop are sentences of the data and stand as they are."""
    worded = [notice for notice in marked.notices if not notice.code.startswith("caution-")]
    assert worded and all(notice.text == f"«{notice.code}»" for notice in worded)


def cells(sheet: Sheet) -> dict[str, str]:
    found = {"statement": sheet.statement, "title": sheet.title}
    for at, section in enumerate(sheet.sections):
        found[f"{at} heading"] = f"{section.kind} {section.heading} {section.columns}"
        for line, row in enumerate(section.rows):
            found |= {f"{at} {line} {place}": cell for place, cell in enumerate(row)}
    return found


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_other_words_change_no_fact_of_a_sheet(planned: Planned, marked: Report, kind: str) -> None:
    """Sections, rows, boxes and every cell but those that hold a sentence of the report."""
    told, reworded = cells(build_sheet(planned.report, kind)), cells(build_sheet(marked, kind))
    assert told.keys() == reworded.keys()
    for place, cell in told.items():
        assert cell == reworded[place] or MARKER.search(reworded[place]), place


def test_other_words_change_no_fact_of_the_count(monkeypatch: pytest.MonkeyPatch) -> None:
    found = plan(load(ROOT / "recipes" / "doorstep_folded.toml"))
    told = uncertainty(found, bars=50).to_dict()
    for code in all_words():
        monkeypatch.setitem(all_words(), code, lambda _, code=code: f"«{code}»")
    reworded = uncertainty(found, bars=50).to_dict()
    assert {key for key in told if told[key] != reworded[key]} == {"sentence", "assumptions"}
    assert reworded["sentence"] == "«count-of-bars»" and all(map(only_markers, reworded["assumptions"]))


class Emitted:
    """The codes that the product puts into a `Reason`."""

    def __init__(self) -> None:
        self.literal: set[str] = set()
        self.patterns: set[str] = set()
        self.kept_in_names: set[str] = set()
        """Every string of a module that hands `Reason` a code by name."""
        for path in sorted((ROOT / "billet").rglob("*.py")):
            self._read(ast.parse(path.read_text(encoding="utf-8")))

    def _read(self, tree: ast.Module) -> None:
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Reason":
                self._code(node.args[0], tree)

    def _code(self, code: ast.expr, tree: ast.Module) -> None:
        match code:
            case ast.Constant(value=str(text)):
                self.literal.add(text)
            case ast.IfExp(body=one, orelse=other):
                self._code(one, tree)
                self._code(other, tree)
            case ast.JoinedStr(values=parts):
                told = [re.escape(p.value) if isinstance(p, ast.Constant) else "[a-z-]+" for p in parts]
                self.patterns.add("".join(told))
            case _:
                strings = (n.value for n in ast.walk(tree) if isinstance(n, ast.Constant))
                self.kept_in_names |= {value for value in strings if isinstance(value, str)}


def test_every_code_has_words_and_every_word_a_code() -> None:
    emitted, worded = Emitted(), set(all_words())
    assert len(emitted.literal) > 80 and emitted.literal <= worded, emitted.literal - worded
    by_pattern = {p: {code for code in worded if re.fullmatch(p, code)} for p in emitted.patterns}
    assert all(by_pattern.values()), by_pattern
    told = emitted.literal | emitted.kept_in_names
    assert not worded - told.union(*by_pattern.values())


def test_every_topic_lies_in_a_file_of_its_own() -> None:
    folder = ROOT / "billet" / "report" / "words"
    assert {path.stem for path in folder.glob("*.py")} == {*TOPICS, "table", "__init__"}


@pytest.mark.parametrize("room", RULES)
def test_rules_make_no_notice(room: str) -> None:
    for path in sorted((ROOT / "billet" / room).rglob("*.py")):
        names = {n.id for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.Name)}
        assert not names & {"Notice", "said", "noticed", "wording"}, path


@pytest.mark.parametrize("folder", ["billet", "web"])
def test_no_code_searches_a_sentence(folder: str) -> None:
    """No `notice.text.partition(...)`, no `"..." in row.arithmetic`."""
    found = []
    for path in sorted((ROOT / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            asked: list[ast.expr] = []
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                asked = [node.func.value] if node.func.attr in SEARCHES else []
            elif isinstance(node, ast.Compare) and isinstance(node.ops[0], ast.In | ast.NotIn):
                asked = node.comparators
            found += [
                f"{path.relative_to(ROOT)}:{e.lineno}"
                for e in asked
                if isinstance(e, ast.Attribute) and e.attr in TEXTS and ast.unparse(e) != WHOLE_ANSWER
            ]
    assert not found


def test_no_template_searches_a_sentence() -> None:
    pattern = re.compile(
        rf"\.({'|'.join(sorted(TEXTS))})\s*(\.\s*({'|'.join(sorted(SEARCHES))})\(|\|\s*replace)"
    )
    for path in sorted((ROOT / "web" / "templates").rglob("*.html")):
        text = path.read_text(encoding="utf-8")
        assert not pattern.search(text) and ".split(" not in text, path


@pytest.mark.parametrize(("chromium_wt", "told"), [(5.0, False), (5.1, True)])
def test_borax_does_not_lift_the_oxide_over_five_percent_of_chromium(chromium_wt: float, told: bool) -> None:
    rich = {"name": "rich", "wt": {"C": 0.6, "Cr": chromium_wt}, "harden_c": [950, 1000]}
    recipe = load(good() | {"steels": {"dark": "1084", "bright": rich}})
    found = [f.reason for f in heat_findings(recipe, {}, _all_laid(recipe)) if f.where == "steps[0]"]
    assert [reason.values["steels"] for reason in found] == ([("bright",)] if told else [])


def _all_laid(recipe: Recipe) -> dict[int, set[str]]:
    return {step.number: set(recipe.steels) for step in recipe.steps}


def test_the_count_tells_how_good_its_carbon_is() -> None:
    found = {reason.code: reason.values for reason in assumptions(load(good()))}
    assert found["count-carbon-response"] == {"carbon_wt": 0.02}


def test_lost_layers_are_told_on_the_sheet_by_step_and_not_by_words() -> None:
    report = plan(load(good())).report
    values = {
        "step": 3,
        "do": "grind",
        "by": "grinding",
        "face": "top",
        "layers": 1,
        "steels": (),
        "now": "a",
    }
    lost = Notice("outer-layer-gone", "caution", "steps[2]", "said otherwise", values)
    section = caution_section(replace(report, notices=(lost,)), frozenset({"grind"}), lambda notice: True)
    rows = [row[1] for row in section.rows if row[0] == "Caution"]
    assert rows == ["Step 3 (grind): outermost layers are lost there; the count allows for it."]
