"""The recipes on the first page: where they come from, and what a broken file beside them does."""

from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from billet import example_recipes, examples_folder
from web.app import create_app
from web.settings import Settings, default_recipes

GOOD = next(iter(example_recipes().values()))
BROKEN = {
    "half_saved.toml": (b"format = 1\ntitle = ", "line 2|end of document|ends"),
    "other_letters.toml": (b'title = "\xff\xfe"', "UTF-8"),
    "endless.toml": (b"#" * 1_100_000, "at most 1000000 bytes"),
    "nested.toml": (b"{" * 3000, "cannot be read|nested|line 1"),
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """One good recipe among broken files, and a folder that is named like a file."""
    for name, (content, _) in BROKEN.items():
        (tmp_path / name).write_bytes(content)
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "good.toml").write_bytes(GOOD.read_bytes())
    return tmp_path


@pytest.fixture
def beside_broken(settings: Settings, folder: Path) -> TestClient:
    app = create_app(replace(settings, recipes=folder))
    return TestClient(app, raise_server_exceptions=False, follow_redirects=False)


def test_broken_files_are_told_and_hide_nothing(beside_broken: TestClient) -> None:
    answer = beside_broken.get("/")
    assert answer.status_code == 200
    assert 'href="recipes/good"' in answer.text
    assert "Files that cannot be read" in answer.text
    for name in (*BROKEN, "folder.toml"):
        assert name in answer.text
        assert f'"/recipes/{name.removesuffix(".toml")}"' not in answer.text


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_asked_for_is_refused_with_its_reason(beside_broken: TestClient, name: str) -> None:
    answer = beside_broken.get(f"/recipes/{name.removesuffix('.toml')}", headers={"accept": "text/html"})
    assert answer.status_code == 422
    assert any(part in answer.text for part in BROKEN[name][1].split("|"))


def test_the_good_one_opens(beside_broken: TestClient) -> None:
    assert beside_broken.get("/recipes/good").headers["location"].startswith("../plan?r=")


def test_no_broken_file_no_heading(client: TestClient) -> None:
    assert "Files that cannot be read" not in client.get("/").text


def test_an_example_too_long_for_a_link_is_told(settings: Settings, tmp_path: Path) -> None:
    plates = ",".join(f'{{steel="dark",thickness_mm={1 + n / 1000:.3f}}}' for n in range(1500))
    text = f'format=1\ntitle="long"\n[steels]\ndark="1084"\n[stack]\nplates=[{plates}]\n'
    (tmp_path / "long.toml").write_text(text, encoding="utf-8")
    client = TestClient(create_app(replace(settings, recipes=tmp_path)), follow_redirects=False)
    answer = client.get("/recipes/long")
    assert answer.status_code == 422 and "too long for a link" in answer.text


def test_a_folder_that_is_not_there_shows_no_recipes(settings: Settings, tmp_path: Path) -> None:
    client = TestClient(create_app(replace(settings, recipes=tmp_path / "nothing")))
    assert client.get("/").status_code == 200


def test_recipes_of_ones_own_come_before_those_that_ship(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert default_recipes() == examples_folder()
    (tmp_path / "recipes").mkdir()
    assert default_recipes() == tmp_path / "recipes"


def test_a_file_that_changed_is_told_as_it_is_now(beside_broken: TestClient, folder: Path) -> None:
    assert "Another title" not in beside_broken.get("/").text
    text = GOOD.read_text(encoding="utf-8")
    title = next(line for line in text.splitlines() if line.startswith("title"))
    (folder / "good.toml").write_text(text.replace(title, 'title = "Another title"'), encoding="utf-8")
    assert "Another title" in beside_broken.get("/").text
