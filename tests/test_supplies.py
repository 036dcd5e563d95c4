"""What comes from others: bounded and pinned packages, and vendored files that nobody has changed."""

import hashlib
import re
import tomllib
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parent.parent
PROJECT: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
WANTED = [*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["test"]]
VENDORED: dict[str, Any] = tomllib.loads((ROOT / "tests" / "vendored.toml").read_text(encoding="utf-8"))
VENDOR_FOLDERS = (ROOT / "web" / "static" / "vendor", ROOT / "tests" / "browser" / "axe")


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def pinned() -> dict[str, str]:
    lines = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pairs = [line.split("==") for line in lines if not line.startswith("#")]
    return {plain(name): told for name, told in pairs}


@pytest.mark.parametrize("wanted", WANTED)
def test_every_package_has_both_bounds_and_is_pinned_within_them(wanted: str) -> None:
    requirement = Requirement(wanted)
    operators = {specifier.operator for specifier in requirement.specifier}
    assert "<" in operators
    assert ">=" in operators or plain(requirement.name) == "httpx2"
    assert pinned()[plain(requirement.name)] in requirement.specifier


@pytest.mark.parametrize("wanted", WANTED)
def test_what_is_installed_is_within_the_bounds(wanted: str) -> None:
    requirement = Requirement(wanted)
    assert version(requirement.name) in requirement.specifier


def test_the_change_that_is_tested_is_installed_from_the_pins() -> None:
    assert "-c .ci/constraints.txt" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", VENDORED)
def test_vendored_files_are_as_they_were_taken_over(name: str) -> None:
    told = VENDORED[name]
    for path, expected in told["sha256"].items():
        assert hashlib.sha256((ROOT / path).read_bytes()).hexdigest() == expected, path
    path, words = told["says"]
    assert words in (ROOT / path).read_text(encoding="utf-8")
    assert told["licence_begins"] in (ROOT / told["licence"]).read_text(encoding="utf-8")[:400]


def test_no_vendored_file_is_forgotten() -> None:
    known = {path for told in VENDORED.values() for path in (*told["sha256"], told["licence"])}
    there = {str(p.relative_to(ROOT)) for folder in VENDOR_FOLDERS for p in folder.rglob("*") if p.is_file()}
    assert there - known == {"web/static/vendor/README.md"}


def test_the_list_for_readers_tells_the_same_versions() -> None:
    told = (VENDOR_FOLDERS[0] / "README.md").read_text(encoding="utf-8")
    for name in ("swagger-ui-dist", "idiomorph"):
        assert f"| {VENDORED[name]['version']} |" in told
