"""The directions in which the parts may lean on one another, and what lies at the top of the tree."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "billet",
    "web",
    "tests",
    "recipes",
    "LICENSE",
    ".gitignore",
    ".ci",
}
WEB_PACKAGES = ("fastapi", "starlette", "jinja2", "uvicorn", "pydantic", "web")
FORBIDDEN = {
    "billet": WEB_PACKAGES,
    "billet/formulas": ("billet.workflow", "billet.tables", "billet.cli", "billet.sheets", "billet.wording"),
    "billet/tables": ("billet.workflow", "billet.formulas", "billet.cli", "billet.sheets"),
    "billet/workflow": ("billet.cli", "billet.sheets", "billet.report_text"),
}
LARGEST_FILE_LINES = 320


def modules(folder: str) -> list[Path]:
    return sorted((ROOT / folder).rglob("*.py"))


def imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} imports relatively"
            names |= {f"{node.module}.{alias.name}" for alias in node.names} | {str(node.module)}
    return names


@pytest.mark.parametrize("folder", FORBIDDEN)
def test_directions_of_dependency(folder: str) -> None:
    for path in modules(folder):
        for name in imported(path):
            wrong = [f for f in FORBIDDEN[folder] if name == f or name.startswith(f + ".")]
            assert not wrong, f"{path.relative_to(ROOT)} imports {name}"


def test_the_service_uses_public_names_only() -> None:
    for path in modules("web"):
        deep = {n for n in imported(path) if n.startswith("billet.") and n.count(".") > 1}
        assert not deep, f"{path.relative_to(ROOT)} reaches into {sorted(deep)}"


def test_formulas_read_no_file() -> None:
    for path in modules("billet/formulas"):
        calls = [n for n in ast.walk(ast.parse(path.read_text())) if isinstance(n, ast.Call)]
        opened = [c for c in calls if isinstance(c.func, ast.Name) and c.func.id == "open"]
        assert not opened, path


def test_only_what_belongs_lies_at_the_top() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    ).stdout.split("\n")
    tops = {name.split("/")[0] for name in listed if name}
    if not tops:
        tops = {"README.md"}
    assert tops <= TOP_LEVEL


def test_files_stay_readable() -> None:
    long = {
        str(p.relative_to(ROOT)): n
        for p in [*modules("billet"), *modules("web")]
        if (n := len(p.read_text(encoding="utf-8").splitlines())) > LARGEST_FILE_LINES
    }
    assert not long


def test_nothing_is_read_at_import() -> None:
    """A bare import of the package opens no data file and loads no numerical library."""
    heavy = "{'numpy', 'scipy', 'fastapi'}"
    code = f"import sys, billet; sys.exit(any(m.split('.')[0] in {heavy} for m in sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0
