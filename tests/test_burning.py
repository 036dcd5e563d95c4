"""The heat that burns a layer: solidus at the highest carbon of the fire, less the margin."""

import pytest

from billet.composition import Composition
from billet.forging.burning import BurningLimit, burning_limit
from billet.tables.practice import decision_numbers

PLAIN = Composition({"C": 0.84, "Mn": 0.75, "Si": 0.2})
NICKEL = Composition({"Ni": 99.5, "C": 0.05})


def limit_at_own_carbon(**compositions: Composition) -> BurningLimit:
    return burning_limit(compositions, {name: c["C"] for name, c in compositions.items()})


def test_the_layer_that_melts_first_sets_the_limit() -> None:
    found = limit_at_own_carbon(dark=PLAIN, mild=Composition({"C": 0.1, "Mn": 0.5}))
    assert found.steel == "dark"
    assert found.solidus_c - found.limit_c == pytest.approx(decision_numbers("burning")["below_solidus_k"])


def test_the_highest_carbon_of_the_fire_counts() -> None:
    cold, richer = limit_at_own_carbon(a=PLAIN), burning_limit({"a": PLAIN}, {"a": 1.04})
    assert cold.limit_c - richer.limit_c == pytest.approx(0.2 * 187.5, abs=1.0)
    assert burning_limit({"a": PLAIN}, {"a": 0.3}).limit_c > cold.limit_c


def test_nickel_has_a_melting_point_of_its_own() -> None:
    """The formula for steel would put unalloyed nickel at 400 C."""
    found = limit_at_own_carbon(dark=PLAIN, nickel=NICKEL)
    assert found.steel == "dark"
    assert limit_at_own_carbon(nickel=NICKEL).solidus_c > 1400.0


@pytest.mark.parametrize(
    ("wt", "extra"),
    [
        ({"C": 0.8, "P": 0.025, "S": 0.025}, False),
        ({"C": 0.8, "P": 0.03, "S": 0.03}, True),
        ({"C": 1.0, "Cr": 5.0}, False),
        ({"C": 1.0, "Cr": 4.0, "Mo": 1.0, "W": 0.1}, True),
    ],
)
def test_dirty_or_strongly_alloyed_steel_keeps_further_below(wt: dict[str, float], extra: bool) -> None:
    limits = decision_numbers("burning")
    found = limit_at_own_carbon(a=Composition(wt))
    margin_k = limits["below_solidus_k"] + (limits["more_for_impure_or_alloyed_k"] if extra else 0.0)
    assert found.solidus_c - found.limit_c == pytest.approx(margin_k)


@pytest.mark.parametrize(("carbon", "burns_c"), [(0.5, 1349.0), (0.9, 1221.0), (1.1, 1171.0), (1.5, 1140.0)])
def test_the_limit_is_not_more_daring_than_a_remembered_table(carbon: float, burns_c: float) -> None:
    """Burning temperatures of a trade table, from memory, 86 to 159 K under the solidus."""
    assert limit_at_own_carbon(a=Composition({"C": carbon})).limit_c < burns_c + 5.0


def test_no_solidus_below_the_iron_carbon_eutectic() -> None:
    """Iron and carbon alone melt at 1148 C at the lowest; the formula would say 1050 C."""
    rich = burning_limit({"a": Composition({"C": 1.0, "Cr": 13.0})}, {"a": 2.4})
    assert rich.solidus_c == decision_numbers("burning")["eutectic_c"]
