"""LAPACK's tridiagonal solver as scipy ships it, without the rest of scipy.linalg.

Importing the whole of scipy.linalg takes about as long as everything else a plan does; the compiled
wrappers alone load in a few milliseconds. Where they do not lie where they are looked for, the public
import serves.
"""

import importlib.machinery
import importlib.util
from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

from billet.diffusion.profile import Floats

WRAPPERS = "_flapack"


@cache
def tridiagonal() -> Callable[..., Any]:
    """LAPACK's dgtsv, with the signature of scipy.linalg.lapack."""
    module = _wrappers()
    if module is None:
        from scipy.linalg import lapack

        module = lapack
    solve: Callable[..., Any] = module.dgtsv
    return solve


def solve_tridiagonal(below: Floats, diagonal: Floats, above: Floats, right: Floats) -> Floats:
    """x with this matrix and right side. diagonal, x, right: (n,); below, above: (n - 1,).

    Where a pivot is nought x is nan; fewer than three unknowns raise LinAlgError there. A second right side
    is solved for anew: to keep the factors takes as long as to make them twice.
    """
    if len(diagonal) < 3:
        dense = np.diag(diagonal) + np.diag(below, -1) + np.diag(above, 1)
        return np.asarray(np.linalg.solve(dense, right))
    *_, found, failed = tridiagonal()(below, diagonal, above, right)
    # LAPACK leaves off at such a pivot, and what it has so far is no answer.
    return np.full(len(right), np.nan) if failed else np.asarray(found)


def _wrappers() -> ModuleType | None:
    package = importlib.util.find_spec("scipy")
    if package is None or not package.submodule_search_locations:
        return None
    folder = str(Path(next(iter(package.submodule_search_locations))) / "linalg")
    loader = (importlib.machinery.ExtensionFileLoader, importlib.machinery.EXTENSION_SUFFIXES)
    spec = importlib.machinery.FileFinder(folder, loader).find_spec(WRAPPERS)
    if spec is None or spec.loader is None:
        return None
    module = importlib.util.module_from_spec(spec)
    try:
        spec.loader.exec_module(module)
    except ImportError:
        return None
    return module if hasattr(module, "dgtsv") else None
