"""The public list of the library: what it names is there, what is there it names, and nothing hides it."""

import pkgutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import billet
from billet import BilletError, Composition, OutOfDomain, austenitised_state, find_steel, heat_curve

PACKAGE = Path(billet.__file__).parent
MODULES_THAT_ARE_PUBLIC = {"quantities", "wording"}


@pytest.mark.parametrize("name", billet.__all__)
def test_every_public_name_can_be_had(name: str) -> None:
    assert getattr(billet, name) is not None


def test_dir_is_the_public_list() -> None:
    assert dir(billet) == sorted(billet.__all__)
    assert len(set(billet.__all__)) == len(billet.__all__)


def test_every_home_is_public_and_every_public_name_has_a_home() -> None:
    assert {*billet._HOME, *MODULES_THAT_ARE_PUBLIC, "__version__"} == set(billet.__all__)


def test_no_submodule_bears_a_public_name() -> None:
    submodules = {module.name for module in pkgutil.iter_modules([str(PACKAGE)])}
    assert submodules & set(billet.__all__) == MODULES_THAT_ARE_PUBLIC


def test_public_names_stay_what_they_are_after_every_import() -> None:
    """A submodule that is imported becomes an attribute of its package; none may hide a function."""
    code = """
import importlib, pkgutil
import billet
for module in pkgutil.walk_packages(billet.__path__, "billet."):
    if not module.name.endswith("__main__"):
        importlib.import_module(module.name)
for name, home in billet._HOME.items():
    module, _, other = home.partition(":")
    exec(f"from billet import {name} as found")
    assert found is getattr(importlib.import_module(module), other or name), name
from billet import plan, study, uncertainty, load
assert all(callable(each) for each in (plan, study, uncertainty, load))
"""
    told = subprocess.run(
        [sys.executable, "-c", code], cwd=PACKAGE.parent, capture_output=True, text=True, check=False
    )
    assert told.returncode == 0, told.stderr


def test_a_name_that_is_not_public_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'nonsense'"):
        _ = billet.nonsense


def test_types_are_told() -> None:
    assert (PACKAGE / "py.typed").is_file()


def test_a_state_takes_a_name_a_grade_an_analysis_or_a_mapping() -> None:
    grade = find_steel("1084")
    asked = ("1084", "G10840", grade, grade.nominal, dict(grade.nominal.wt))
    states = [austenitised_state(steel, 815.0) for steel in asked]
    assert all(state == states[0] for state in states)
    assert heat_curve("dark", "1084") == heat_curve("dark", grade.nominal)


def test_an_element_that_is_not_told_is_none() -> None:
    state = austenitised_state({"C": 0.8}, 800)
    assert state == austenitised_state(Composition({"C": 0.8, "Mn": 0.0}), 800.0)
    assert Composition({"C": 0.8})["Mn"] == 0.0


@pytest.mark.parametrize("wrong", [1084, None, ["1084"], 10.84])
def test_what_is_no_steel_is_told_in_words(wrong: Any) -> None:
    with pytest.raises(BilletError, match="designation in quotes"):
        austenitised_state(wrong, 815.0)


def test_a_number_for_a_name_is_told_how_to_be_written() -> None:
    with pytest.raises(BilletError, match='put it in quotes: "1084"'):
        find_steel(1084)  # type: ignore[arg-type]


@pytest.mark.parametrize("wrong", ["815", None, True, float("nan"), float("inf"), 10**400, [815.0]])
def test_what_is_no_temperature_is_told_in_words(wrong: Any) -> None:
    with pytest.raises(OutOfDomain, match="temperature_c must be"):
        austenitised_state("1084", wrong)


@pytest.mark.parametrize("wrong", ["hot", None, 3])
def test_what_is_no_structure_is_told_in_words(wrong: Any) -> None:
    with pytest.raises(OutOfDomain, match="start must be normalised or spheroidised"):
        austenitised_state("1084", 815.0, wrong)


@pytest.mark.parametrize("wrong", ["1084", 0.8, None, ["C"], {"C": "0.8"}, {"C": None}, {"C": 10**400}])
def test_what_is_no_analysis_is_told_in_words(wrong: Any) -> None:
    with pytest.raises(BilletError):
        Composition(wrong)
