"""The quick way to LAPACK gives what the public one gives."""

import numpy as np
import pytest
import scipy.linalg
import scipy.linalg.lapack

from billet.diffusion import tridiagonal as lapack


@pytest.fixture
def fresh() -> None:
    lapack.tridiagonal.cache_clear()


def solved() -> np.ndarray:
    below, on, above = np.full(4, -1.0), np.linspace(3.0, 4.0, 5), np.full(4, -1.5)
    return lapack.solve_tridiagonal(below, on, above, np.arange(5.0))


def test_it_solves_as_scipy_does(fresh: None) -> None:
    bands = np.zeros((3, 5))
    bands[0, 1:], bands[1], bands[2, :-1] = -1.5, np.linspace(3.0, 4.0, 5), -1.0
    assert solved() == pytest.approx(scipy.linalg.solve_banded((1, 1), bands, np.arange(5.0)), rel=1e-13)


def test_a_singular_matrix_has_no_answer(fresh: None) -> None:
    """Else half of a factorisation would pass for carbon."""
    none, singular = np.zeros(4), np.array([1.0, 1.0, 0.0, 1.0, 1.0])
    assert np.isnan(lapack.solve_tridiagonal(none, singular, none, np.ones(5))).all()


def test_the_public_import_serves_where_the_wrappers_are_not_found(
    fresh: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick = solved()
    lapack.tridiagonal.cache_clear()
    monkeypatch.setattr(lapack, "WRAPPERS", "_not_there")
    assert lapack.tridiagonal() == scipy.linalg.lapack.dgtsv
    assert solved() == pytest.approx(quick, rel=1e-15)
    lapack.tridiagonal.cache_clear()
