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
# Every room with the rooms it may import; what is not named here lies at the top of the package.
GROUND = (
    "errors", "units", "written", "composition", "published", "version", "wording", "shop_units",
    "quantities",
)  # fmt: skip
ROOMS: dict[str, tuple[str, ...]] = {
    "formulas": (),
    "tables": (),
    "contract": (),
    "recipe": ("formulas", "tables", "contract"),
    "forging": ("recipe", "formulas", "tables", "contract"),
    "diffusion": ("forging", "recipe", "formulas", "tables", "contract"),
    "pattern": ("diffusion", "forging", "recipe", "tables", "contract"),
    "hardening": ("diffusion", "forging", "recipe", "formulas", "tables", "contract"),
    "report": ("hardening", "diffusion", "forging", "recipe", "formulas", "tables", "contract"),
    "variation": ("hardening", "diffusion", "forging", "recipe", "formulas", "tables", "contract"),
    "wish": ("hardening", "diffusion", "forging", "recipe", "formulas", "tables", "contract"),
    "studies": ("report", "hardening", "diffusion", "forging", "recipe", "formulas", "tables", "contract"),
    "sheets": ("tables", "contract"),
    "text": ("sheets", "report", "hardening", "tables", "contract"),
}
# The command stands above the library: it may use every room, and what lies at the top of the package.
ABOVE = ("cli",)
NO_WORDS = (
    "formulas", "tables", "recipe", "forging", "diffusion", "pattern", "hardening", "variation", "wish",
)  # fmt: skip
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


@pytest.mark.parametrize("room", ROOMS)
def test_rooms_lean_one_way(room: str) -> None:
    allowed = {room, *ROOMS[room], *GROUND} - ({"wording", "shop_units"} if room in NO_WORDS else set())
    for path in modules(f"billet/{room}"):
        used = {n.split(".")[1] for n in imported(path) if n.startswith("billet.")}
        assert used <= allowed, f"{path.relative_to(ROOT)} imports {sorted(used - allowed)}"


def test_every_folder_with_code_is_a_room() -> None:
    folders = {p.parent.name for p in modules("billet") if p.parent.parent == ROOT / "billet"}
    assert folders == {*ROOMS, *ABOVE}


def test_nothing_leans_on_the_command() -> None:
    for path in [*modules("billet"), *modules("web")]:
        if "cli" not in path.parts and path.name != "__main__.py":
            assert not {n for n in imported(path) if n.startswith("billet.cli")}, path


def test_rooms_have_no_circle() -> None:
    """Read from the bottom up, every room leans only on rooms that stand before it."""
    listed = list(ROOMS)
    for place, room in enumerate(listed):
        assert set(ROOMS[room]) <= set(listed[:place]), room


def test_the_library_knows_no_web_package() -> None:
    for path in modules("billet"):
        wrong = {n for n in imported(path) if n.split(".")[0] in WEB_PACKAGES}
        assert not wrong, f"{path.relative_to(ROOT)} imports {sorted(wrong)}"


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
