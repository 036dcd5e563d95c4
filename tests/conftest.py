"""Settings that every test shares: no deadline, so that a busy machine fails nothing; repeatable examples.

`-m "not long"` leaves the files out that start processes, browsers or many whole plans: what is left is
done in under a minute on two cores.
"""

from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("repeatable", deadline=None, derandomize=True)
settings.load_profile("repeatable")

LONG = {
    "tests/test_any_order_of_steps.py",
    "tests/test_carbon_always.py",
    "tests/test_cli_many_bars.py",
    "tests/test_cli_process.py",
    "tests/test_continuity.py",
    "tests/test_equations.py",
    "tests/test_equilibrium_sweep.py",
    "tests/test_fitted_ranges.py",
    "tests/test_formula_roles.py",
    "tests/test_one_set_of_rules.py",
    "tests/test_package.py",
    "tests/test_partners.py",
    "tests/test_pattern_bar.py",
    "tests/test_plan_sweeps.py",
    "tests/test_planned.py",
    "tests/test_plate_cooling.py",
    "tests/test_readme.py",
    "tests/test_recipe_fuzz.py",
    "tests/test_studies.py",
    "tests/test_sweep.py",
    "tests/test_transport.py",
    "tests/test_uncertainty.py",
    "tests/test_whole_way.py",
    "tests/test_wish.py",
}
LONG_FOLDERS = ("tests/browser/", "tests/web/")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Mark the long files, the service and the browser; put them first, so that no process ends late."""
    for item in items:
        place = Path(item.path).relative_to(config.rootpath).as_posix()
        if place in LONG or place.startswith(LONG_FOLDERS):
            item.add_marker(pytest.mark.long)
    items.sort(key=lambda item: item.get_closest_marker("long") is None)
