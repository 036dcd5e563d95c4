"""A copy of the tree in which one place is changed, and the tests that run on it."""

import compileall
import os
import py_compile
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from tests.mutants.places import ROOT, Mutant

PARTS = (
    "billet", "web", "tests", "recipes", ".ci", "pyproject.toml", "README.md", "DEVELOPERS.md", "LICENSE",
    ".gitignore",
)  # fmt: skip
PYTEST = ("-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", "--no-header", "--tb=no")
FAILED = (1, 2)
PASSED, TIMED_OUT = 0, -1


class Copy:
    """One copy of the tree. Its compiled modules are held against the text, so no change is overlooked."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for part in PARTS:
            if (ROOT / part).is_dir():
                shutil.copytree(ROOT / part, folder / part, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(ROOT / part, folder / part)
        for part in ("billet", "web"):
            mode = py_compile.PycInvalidationMode.CHECKED_HASH
            compileall.compile_dir(folder / part, quiet=1, invalidation_mode=mode)

    def run(
        self, tests: Sequence[str], seconds: float, plugin: str = "", seen: Path | None = None
    ) -> tuple[int, str]:
        """Run these tests to the first failure. Returns pytest's code (-1: out of time) and words."""
        options = ["-o", "addopts=--strict-markers --strict-config", *(("-p", plugin) if plugin else ())]
        environment = {
            **os.environ,
            "PYTHONPATH": str(self.folder),
            "PYTHONDONTWRITEBYTECODE": "1",
            "OMP_NUM_THREADS": "1",
            "OPENBLAS_NUM_THREADS": "1",
            "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1",
            "BILLET_SEEN": str(seen),
        }
        try:
            done = subprocess.run(
                [sys.executable, *PYTEST, *options, *tests],
                cwd=self.folder,
                env=environment,
                capture_output=True,
                text=True,
                check=False,
                timeout=seconds,
            )
        except subprocess.TimeoutExpired:
            return TIMED_OUT, ""
        return done.returncode, done.stdout + done.stderr

    @contextmanager
    def changed(self, mutant: Mutant) -> Iterator[None]:
        """The copy with this change, which is taken back at the end."""
        path = self.folder / mutant.file
        text = path.read_text(encoding="utf-8")
        assert text[mutant.start : mutant.end] == mutant.old, f"the tree was edited meanwhile: {mutant.name}"
        path.write_text(text[: mutant.start] + mutant.new + text[mutant.end :], encoding="utf-8")
        try:
            yield
        finally:
            path.write_text(text, encoding="utf-8")


@contextmanager
def copy_of_the_tree() -> Iterator[Copy]:
    """A copy in a folder of its own, which goes when it is done."""
    with tempfile.TemporaryDirectory(prefix="billet-mutants-") as folder:
        yield Copy(Path(folder))


def failed_test(words: str) -> str:
    """The first test that pytest names as failed, or ""."""
    for line in words.splitlines():
        if line.startswith(("FAILED ", "ERROR ")):
            return line.split(" - ")[0].split(" ", 1)[1].strip()
    return ""
