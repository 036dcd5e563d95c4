"""What README shows is tried: its example, its picture, its commands."""

import contextlib
import io
import re
import shlex
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from billet.cli import main
from tests import write_readme_picture as picture

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
NEAR = 8.0
"""Units of the drawing: 0.03 % of carbon. A picture further off is drawn anew."""


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, re.DOTALL)


def test_the_example_runs_and_thicker_mild_plates_leave_less_carbon() -> None:
    [example] = blocks("python")
    assert len(example.splitlines()) <= 10
    told = io.StringIO()
    with contextlib.redirect_stdout(told):
        exec(compile(example, "README.md", "exec"), {})
    rows = re.findall(r"of ([\d.]+) mm: \{'hard': ([\d.]+), 'mild': ([\d.]+)\}", told.getvalue())
    assert [float(mm) for mm, _, _ in rows] == [1.0, 2.0, 3.0, 4.0, 6.0, 8.0]
    hard, mild = ([float(row[column]) for row in rows] for column in (1, 2))
    assert hard == sorted(hard, reverse=True) and mild == sorted(mild, reverse=True)
    assert all(0.18 < m <= h < 0.95 for h, m in zip(hard, mild, strict=True))


def test_the_picture_shows_what_the_library_says_today() -> None:
    def lines(text: str) -> list[list[float]]:
        found = [e for e in ElementTree.fromstring(text).iter() if e.tag.endswith("polyline")]
        return [[float(n) for n in re.split("[ ,]", e.attrib["points"])] for e in found]

    kept, now = lines(picture.PICTURE.read_text(encoding="utf-8")), lines(picture.drawn(picture.swept()))
    assert len(kept) == len(now) == 2
    for old, new in zip(kept, now, strict=True):
        assert old == pytest.approx(new, abs=NEAR, rel=0)


def test_the_commands_are_answered(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (tmp_path / "recipes").symlink_to(ROOT / "recipes")
    monkeypatch.chdir(tmp_path)
    lines = [line for block in blocks("sh") for line in block.splitlines()]
    commands = [line for line in lines if line.startswith(".venv/bin/billet ")]
    assert len(commands) >= 5
    for command in commands:
        assert main(shlex.split(command, comments=True)[1:]) == 0, command
        assert capsys.readouterr().out


def test_every_file_it_links_to_is_there() -> None:
    for target in re.findall(r"\]\(([^)]+)\)", README):
        assert (ROOT / target).is_file(), target
