"""A plugin of pytest that notes which functions of the product a run of tests enters, in $BILLET_SEEN.

Numbers of the rules are noted by the group that is asked for (`practice.toml/window`).
"""

import json
import os
import sys
import threading
from pathlib import Path
from types import FrameType

import pytest

ROOT = f"{Path.cwd().as_posix()}/billet/"
GROUPS = {
    "decision_numbers": "practice.toml",
    "forging_rule": "forging.toml",
    "spread": "uncertainty.toml",
    "cycle_numbers": "heat_cycle.toml",
    "temper_numbers": "tempering.toml",
}
entered: set[str] = set()


def note(frame: FrameType, event: str, arg: object) -> None:
    """Called by the interpreter on the way into every function; follows none line by line."""
    code = frame.f_code
    if code.co_filename.startswith(ROOT):
        place = code.co_qualname.replace(".<locals>", "").split(".<")[0]
        entered.add(f"billet/{code.co_filename[len(ROOT) :]}::{place.replace('<module>', 'module')}")
        if code.co_name in GROUPS:
            entered.add(f"{GROUPS[code.co_name]}/{frame.f_locals['group']}")


def pytest_configure(config: pytest.Config) -> None:
    threading.settrace(note)
    sys.settrace(note)


def pytest_unconfigure(config: pytest.Config) -> None:
    sys.settrace(None)
    Path(os.environ["BILLET_SEEN"]).write_text(json.dumps(sorted(entered)), encoding="utf-8")
