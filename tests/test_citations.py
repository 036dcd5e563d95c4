"""The report's list of sources tells what was read from what is only remembered."""

from types import SimpleNamespace
from typing import cast

from billet.composition import Composition
from billet.recipe.model import Recipe
from billet.report.citations import source_rows
from billet.tables.steels import find_steel


def recipe_of(*names: str) -> Recipe:
    grades = {name: find_steel(name) for name in names}
    steels = {name: SimpleNamespace(grade=g, composition=g.nominal) for name, g in grades.items()}
    return cast(Recipe, SimpleNamespace(steels=steels, blade=None, start="normalised"))


def test_the_database_of_the_chromium_steels_is_named_where_it_is_used() -> None:
    with_chromium = {row.key for row in source_rows(recipe_of("1095", "440C"), ())}
    without = {row.key for row in source_rows(recipe_of("1095", "75Ni8"), ())}
    assert "mc-fe-2059" in with_chromium and "mc-fe-2059" not in without


def test_the_database_is_named_from_where_it_begins_to_count() -> None:
    """Between 3 and 5 % chromium the table fades in: any share of it is cited."""

    def keys(chromium_wt: float) -> set[str]:
        steel = SimpleNamespace(grade=None, composition=Composition({"C": 0.6, "Cr": chromium_wt}))
        recipe = SimpleNamespace(steels={"own": steel}, blade=None, start="normalised")
        return {row.key for row in source_rows(cast(Recipe, recipe), ())}

    assert "mc-fe-2059" not in keys(3.0)
    assert "mc-fe-2059" in keys(3.1) and "mc-fe-2059" in keys(5.0)


def test_a_remembered_range_is_not_cited_as_published() -> None:
    """75Ni8 rests on memory, 1084 on the practice of smiths, 1075 on the page of a seller of strip."""
    rows = {row.key: row for row in source_rows(recipe_of("1084", "75Ni8", "1075"), ())}
    assert rows["en-10132-4"].basis == "memory"
    assert rows["common-practice"].basis == "practice"
    assert "hardening range of 1084 (1084), from memory" in rows["common-practice"].used_for
    assert rows["mead-metals"].basis == "published"
    assert "astm-a684" not in rows
    assert "1084 (1084), from memory" in rows["sae-j403"].used_for
    assert "1075 (1075), from memory" not in rows["sae-j403"].used_for
    assert rows["sae-j403"].basis == "published"
