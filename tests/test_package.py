"""What is built is whole: a wheel and an archive of the sources, installed and used from an empty folder."""

import os
import subprocess
import sys
import tarfile
import tomllib
import venv
import zipfile
from collections.abc import Iterator
from email.message import Message
from email.parser import Parser
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path

import pytest

from billet import __version__, example_recipes

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
HOME_PAGE = """
import sys
from starlette.testclient import TestClient
import billet, web
from web.app import create_app
from web.settings import Settings, default_recipes
assert sys.prefix in billet.__file__ and sys.prefix in web.__file__, (billet.__file__, web.__file__)
client = TestClient(create_app(Settings(recipes=default_recipes())))
home = client.get("/")
assert home.status_code == 200, home.status_code
for name in billet.example_recipes():
    assert f'"recipes/{name}"' in home.text, name
    plan = client.get(f"/recipes/{name}")
    assert plan.status_code == 200, (name, plan.status_code)
for name in ("sheet.css", "bench.js", "vendor/idiomorph/idiomorph.esm.js"):
    assert client.get(f"/static/{name}").status_code == 200, name
assert client.get("/openapi.json").status_code == 200
"""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one wheel and one archive, built from a clean copy of what belongs to the product."""
    folder = tmp_path_factory.mktemp("dist")
    command = [sys.executable, "-m", "hatchling", "build", "-d", str(folder)]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
    return folder


@pytest.fixture(scope="module")
def wheel(built: Path) -> Iterator[zipfile.ZipFile]:
    with zipfile.ZipFile(next(built.glob("*.whl"))) as opened:
        yield opened


@pytest.fixture(scope="module")
def python(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An environment with the wheel; what it depends on is seen in the environment of the tests."""
    home = tmp_path_factory.mktemp("installed")
    venv.EnvBuilder(with_pip=False).create(home)
    installed = home / "bin" / "python"
    told = _run(installed, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))")
    place = Path(told.stdout.strip())
    pip = [sys.executable, "-m", "pip", "--python", str(installed), "--disable-pip-version-check"]
    install = [*pip, "install", "-q", "--no-index", "--no-deps", str(next(built.glob("*.whl")))]
    subprocess.run(install, check=True, capture_output=True)
    seen = [entry for entry in sys.path if entry.endswith("site-packages")]
    (place / "dependencies.pth").write_text("\n".join(seen) + "\n", encoding="utf-8")
    return installed


def _run(python: Path, *arguments: str, cwd: Path | None = None) -> "subprocess.CompletedProcess[str]":
    clean = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "PYTEST"))}
    return subprocess.run(
        [str(python), *arguments], cwd=cwd, env=clean, capture_output=True, text=True, check=False
    )


def files_of(folder: str) -> set[str]:
    """What lies in a folder of the product, caches left out."""
    return {
        str(path.relative_to(ROOT))
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }


def test_the_wheel_carries_everything(wheel: zipfile.ZipFile) -> None:
    names = set(wheel.namelist())
    assert files_of("billet") | files_of("web") <= names
    assert {f"billet/data/recipes/{path.name}" for path in example_recipes().values()} <= names
    tops = {name.split("/")[0] for name in names}
    assert tops == {"billet", "web", f"billet-{__version__}.dist-info"}


def test_the_sources_carry_everything(built: Path) -> None:
    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    wanted = set.union(*(files_of(folder) for folder in ("billet", "web", "recipes", "tests")))
    assert wanted <= names
    assert {
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "pyproject.toml",
        ".ci/run",
        ".ci/constraints.txt",
    } <= names


def test_it_says_what_it_is(wheel: zipfile.ZipFile) -> None:
    told: Message = Parser().parsestr(wheel.read(f"billet-{__version__}.dist-info/METADATA").decode("utf-8"))
    assert told["Name"] == "billet" and told["Version"] == __version__
    assert told["License-Expression"] == "MIT AND Apache-2.0 AND 0BSD"
    assert told["Author"] == "the billet developers"
    assert told["Requires-Python"] == ">=3.11"
    assert "Typing :: Typed" in (told.get_all("Classifier") or [])
    for file in told.get_all("License-File") or []:
        assert wheel.read(f"billet-{__version__}.dist-info/licenses/{file}")
    assert len(told.get_all("License-File") or []) >= 5


def test_every_dependency_has_a_lower_bound_that_is_met() -> None:
    for entry in PROJECT["dependencies"]:
        name, least_bound, bounds = entry.partition(">=")
        least, upper, most = bounds.partition(",<")
        assert least_bound and upper, entry
        met = [int(part) for part in version(name).split(".")[:3] if part.isdigit()]
        assert [int(part) for part in least.split(".")] <= met < [int(part) for part in most.split(".")], (
            entry
        )


def test_every_dependency_is_imported_by_the_product() -> None:
    """python-multipart is imported by starlette where a file is uploaded."""
    text = "\n".join(path.read_text(encoding="utf-8") for path in [*_code("billet"), *_code("web")])
    for entry in PROJECT["dependencies"]:
        name = entry.partition(">=")[0]
        assert name == "python-multipart" or f"import {name}" in text or f"from {name}" in text, name


def _code(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def test_versions_agree() -> None:
    assert PROJECT["version"] == __version__


def test_the_command_from_an_empty_folder(python: Path, tmp_path: Path) -> None:
    command = python.parent / "billet"
    assert _run(command, "--version", cwd=tmp_path).stdout.strip() == f"billet {__version__}"
    found = _run(python, "-c", "import billet; print(billet.examples_folder())", cwd=tmp_path)
    recipes = Path(found.stdout.strip())
    assert recipes.is_relative_to(python.parent.parent)
    planned = _run(command, "plan", str(recipes / "reed_bed_kitchen.toml"), cwd=tmp_path)
    assert planned.returncode == 0 and "Harden at" in planned.stdout, planned.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_service_from_an_empty_folder(python: Path, tmp_path: Path) -> None:
    assert find_spec("httpx") is not None
    told = _run(python, "-c", HOME_PAGE, cwd=tmp_path)
    assert told.returncode == 0, told.stderr
    assert list(tmp_path.iterdir()) == []
