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
def tridiagonal() -> tuple[Callable[..., Any], Callable[..., Any]]:
    """LAPACK's dgttrf (factor) and dgttrs (solve), with the signatures of scipy.linalg.lapack."""
    module = _wrappers()
    if module is None:
        from scipy.linalg import lapack as public

        return public.dgttrf, public.dgttrs
    return module.dgttrf, module.dgttrs


def solve_tridiagonal(below: Floats, diagonal: Floats, above: Floats) -> Callable[[Floats], Floats]:
    """Solves for x with this matrix, factored once; x and the right side have the shape of `diagonal`.

    below, above: (n - 1,) beside the raveled diagonal (n,).
    """
    shape, middle = diagonal.shape, diagonal.reshape(-1)
    if len(middle) < 3:
        dense = np.diag(middle) + np.diag(below, -1) + np.diag(above, 1)
        return lambda right: np.asarray(np.linalg.solve(dense, right.ravel())).reshape(shape)
    factor, solve = tridiagonal()
    factored = factor(below, middle, above)[:5]

    def solved(right: Floats) -> Floats:
        found: Floats = solve(*factored, right.reshape(-1))[0].reshape(shape)
        return found

    return solved


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
    return module if hasattr(module, "dgttrf") and hasattr(module, "dgttrs") else None
