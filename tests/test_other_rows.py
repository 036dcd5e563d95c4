"""A verdict that another good row of the same grade would change says so."""

import pytest
from test_decisions import agreed, layer

from billet.hardening.austenitising_window import steel_window
from billet.hardening.range_sensitivity import range_sensitivity_notices


def notices(*names: str) -> list[str]:
    layers = tuple(layer(name) for name in names)
    windows = tuple(steel_window(one) for one in layers)
    return [n.text for n in range_sensitivity_notices(layers, windows, agreed(*layers))]


def test_the_strip_standard_would_make_80crv2_narrow_beside_75ni8() -> None:
    told = [text for text in notices("80CrV2", "75Ni8") if text.startswith("80CrV2")]
    assert len(told) == 1
    assert "EN 10132-4" in told[0] and "840 to 870" in told[0] and "narrow instead of shared" in told[0]


@pytest.mark.parametrize("pair", [("1075", "75Ni8"), ("1095", "440C")])
def test_a_verdict_that_stands_by_every_row_says_nothing(pair: tuple[str, str]) -> None:
    assert notices(*pair) == []
