"""The library of steels: its names, its limits, and that every row says where it comes from."""

import pytest

from billet.errors import AmbiguousSteel, UnknownSteel
from billet.tables.sources import sources
from billet.tables.steel_names import name_key, steel_names
from billet.tables.steels import Steel, find_steel, nearest_names, search, steels

BY_ID = pytest.mark.parametrize("steel", steels(), ids=lambda s: s.id)


@pytest.mark.parametrize(
    ("name", "designation"),
    [
        ("1084", "1084"),
        ("SAE 1084", "1084"),
        ("AISI/SAE 1084", "1084"),
        ("G10840", "1084"),
        ("UNS G10840", "1084"),
        ("1084 steel", "1084"),
        (" 10\u201384 ", "1084"),
        ("\uff11\uff10\uff18\uff14", "1084"),
        ("1.3505", "100Cr6"),
        ("1,3505", "100Cr6"),
        ("100Cr6", "100Cr6"),
        ("100CR6", "100Cr6"),
        ("1.2067", "102Cr6"),
        ("52100", "52100"),
        ("AISI E52100", "52100"),
        ("SUJ2", "52100"),
        ("JIS SUJ2", "52100"),
        ("75Ni8", "75Ni8"),
        ("75 ni 8", "75Ni8"),
        ("1.5634", "75Ni8"),
        ("15N20", "75Ni8"),
        ("O1", "O1"),
        ("o-1", "O1"),
        ("AISI O1", "O1"),
        ("1.2510", "95MnWCr5"),
        ("W.-Nr. 1.2510", "95MnWCr5"),
        ("Werkstoff-Nr. 1.2510", "95MnWCr5"),
        ("C105U", "C105U"),
        ("c 105 u", "C105U"),
        ("1.1545", "C105U"),
        ("C105W1", "C105U"),
        ("X46Cr13", "X46Cr13"),
        ("EN X46Cr13", "X46Cr13"),
        ("X5CrNi1810", "X5CrNi18-10"),
        ("304", "X5CrNi18-10"),
        ("AISI 304", "X5CrNi18-10"),
        ("1.4301", "X5CrNi18-10"),
        ("2.4066", "Ni99.2"),
        ("Ni 99.2", "Ni99.2"),
        ("420", "420"),
        ("A203 Grade E", "A203 Grade E"),
        ("50CrV4", "51CrV4"),
    ],
)
def test_finds_by_any_own_name(name: str, designation: str) -> None:
    assert find_steel(name).designation == designation


@BY_ID
def test_every_designation_and_number_finds_its_grade(steel: Steel) -> None:
    for name in (steel.designation, steel.number, steel.id, steel.designation.lower()):
        assert find_steel(name) == steel


@pytest.mark.parametrize(
    ("name", "candidates"),
    [("1074/1075", ("1074", "1075")), ("W1-10", ("C105U", "W1")), ("W1-8", ("C80U", "W1"))],
)
def test_a_name_of_several_grades_is_refused(name: str, candidates: tuple[str, ...]) -> None:
    with pytest.raises(AmbiguousSteel) as caught:
        find_steel(name)
    assert caught.value.candidates == candidates


def test_no_designation_or_number_means_two_grades() -> None:
    names = [name_key(n) for entry in steel_names() for n in {entry.designation, entry.number}]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("name", "nearest"),
    [("SKS3", "O1"), ("1.2713", "L6"), ("C60E", "1060"), ("1085", "1084"), ("80CrV", "80CrV2")],
)
def test_a_relative_or_a_slip_finds_nothing_and_is_told_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(UnknownSteel) as caught:
        find_steel(name)
    assert nearest in caught.value.nearest
    assert caught.value.nearest == nearest_names(name)


def test_a_relative_never_finds_a_grade() -> None:
    owned = {name_key(n) for entry in steel_names() for n in entry.own}
    for entry in steel_names():
        for relative in entry.relatives:
            if name_key(relative) not in owned:
                with pytest.raises(UnknownSteel):
                    find_steel(relative)


@pytest.mark.parametrize(
    "name",
    [
        "",
        " ",
        "-",
        ".",
        "SAE",
        "no such thing at all",
        "1084?",
        "1084 stainless",
        "1084\x00",
        "10\u00e484",
    ],
)
def test_nonsense_is_unknown(name: str) -> None:
    with pytest.raises(UnknownSteel):
        find_steel(name)


def test_grades_can_be_keys_of_a_cache() -> None:
    assert len({find_steel("1084"), find_steel("UNS G10840"), find_steel("75Ni8")}) == 2


def test_search_puts_the_name_itself_first() -> None:
    assert search("1075")[0].designation == "1075"
    assert [e.designation for e in search("108")][:2] == ["1080", "1084"]
    assert {e.designation for e in search("1.25")} >= {"95MnWCr5", "60WCrV8", "142WV13", "110WCrV5"}
    assert [e.designation for e in search("SKS3")][:2] == ["O1", "95MnWCr5"]
    assert search("zzz") == ()


@BY_ID
def test_limits_hold_the_nominal(steel: Steel) -> None:
    for element, low in steel.low.items():
        assert low <= steel.nominal[element], element
    for element, high in steel.high.items():
        assert steel.low.get(element, 0.0) <= high, element
        assert steel.nominal[element] <= high, element
    assert sum(steel.nominal.wt.values()) <= 100.0
    assert sum(steel.low.values()) <= 100.0
    assert steel.nominal["C"] > 0.0


@BY_ID
def test_phosphorus_or_sulphur_have_an_upper_limit(steel: Steel) -> None:
    assert "S" in steel.high
    assert "P" in steel.high or steel.id == "Ni99.2"


@BY_ID
def test_every_row_names_its_source_and_how_it_was_seen(steel: Steel) -> None:
    assert steel.source in sources()
    assert steel.density_source in sources()
    assert steel.seen in {"print", "memory", "mixed"}
    assert steel.seen_note and steel.hardening
    for row in steel.hardening:
        assert row.source in sources(), row.source
        assert row.seen in {"print", "memory", "mixed"}


@BY_ID
def test_hardening_rows_are_in_order(steel: Steel) -> None:
    for row in steel.hardening:
        for pair in (row.harden_c, row.normalise_c, row.anneal_c, row.forge_c):
            assert pair is None or list(pair) == sorted(pair)
        for hrc, temper_c in row.hardness:
            assert 35.0 <= hrc <= 68.0
            assert temper_c is None or 90.0 <= temper_c <= 550.0
        if row.harden_c is not None and not row.outlier:
            assert row.harden_c[0] >= 750.0 and row.harden_c[2] <= 1100.0


@BY_ID
def test_exactly_one_working_row_where_the_grade_hardens(steel: Steel) -> None:
    hardens = any(row.harden_c for row in steel.hardening)
    working = [row for row in steel.hardening if row.working]
    assert len(working) == (1 if hardens else 0)
    for row in working:
        assert (
            row.why
            and not row.outlier
            and row.window_c is not None
            and steel.published_envelope_c is not None
        )
        assert (
            steel.published_envelope_c[0]
            <= row.window_c[0]
            < row.window_c[1]
            <= steel.published_envelope_c[1]
        )


def test_outliers_are_shown_and_never_counted() -> None:
    outliers = {s.designation for s in steels() for row in s.hardening if row.outlier}
    assert outliers == {"1075", "1095"}
    assert find_steel("1095").published_envelope_c == (782.0, 843.0)
    assert find_steel("1075").published_envelope_c == (802.0, 843.0)


def test_a_single_temperature_counts_ten_down_and_fifteen_up() -> None:
    working = find_steel("W2").working
    assert working is not None and working.single
    assert working.window_c == (778.0, 803.0)


def test_grades_that_do_not_harden_have_no_window() -> None:
    soft = {s.designation for s in steels() if s.working is None}
    assert soft == {"1008", "1018", "Ni99.2", "A203 Grade E", "X5CrNi18-10", "X2CrNiMo17-12-2"}
    assert all(find_steel(name).published_envelope_c is None for name in soft)


@BY_ID
def test_every_grade_has_a_forging_range(steel: Steel) -> None:
    assert steel.forge_c is not None
    assert steel.forge_c[1] - steel.forge_c[0] >= 100.0


def test_what_rests_on_memory_is_counted() -> None:
    """A row that has been confirmed in print changes these counts, and so must be a deliberate act."""
    assert len(steels()) == 66
    seen = [steel.seen for steel in steels()]
    assert {kind: seen.count(kind) for kind in ("print", "mixed", "memory")} == {
        "print": 6,
        "mixed": 33,
        "memory": 27,
    }
    working = [steel.working.seen for steel in steels() if steel.working]
    assert {kind: working.count(kind) for kind in ("print", "mixed", "memory")} == {
        "print": 25,
        "mixed": 1,
        "memory": 34,
    }


def test_unconfirmed_grades_say_so() -> None:
    unconfirmed = {s.designation for s in steels() if s.unconfirmed}
    assert unconfirmed == {s.designation for s in steels() if s.source == "sel-list"}
    assert all(s.conflicts for s in steels() if s.unconfirmed)


@pytest.mark.parametrize(
    ("name", "g_cm3"), [("1084", 7.85), ("304", 7.93), ("440C", 7.70), ("2.4066", 8.90), ("A2", 7.85)]
)
def test_density_by_class(name: str, g_cm3: float) -> None:
    assert find_steel(name).density_g_cm3 == g_cm3
