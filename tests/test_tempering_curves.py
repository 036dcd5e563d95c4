"""Tempering curves: printed points reach the curve, and who borrows from whom is told."""

import pytest

from billet.errors import UnknownSteel
from billet.tables.reading import read_toml
from billet.tables.steels import find_steel, steels
from billet.tables.tempering import curve_for

OWN = [
    "1045", "1050", "1074", "1075", "1095", "C45U", "C80U", "C105U", "L6", "45NiCrMo16", "100Cr6", "O1",
    "90MnCrV8", "W2", "A2", "X100CrMoV5", "D2", "X153CrMoV12", "440B", "440C",
]  # fmt: skip


@pytest.mark.parametrize("name", OWN)
def test_grades_with_a_printed_series_use_their_own(name: str) -> None:
    curve = curve_for(name)
    assert curve is not None
    assert curve.relative_of is None and curve.why == ""
    assert curve.source in {row.source for row in find_steel(name).hardening}


def test_every_grade_that_hardens_has_a_curve_and_no_other() -> None:
    for steel in steels():
        assert (curve_for(steel.id) is not None) == (steel.working is not None), steel.id


def test_nobody_is_mapped_who_has_a_curve_of_its_own() -> None:
    own = {find_steel(name).id for name in OWN}
    assert own.isdisjoint(read_toml("tempering.toml")["relatives"])
    assert own | set(read_toml("tempering.toml")["relatives"]) == {s.id for s in steels() if s.working}


def test_75ni8_has_no_table_and_says_whose_it_borrows() -> None:
    curve = curve_for("75Ni8")
    assert curve is not None
    assert curve.relative_of == "1075"
    assert "same carbon" in curve.why


@pytest.mark.parametrize("steel", [s for s in steels() if s.working], ids=lambda s: s.id)
def test_curves_rise_in_temperature_and_never_in_hardness(steel: object) -> None:
    curve = curve_for(steel.id)  # type: ignore[attr-defined]
    assert curve is not None and len(curve.points) >= 2
    temperatures = [t for t, _ in curve.points]
    hardness = [h for _, h in curve.points]
    assert temperatures == sorted(set(temperatures))
    assert hardness == sorted(hardness, reverse=True)


def test_the_anchor_is_marked() -> None:
    strip, bearing = curve_for("1075"), curve_for("100Cr6")
    assert strip is not None and bearing is not None
    assert strip.anchored and strip.points[0] == (100.0, 64.0)
    assert not bearing.anchored and bearing.as_quenched_hrc is None


def test_nickel_and_soft_grades_have_none() -> None:
    assert curve_for("2.4066") is None
    assert curve_for("304") is None


def test_an_unknown_grade_is_refused() -> None:
    with pytest.raises(UnknownSteel):
        curve_for("no such grade")
