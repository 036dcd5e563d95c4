"""What a formula is for is found by watching what is called, and the page of methods tells it."""

import subprocess
import sys
import tomllib
from collections import Counter
from pathlib import Path

from billet.methods import methods
from billet.published import REGISTRY
from billet.tables.reading import read_toml

ROOT = Path(__file__).parent.parent


def test_the_roles_in_the_data_are_those_that_a_trace_finds() -> None:
    """In a process of its own, so that nothing was computed and stored before."""
    command = [sys.executable, "tests/trace_formulas.py", "--show"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    stored = read_toml("formula_roles.toml")
    assert tomllib.loads(done.stdout) == stored, "renew with: python tests/trace_formulas.py"


def test_every_role_belongs_to_a_formula() -> None:
    stored = read_toml("formula_roles.toml")
    assert set(stored) <= {entry.key for entry in methods()} == set(REGISTRY)
    assert set(stored.values()) == {"decides", "shown"}


def test_what_decides_and_what_only_stands_beside_it_are_told_apart() -> None:
    role = {entry.key: entry.role for entry in methods()}
    assert role["martensite.ms_van_bohemen_c"] == "decides"
    assert role["hardenability.ideal_diameter_in"] == "decides"
    assert role["transformation.critical_cooling_rate_k_s"] == "shown"
    assert role["radiation.true_temperature_c"] == "shown"
    assert role["martensite.ms_payson_savage_c"] == "library"
    counted = Counter(role.values())
    assert counted["decides"] > 30 and counted["library"] > 0


def test_a_formula_of_the_library_has_a_publication_or_says_that_it_is_remembered() -> None:
    for entry in methods():
        if entry.role == "library" and entry.basis == "published":
            assert entry.seen in {"print", "transcription", "memory"} and entry.citation
