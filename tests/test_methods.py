"""The list of formulas: complete, cited, with the counts of its checks."""

import subprocess
import sys
from itertools import pairwise

import pytest

import billet.formulas
from billet import methods as module
from billet.published import REGISTRY
from billet.tables.sources import SourceError, source


def entry(key: str) -> module.MethodEntry:
    return next(found for found in module.methods() if found.key == key)


def test_every_registered_formula_is_listed_once() -> None:
    keys = [found.key for found in module.methods()]
    assert sorted(keys) == sorted(REGISTRY)
    assert len(set(keys)) == len(keys) > 80


def test_an_entry_tells_equation_citation_range_and_checks() -> None:
    found = entry("critical.ae3_andrews_c")
    assert found.equation.startswith("Ae3 = 910 - 203 sqrt(C)")
    assert "Iron and Steel Institute" in found.citation
    assert found.fitted["C"] == (0.0, 0.6)
    assert (found.seen, found.basis) == ("transcription", "published")
    assert found.topic.startswith("Critical temperatures")
    assert found.checks.total >= 5


def test_what_rests_on_memory_says_so() -> None:
    assert entry("critical.ac3_trzaska_2016_c").basis == "memory"
    assert entry("hardenability.grain_factor").basis == "memory"


def test_checks_against_printed_figures_are_told_from_equations_worked_out_again() -> None:
    li = entry("transformation.critical_cooling_rate_k_s").checks
    assert (li.printed, li.missed, li.total) == (5, 3, 5)
    assert entry("critical.ae1_grange_c").checks.printed == 0 < entry("critical.ae1_grange_c").checks.again


def test_modules_stand_together() -> None:
    names = [found.key.rsplit(".", 1)[0] for found in module.methods()]
    runs = 1 + sum(a != b for a, b in pairwise(names))
    assert runs == len(set(names))


def test_a_source_that_is_not_in_the_bibliography_is_an_error() -> None:
    with pytest.raises(SourceError):
        source("nobody-1900")


def test_no_formula_is_loaded_before_the_list_is_asked_for() -> None:
    code = "import sys, billet.methods; print([n for n in sys.modules if n.startswith('billet.formulas')])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
    assert billet.formulas.__name__ == "billet.formulas"
