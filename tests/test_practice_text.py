"""Every number of the rules reaches the page of methods, with its unit and its origin."""

from billet.tables.reading import read_toml
from billet.text.practice import plain_line_points, practice_groups


def test_every_group_says_where_it_comes_from() -> None:
    groups = {group.name: group for group in practice_groups()}
    told = {**read_toml("practice.toml"), **read_toml("heat_cycle.toml"), **read_toml("forging.toml")}
    assert len(groups) == sum(isinstance(value, dict) for value in told.values())
    assert {group.basis for group in groups.values()} <= {"own", "practice", "memory", "published"}
    assert groups["burning"].basis == "memory"


def test_a_difference_is_never_told_as_a_temperature() -> None:
    window = dict(next(g for g in practice_groups() if g.name == "window").values)
    assert window["single low"] == "10\u202fK (18\u202f°F)"
    normalise = dict(next(g for g in practice_groups() if g.name == "normalising").values)
    assert normalise["at most"] == "930\u202f°C / 1706\u202f°F"


def test_the_plain_line_names_an_origin_for_every_point() -> None:
    points = plain_line_points()
    assert len(points) == len(read_toml("practice.toml")["plain_line"])
    assert all(point.origin and point.basis in {"published", "practice", "memory", "own"} for point in points)
