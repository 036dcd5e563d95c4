"""The bands of a plan hold nine cases in ten: melts inside the grade, residuals and all formula errors."""

import pytest

from tests.band_coverage import STEELS, coverage

LEAST, MOST = 0.85, 0.97
ONE_SIDE = 0.12
MELTS = 600
TOLD = {"dissolved carbon", "Ms", "retained austenite", "HRC", "critical rate", "tempered HRC", "Acm"}


def test_twelve_steels() -> None:
    assert len(set(STEELS)) == 12


@pytest.mark.parametrize("steel", STEELS)
def test_every_band_holds_nine_melts_in_ten_and_none_is_one_sided(steel: str) -> None:
    found = coverage(steel, MELTS)
    assert set(found) >= TOLD
    for name, share in found.items():
        assert LEAST <= share.inside <= MOST, (name, share)
        assert max(share.under, share.over) <= ONE_SIDE, (name, share)
