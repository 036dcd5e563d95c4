"""A number of decision, a range of a steel or a caution changes only when it is changed twice, knowingly.

The numbers stand a second time in tests/pinned_numbers.py, pinned_rows.py and pinned_ranges.py. What a
change of them does is held by the other tests; here it is only held that nobody changes one without
saying so.
"""

import hashlib
from pathlib import Path
from typing import Any

import pinned_numbers
import pinned_ranges
import pinned_rows
import pytest

import billet
from billet.composition import Composition
from billet.diffusion import activity_law, equilibrium_tables
from billet.formulas.equilibrium import calibrated
from billet.report.notices import SENSIBLE_MIN
from billet.tables.cautions import cautions
from billet.tables.reading import read_toml
from billet.tables.steels import steels

FILES = {
    "practice.toml": pinned_numbers.PRACTICE,
    "forging.toml": pinned_numbers.FORGING,
    "uncertainty.toml": pinned_numbers.UNCERTAINTY,
    "control.toml": pinned_numbers.CONTROL,
    "media.toml": pinned_numbers.MEDIA,
    "heat_cycle.toml": pinned_numbers.HEAT_CYCLE,
    "tempering.toml": pinned_numbers.TEMPERING,
}
PRINTED = {"curve", "printed_range"}
"""Tables of figures that others printed; tests/published/tempering.toml has them from the source."""


def numbers(value: Any, path: str = "") -> dict[str, Any]:
    """Every number or list of numbers under its dotted key; rows of a table by their key, name or carbon."""
    found: dict[str, Any] = {}
    if isinstance(value, dict):
        for key, inner in value.items():
            found |= numbers(inner, f"{path}.{key}" if path else key)
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for row in value:
            name = row.get("key") or row.get("name") or f"{row['carbon_wt']:g}"
            found |= numbers(row, f"{path}.{name}")
    elif isinstance(value, bool | str):
        return {}
    elif isinstance(value, int | float) or (
        isinstance(value, list) and value and not isinstance(value[0], str)
    ):
        found[path] = value
    return found


@pytest.mark.parametrize("name", FILES)
def test_every_number_of_decision_stands_here_too(name: str) -> None:
    rules = {table: entry for table, entry in read_toml(name).items() if table not in PRINTED}
    data, pinned = numbers(rules), FILES[name]
    new = [f'    "{key}": {value},' for key, value in data.items() if key not in pinned]
    assert not new, "a new number: add it by hand to tests/pinned_numbers.py\n" + "\n".join(new)
    gone = sorted(set(pinned) - set(data))
    assert not gone, f"no longer in {name}: take it out of tests/pinned_numbers.py: {gone}"
    changed = [
        f"{key}: pinned {pinned[key]}, now {value}" for key, value in data.items() if pinned[key] != value
    ]
    assert not changed, f"{name} changed; if that is meant, change tests/pinned_numbers.py too: {changed}"


def test_every_row_of_hardening_stands_here_too() -> None:
    files = sorted(Path(str(billet.__file__)).parent.glob("data/hardening_*.toml"))
    data = {
        f"{steel}#{place}.{key}": value
        for file in files
        for steel, rows in read_toml(file.name).items()
        for place, row in enumerate(rows, 1)
        for key, value in numbers(row).items()
    }
    changed = {key: value for key, value in data.items() if pinned_rows.ROWS.get(key) != value}
    assert not changed, f"if that is meant, change tests/pinned_rows.py too: {changed}"
    assert set(data) == set(pinned_rows.ROWS)


@pytest.mark.parametrize("steel", steels(), ids=lambda s: s.id)
def test_ranges_of_every_steel_stand_here_too(steel: Any) -> None:
    assert steel.id in pinned_ranges.RANGES_C, "a new steel: add its ranges to tests/pinned_ranges.py"
    working = steel.working.harden_c if steel.working is not None else None
    assert (working, steel.normalise_c, steel.forge_c) == pinned_ranges.RANGES_C[steel.id]


def test_no_steel_went_away() -> None:
    assert set(pinned_ranges.RANGES_C) == {steel.id for steel in steels()}


def test_every_caution_is_pinned() -> None:
    assert [entry.code for entry in cautions()] == list(pinned_ranges.CAUTIONS)


@pytest.mark.parametrize("entry", cautions(), ids=lambda c: c.code)
def test_no_caution_is_reworded_unnoticed(entry: Any) -> None:
    digest = hashlib.sha256(entry.text.encode()).hexdigest()[:16]
    now = (entry.brief, digest, tuple(figure.value for figure in entry.figures))
    assert now == pinned_ranges.CAUTIONS[entry.code], "if it is meant, change tests/pinned_ranges.py too"


def test_corrections_stand_as_they_were_fitted() -> None:
    """Fitted once, all together: one of them changed by hand is no fit any more."""
    tables = {
        name: sorted((str(key), value) for key, value in table.items())
        for name, table in sorted(vars(calibrated).items())
        if name.isupper() and isinstance(table, dict)
    }
    assert hashlib.sha256(repr(tables).encode()).hexdigest()[:16] == "f6d6219d97378595"


def test_tables_of_carbon_activity_reach_so_far() -> None:
    """Our own construction: where the law of a layer goes over into another, and how far each table goes."""
    ramps = (activity_law._NICKEL_RAMP_WT, activity_law._SINK_RAMP_WT, equilibrium_tables.REFRACTORY_RAMP_WT)
    assert ramps == ((40.0, 60.0), (3.0, 5.0), (4.0, 8.0))
    cold = (equilibrium_tables.ALL_TABLE_C, equilibrium_tables.TABLES_BELOW_C, activity_law.STILL_BELOW_C)
    assert cold == (900.0, 930.0, 450.0)
    model = (equilibrium_tables.MODEL_REFRACTORY_WT, equilibrium_tables.MODEL_CHROMIUM_WT)
    assert model == (2.0, 5.0)
    for chromium_wt, most_wt in ((3.0, 2.4), (4.0, 3.6), (5.0, 4.8), (17.0, 4.8)):
        _, carbon_wt = equilibrium_tables.even_ratio(Composition({"C": 0.9, "Cr": chromium_wt}))
        assert len(carbon_wt) == 961
        assert carbon_wt[-1] == pytest.approx(most_wt, rel=1e-12)


def test_a_longer_fire_is_advised_between_these_minutes() -> None:
    assert SENSIBLE_MIN == (1.0, 30.0)
