"""The command `billet`: what it prints, what it refuses, and that it never shows a traceback."""

import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import refused_steps
import refused_tables
from recipe_samples import good
from starlette.testclient import TestClient

from billet.cli import main
from web.app import create_app
from web.settings import Settings

ROOT = Path(__file__).resolve().parent.parent
REED_BED = str(ROOT / "recipes" / "reed_bed_kitchen.toml")


def as_json(recipe: Any) -> str | None:
    """The recipe as JSON; None for one that no JSON text can hold (an integer of thousands of digits)."""
    try:
        return json.dumps(recipe)
    except ValueError:
        return None


CASES = [
    (name, text)
    for name, recipe, _, _ in [*refused_tables.CASES, *refused_steps.CASES]
    if (text := as_json(recipe)) is not None
]


@pytest.fixture(autouse=True)
def no_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """The width of whoever runs the tests decides nothing."""
    monkeypatch.delenv("COLUMNS", raising=False)


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Put bytes on standard input."""

    def put(content: bytes) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(content), encoding="utf-8"))

    return put


def refusal(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    """What a refused call tells: the first fault in one line, each other one in a line below it."""
    assert main(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    first, *others = err.removesuffix("\n").split("\n")
    assert first.startswith("billet: ") and "Traceback" not in err
    assert len(others) < 20 and all(line.startswith("  ") and line.strip() for line in others)
    assert len(first) < 600
    if others:
        assert f"(and {len(others)} more fault{'s' if len(others) > 1 else ''})" in first
    return err


def answer(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    assert main(arguments) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return out


def test_there_are_thirty_kinds_of_bad_recipe_and_more() -> None:
    assert len({name for name, _ in CASES}) >= 30


@pytest.mark.parametrize("text", [c[1] for c in CASES], ids=[c[0] for c in CASES])
def test_a_bad_recipe_is_one_readable_sentence(
    text: str, typed: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(text.encode())
    assert len(refusal(["plan", "-", "--json"], capsys)) > 25


@pytest.fixture(scope="module")
def client() -> Any:
    with TestClient(create_app(Settings(recipes=ROOT / "recipes")), raise_server_exceptions=False) as started:
        yield started


# Half a character is no JSON to the service: it answers 400 before it looks for a recipe.
ASKED = [case for case in CASES if "\\ud800" not in case[1]]


@pytest.mark.parametrize("text", [c[1] for c in ASKED], ids=[c[0] for c in ASKED])
def test_the_service_says_the_same(
    text: str, client: TestClient, typed: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    answered = client.post("/api/plan", content=text, headers={"content-type": "application/json"})
    assert answered.status_code == 422
    assert answered.headers["content-type"].startswith("application/problem+json")
    typed(text.encode())
    said = refusal(["plan", "-"], capsys)
    first = answered.json()["errors"][0]
    told = f"{first['where']}: {first['message']}" if first["where"] else first["message"]
    assert said.startswith(f"billet: {told}")


def test_more_faults_are_counted(typed: Any, capsys: pytest.CaptureFixture[str]) -> None:
    typed(json.dumps({**good(), "stak": {}, "titel": "x", "blad": {}}).encode())
    first, *others = refusal(["plan", "-"], capsys).splitlines()
    assert "and 2 more faults" in first
    told = "\n".join([first, *others])
    assert all(key in told for key in ("stak", "titel", "blad"))


def test_json_is_the_report_and_nothing_else(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(answer(["plan", REED_BED, "--json"], capsys))
    assert found["format"] == 1 and found["hardening"]["set_point_c"] == 815


@pytest.mark.parametrize("units", ["mm", "inch"])
def test_a_plan_in_words(units: str, capsys: pytest.CaptureFixture[str]) -> None:
    text = answer(["plan", REED_BED, "--units", units], capsys)
    assert "Harden at 815 °C / 1499 °F, fast oil" in text
    assert {"mm": "26 × 40 × 197 mm", "inch": "1.02 × 1.57 × 7.75 in"}[units] in text


@pytest.mark.parametrize("kind", ["forge", "harden", "kiln", "buyer", "label"])
def test_sheets(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "Reed bed, kitchen bar" in answer(["sheet", REED_BED, "--kind", kind], capsys)


@pytest.mark.parametrize(
    ("name", "designation"),
    [
        ("1084", "1084"), ("G10840", "1084"), ("1.3505", "100Cr6"), ("52100", "52100"), ("75Ni8", "75Ni8"),
        ("15n20", "75Ni8"), ("O1", "O1"), ("1.2510", "95MnWCr5"), ("X46Cr13", "X46Cr13"),
        ("AISI 304", "X5CrNi18-10"), ("2.4066", "Ni99.2"),
    ],
)  # fmt: skip
def test_a_steel_by_any_of_its_names(name: str, designation: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(answer(["steels", name, "--json"], capsys))
    assert found["designation"] == designation


def test_the_library_lists_every_grade(capsys: pytest.CaptureFixture[str]) -> None:
    assert len(json.loads(answer(["steels", "--json"], capsys))) == 66


def test_unknown_steels_name_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert "75Ni8" in refusal(["steels", "75Ni9"], capsys)
    assert "1074" in refusal(["steels", "1074/1075"], capsys)


@pytest.mark.parametrize(
    "arguments",
    [["52100", "--at", "845", "--start", "spheroidised"], ["--wt", "C=0.95,Mn=0.4,Si=0.2", "--at", "800"]],
)
def test_the_state_of_a_steel(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(answer(["state", *arguments, "--json"], capsys))
    assert set(found) >= {
        "ae1_c", "ae3_c", "acm_c", "equilibrium", "after_soak", "ms_c", "retained_austenite", "hrc",
        "notices",
    }  # fmt: skip
    assert set(found["equilibrium"]) >= {"austenite", "ferrite", "carbide", "austenite_carbon_wt"}
    assert set(found["ms_c"]) == {"value", "low", "high"}


@pytest.mark.parametrize(
    "arguments",
    [
        ["plam"], ["plan"], ["plan", "no/such/file.toml"], ["plan", "."], ["sheet", REED_BED],
        ["sheet", REED_BED, "--kind", "poster"], ["plan", REED_BED, "--units", "ell"],
        ["state", "1084"], ["state", "1084", "--at", "nan"], ["state", "1084", "--at", "1e999"],
        ["state", "1084", "--at", "hot"], ["state", "--at", "800"], ["state", "--wt", "C", "--at", "800"],
        ["state", "--wt", "C=nan", "--at", "800"], ["state", "--wt", "Xx=1", "--at", "800"],
        ["state", "1084", "--wt", "C=1", "--at", "800"], ["plan", REED_BED, "--bars", "0"],
        ["state", "--wt", "C=0.8,C=0.9", "--at", "800"], ["state", "1084", "--at", "1e308"],
        ["state", "1084", "--at", "9" * 400], ["state", "1084", "--at", "815K"],
        ["plan", REED_BED, "--json", "--units", "inch"], ["plan", REED_BED, "--csv", "--units", "mm"],
        ["plan", REED_BED, "--json", "--csv"], ["plan", REED_BED, "--bars", "9", "--units", "mm"],
        ["plan", REED_BED, "--bars", "9", "--csv"], ["study", REED_BED, "--json", "--units", "inch"],
        ["steels", "--units", "inch"], ["state", "1084", "--at", "815", "--units", "inch"],
        ["plan", "nul\0name"], ["plan", "x" * 5000], ["examples", "no_such"], ["completion", "fish"],
        ["completion"], ["study"],
    ],
)  # fmt: skip
def test_bad_arguments(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    refusal(arguments, capsys)


@pytest.mark.parametrize(
    "content",
    [
        b"", b"\xff\xfe\x00binary\x00", b"= nonsense", b"x" * 3_000_000, b'{"a":' * 20_000, b"[" * 20_000,
        b'format = ' + b"9" * 5_000, b'{"format": ' + b"9" * 5_000 + b"}", b"title = nan", b'{"format": NaN}',
    ],
    ids=["empty", "binary", "no toml", "3 MB", "deep", "deep list", "huge", "huge json", "nan", "json nan"],
)  # fmt: skip
def test_what_is_no_recipe(content: bytes, typed: Any, capsys: pytest.CaptureFixture[str]) -> None:
    typed(content)
    refusal(["plan", "-"], capsys)


def test_a_real_process_answers_and_refuses(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "billet", "plan"]
    fine = subprocess.run([*command, REED_BED], cwd=ROOT, capture_output=True, text=True, check=False)
    assert fine.returncode == 0 and "Harden at" in fine.stdout and fine.stderr == ""
    bad = tmp_path / "bad.toml"
    bad.write_text("format = 1\n", encoding="utf-8")
    refused = subprocess.run([*command, str(bad)], cwd=ROOT, capture_output=True, text=True, check=False)
    assert refused.returncode == 2 and refused.stdout == "" and "Traceback" not in refused.stderr
