"""The command that draws a bar."""

import json
from pathlib import Path

import pytest
from figure_recipes import FIGURES

from billet import FaceAsked, face
from billet.cli import main

SIGNATURE = b"\x89PNG\r\n\x1a\n"


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "ladder.json"
    path.write_text(json.dumps(FIGURES["ladder"]), encoding="utf-8")
    return path


@pytest.mark.parametrize("view", ["face", "edge", "end", "bevel"])
def test_a_view_goes_to_a_file_and_its_words_to_the_terminal(
    recipe: Path, tmp_path: Path, view: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "bar.png"
    assert main(["face", str(recipe), "--view", view, "--width", "200", "--out", str(out)]) == 0
    assert out.read_bytes() == face(FIGURES["ladder"], FaceAsked(view, 200)).png()  # type: ignore[arg-type]
    told = capsys.readouterr().out
    assert "ground off" in told and "One possible hand." in told


def test_every_option_reaches_the_picture(recipe: Path, tmp_path: Path) -> None:
    out = tmp_path / "bar.png"
    options = "--view bevel --width 300 --ground 1.1 --from 20 --length 60 --angle 6 --blade 25 --no-hand"
    assert main(["face", str(recipe), *options.split(), "--out", str(out)]) == 0
    asked = FaceAsked("bevel", 300, 1.1, False, 20.0, 60.0, 6.0, 25.0)
    assert out.read_bytes() == face(FIGURES["ladder"], asked).png()


def test_the_picture_itself_goes_to_standard_output(
    recipe: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["face", str(recipe), "--width", "64", "--out", "-"]) == 0
    assert capfdbinary.readouterr().out.startswith(SIGNATURE)


@pytest.mark.parametrize(
    "options, words",
    [
        (["--ground", "40"], "mm ground off must be from 0 to under 6"),
        (["--width", "3"], "16 to 6000"),
        (["--view", "side"], "invalid choice"),
        ([], "--out"),
        (["--out", "/nowhere/at/all.png"], "cannot write"),
        (["--out", "a\0b.png"], "cannot write"),
    ],
)
def test_what_cannot_be_drawn_is_told_in_one_line(
    recipe: Path, tmp_path: Path, options: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = [] if not options or "--out" in options else ["--out", str(tmp_path / "bar.png")]
    assert main(["face", str(recipe), *options, *out]) == 2
    told = capsys.readouterr()
    assert words in told.err and told.err.count("\n") == 1 and not told.out
    assert not list(tmp_path.glob("*.png"))
