"""What the grades are called, and which grade a name means. Reads only the short list of names."""

import difflib
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from billet.errors import AmbiguousSteel, UnknownSteel
from billet.tables.reading import read_toml
from billet.tables.scrap import without_grade

# Words that stand before or behind a designation and say nothing about which grade it is.
_BEFORE = re.compile(r"^(?:AISI|SAE|UNS|ASTM|EN|ISO|DIN|JIS|W\.?NR\.?|WERKSTOFF(?:NR\.?|NUMMER)|TYPE|GRADE)")
_BETWEEN = re.compile(r"[\s/_\u2010-\u2015\u2212-]")
_BEHIND = re.compile(r"STEEL$")
_NEAREST = 5


@dataclass(frozen=True)
class SteelName:
    """How one grade is called. `family` names the data files that hold its record.

    `relatives` are near and not equal: they never find the grade, they only help to suggest it.
    """

    id: str
    family: str
    designation: str
    number: str
    aliases: tuple[str, ...]
    relatives: tuple[str, ...]

    @property
    def own(self) -> tuple[str, ...]:
        """The names that mean this grade: designation, number, aliases and id."""
        return (self.designation, self.number, *self.aliases, self.id)


def name_key(name: str) -> str:
    """A name as it is compared: upper case, no spaces, dashes, slashes or underscores, point for comma.

    Any other character stays, so that a name with a slip in it matches nothing.
    """
    plain = unicodedata.normalize("NFKC", name).upper().replace(",", ".")
    return _BETWEEN.sub("", plain).strip(".")


def bare_key(name: str) -> str:
    """The same without the words before and behind ("AISI/SAE 1084 steel" gives "1084")."""
    key = name_key(name)
    while shorter := _BEFORE.sub("", key).lstrip("."):
        if shorter == key:
            break
        key = shorter
    return _BEHIND.sub("", key) or key


@cache
def steel_names() -> tuple[SteelName, ...]:
    """The names of all grades, in the order of the list."""
    return tuple(
        SteelName(
            key,
            row["family"],
            row["designation"],
            row["number"],
            tuple(row["aliases"]),
            tuple(row["relatives"]),
        )
        for key, row in read_toml("steel_names.toml").items()
    )


@cache
def _designations() -> dict[str, tuple[SteelName, ...]]:
    """Designation, number and id to grades; each should mean one grade."""
    return _gathered(lambda n: (n.designation, n.number, n.id))


@cache
def _aliases() -> dict[str, tuple[SteelName, ...]]:
    return _gathered(lambda n: n.aliases)


@cache
def _relatives() -> dict[str, tuple[SteelName, ...]]:
    return _gathered(lambda n: n.relatives)


def _gathered(names_of: Callable[[SteelName], tuple[str, ...]]) -> dict[str, tuple[SteelName, ...]]:
    found: dict[str, list[SteelName]] = {}
    for entry in steel_names():
        for key in {name_key(name) for name in names_of(entry)}:
            found.setdefault(key, []).append(entry)
    return {key: tuple(entries) for key, entries in found.items()}


def resolve(name: str) -> SteelName:
    """The grade that bears this name: a designation or number first, an alias after.

    Raises AmbiguousSteel where several grades bear it, UnknownSteel where none does.
    """
    for key in dict.fromkeys((name_key(name), bare_key(name))):
        for table in (_designations(), _aliases()):
            entries = table.get(key, ())
            if len(entries) == 1:
                return entries[0]
            if entries:
                raise AmbiguousSteel(name, tuple(entry.designation for entry in entries))
    raise UnknownSteel(name, nearest_names(name), without_grade(name))


def nearest_names(name: str, count: int = _NEAREST) -> tuple[str, ...]:
    """The names that look most like this one, one a grade, best first: 15N finds 15N20.

    A grade that counts the name among its relatives comes before any likeness of spelling.
    """
    key = bare_key(name)
    if not key:
        return ()
    found = {entry.designation: entry.designation for entry in _relatives().get(key, ())}
    known = {**_aliases(), **_designations()}
    for close in difflib.get_close_matches(key, known, n=2 * count, cutoff=0.6):
        for entry in known[close]:
            found.setdefault(entry.designation, _spelled(entry, close))
    return tuple(found.values())[:count]


def _spelled(entry: SteelName, key: str) -> str:
    """The name of a grade that has this key: a trade name where it was that which is alike."""
    alike = (name for name in (entry.designation, *entry.aliases) if name_key(name) == key)
    return next(alike, entry.designation)


def search(text: str, count: int = 12) -> tuple[SteelName, ...]:
    """Grades for what has been typed so far: names that begin so, then that hold it, then relatives.

    An empty text gives the first grades of the list.
    """
    key = bare_key(text)
    ranked: list[tuple[int, int, SteelName]] = []
    for position, entry in enumerate(steel_names()):
        rank = _rank(entry, key)
        if rank is not None:
            ranked.append((rank, position, entry))
    return tuple(entry for _, _, entry in sorted(ranked, key=lambda r: r[:2])[:count])


def _rank(entry: SteelName, key: str) -> int | None:
    """0 the name itself, 1 begins so, 2 holds it, 3 a relative begins so; None: nothing fits."""
    own = [name_key(name) for name in entry.own]
    if key in own:
        return 0
    if any(name.startswith(key) for name in own):
        return 1
    if any(key in name for name in own):
        return 2
    if any(name_key(name).startswith(key) for name in entry.relatives):
        return 3
    return None
