"""Cautions: every hazard is told, short, with sourced figures; differences stay differences."""

import pytest

from billet.tables.cautions import OPERATIONS, TAGS, Caution, caution, cautions, cautions_for
from billet.tables.sources import sources
from billet.units import k_difference_to_f

EACH = pytest.mark.parametrize("entry", cautions(), ids=lambda c: c.code)


def test_every_tag_has_a_caution() -> None:
    assert {tag for entry in cautions() for tag in entry.tags} == TAGS


@EACH
def test_text_is_short_and_plain(entry: Caution) -> None:
    assert 60 <= len(entry.text) <= 330
    assert entry.text.endswith(".") and entry.text.count(". ") <= 2
    assert entry.hazard and entry.tags and entry.operations
    assert 30 <= len(entry.brief) <= 75 and entry.brief.endswith(".")
    assert set(entry.operations) <= OPERATIONS


@EACH
def test_figures_name_source_and_basis(entry: Caution) -> None:
    for figure in entry.figures:
        assert figure.source in sources()
        assert figure.basis in {"published", "practice", "memory"}
        assert figure.value > 0.0 and figure.unit and figure.what
        if sources()[figure.source].seen == "memory":
            assert figure.basis != "published"


def test_limits_of_carbon_monoxide() -> None:
    """29 CFR 1910.1000 and the NIOSH Pocket Guide: 50, 35, 200 and 1200 ppm."""
    assert [f.value for f in caution("carbon_monoxide").figures] == [50.0, 35.0, 200.0, 1200.0]


def test_oil_margins_are_differences_of_temperature() -> None:
    """29 CFR 1910.126 and .125 print differences of 50 F and 100 F."""
    by_source = {f.source: f for f in caution("oil").figures if f.source.startswith("osha")}
    assert {f.unit for f in by_source.values()} == {"K"}
    assert k_difference_to_f(by_source["osha-1910-126"].value) == pytest.approx(50.0, abs=0.1)
    assert k_difference_to_f(by_source["osha-1910-125"].value) == pytest.approx(100.0, abs=0.1)


def test_picks_by_tag_and_operation() -> None:
    assert {c.code for c in cautions_for({"oil"}, "harden")} == {"oil", "oil_water", "fire"}
    assert {c.code for c in cautions_for({"flux"}, "weld")} == {"flux"}
    assert cautions_for({"flux"}, "harden") == ()


@pytest.mark.parametrize(("tags", "operation"), [({"oils"}, None), ({"oil"}, "hardening")])
def test_a_slip_in_a_tag_hides_no_caution(tags: set[str], operation: str | None) -> None:
    with pytest.raises(KeyError):
        cautions_for(tags, operation)


def test_an_unknown_code_is_refused() -> None:
    with pytest.raises(KeyError):
        caution("dragons")
